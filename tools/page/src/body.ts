// Colonies as triangles: every colony is the same grid of rings and corners, so that all of them lie
// in one buffer and a change of frame only moves points.

import type { Run } from "./run";

/** Resolution of a grid: every `step`-th corner of the outline, and these rings of the profile. */
export interface Resolution {
    step: number;
    rings: number[];
}

/** Triangles of one colony's grid, as indices into its own points. */
export function gridTriangles(corners: number, resolution: Resolution): number[] {
    const { step, rings } = resolution;
    const point = (ring: number, corner: number) => ring * corners + (corner % corners);
    const triangles: number[] = [];
    for (let r = 0; r + 1 < rings.length; ++r)
        for (let k = 0; k < corners; k += step) {
            const a = point(rings[r], k);
            const b = point(rings[r], k + step);
            const c = point(rings[r + 1], k + step);
            const d = point(rings[r + 1], k);
            triangles.push(a, b, c, a, c, d);
        }
    return triangles;
}

/** The same triangles for `colonies` grids of `points` points each. */
export function allTriangles(grid: number[], colonies: number, points: number): Uint32Array {
    const all = new Uint32Array(grid.length * colonies);
    for (let colony = 0; colony < colonies; ++colony)
        for (let i = 0; i < grid.length; ++i) all[colony * grid.length + i] = grid[i] + colony * points;
    return all;
}

/** Writes the points of one colony, x y z each, from `offset` on. All points of a colony without a
 *  shape are 0. */
export function writePoints(run: Run, frame: number, colony: number, to: Float32Array, offset: number) {
    const corner = run.corner(frame, colony);
    const share = run.profileShare(frame, colony);
    const z = run.profileZ(frame, colony);
    const base = run.position(frame, colony);
    const lean = run.document.colonies[colony].lean;
    const drawn = run.isPresent(frame, colony) && Number.isFinite(corner[0]);
    let at = offset;
    for (let ring = 0; ring < run.profilePoints; ++ring)
        for (let k = 0; k < run.corners; ++k) {
            const angle = (2 * Math.PI * k) / run.corners;
            const x = drawn ? share[ring] * corner[k] * Math.cos(angle) : 0;
            const y = drawn ? share[ring] * corner[k] * Math.sin(angle) : 0;
            const up = drawn ? z[ring] : 0;
            for (let axis = 0; axis < 3; ++axis)
                to[at++] = drawn
                    ? base[axis] + lean[3 * axis] * x + lean[3 * axis + 1] * y + lean[3 * axis + 2] * up
                    : 0;
        }
}

/** For each ring of the profile, the fraction of the surface between it and the start of the profile
 *  at the axis of the foot: 0 there, 1 at the top. */
export function surfaceShares(share: ArrayLike<number>, z: ArrayLike<number>, radius: number): number[] {
    const below = [0];
    for (let i = 0; i + 1 < share.length; ++i) {
        const slant = Math.hypot((share[i + 1] - share[i]) * radius, z[i + 1] - z[i]);
        below.push(below[i] + 0.5 * (share[i] + share[i + 1]) * radius * slant);
    }
    const whole = below[below.length - 1];
    return below.map((area) => (whole > 0 ? area / whole : 0));
}

/** Writes the tissue value of each point of a colony: above 0 alive, below 0 bare skeleton. The
 *  trajectory keeps how much of the surface lives, not where: dead tissue is drawn from the foot up. */
export function writeTissue(run: Run, frame: number, colony: number, to: Float32Array, offset: number) {
    const live = run.value("live_fraction", frame, colony);
    const radius = 0.5 * run.value("diameter", frame, colony);
    const shares = surfaceShares(run.profileShare(frame, colony), run.profileZ(frame, colony), radius);
    let at = offset;
    for (let ring = 0; ring < run.profilePoints; ++ring)
        for (let k = 0; k < run.corners; ++k) to[at++] = tissueAt(shares[ring], live);
}

function tissueAt(share: number, live: number): number {
    if (!Number.isFinite(live) || live >= 0.9995) return 1;
    return live <= 0.0005 ? -1 : share - (1 - live);
}

/** The outline seen from above, x y pairs: the widest ring of the profile. */
export function outline(run: Run, frame: number, colony: number): [number, number][] {
    const points = new Float32Array(3 * run.corners * run.profilePoints);
    writePoints(run, frame, colony, points, 0);
    const share = Array.from(run.profileShare(frame, colony));
    const ring = Math.max(0, share.indexOf(Math.max(...share)));
    return Array.from({ length: run.corners }, (_, k) => {
        const at = 3 * (ring * run.corners + k);
        return [points[at], points[at + 1]];
    });
}
