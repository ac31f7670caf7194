// Shade of a colony by its neighbours over time, as stacked shares.

import type { Run } from "./run";

/** One layer of a stack: its own share in every frame, and the height of its top. */
export interface Layer {
    /** The colony whose share it is; null: all others together. */
    colony: number | null;
    share: number[];
    top: number[];
}

/** The neighbours with the largest share at any time, largest first, and all others in one layer. */
export function shadeLayers(run: Run, colony: number, max: number): Layer[] {
    const shareOf = sharesByNeighbour(run, colony);
    const peak = (shares: number[]) => shares.reduce((high, share) => Math.max(high, share), 0);
    const ranked = [...shareOf.entries()].sort((a, b) => peak(b[1]) - peak(a[1]) || a[0] - b[0]);
    const layers: Layer[] = ranked.slice(0, max).map(([by, share]) => ({ colony: by, share, top: [] }));
    const rest = restOf(run, colony, ranked.slice(max).map(([, share]) => share));
    if (peak(rest) > 0) layers.push({ colony: null, share: rest, top: [] });
    return stacked(layers);
}

function sharesByNeighbour(run: Run, colony: number): Map<number, number[]> {
    const shareOf = new Map<number, number[]>();
    for (let frame = 0; frame < run.frames; ++frame)
        for (const { colony: by, share } of run.shades(frame, colony)) {
            let shares = shareOf.get(by);
            if (shares === undefined) shareOf.set(by, (shares = new Array<number>(run.frames).fill(0)));
            shares[frame] += share;
        }
    return shareOf;
}

function restOf(run: Run, colony: number, left: number[][]): number[] {
    return Array.from({ length: run.frames }, (_, frame) => {
        const beyond = run.value("shade_by_other", frame, colony);
        const start = Number.isFinite(beyond) ? beyond : 0;
        return left.reduce((sum, share) => sum + share[frame], start);
    });
}

function stacked(layers: Layer[]): Layer[] {
    let below: number[] | null = null;
    for (const layer of layers) {
        layer.top = layer.share.map((share, frame) => share + (below === null ? 0 : below[frame]));
        below = layer.top;
    }
    return layers;
}
