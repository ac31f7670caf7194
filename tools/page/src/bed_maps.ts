// The maps of the bed that can be shown, in common units.

import type { BedMap, Run } from "./run";
import { scaleTo, shadeAt, type Scale } from "./colours";

export interface MapKind {
    title: string;
    units: string;
    /** Factor from the trajectory's units. */
    factor: number;
    digits: number;
}

export const MAPS: Record<BedMap, MapKind> = {
    ppfd: { title: "Light on the bed (PPFD, lamps at plateau)", units: "µmol m⁻² s⁻¹", factor: 1, digits: 0 },
    // 1 kg/m2 is 100 mg/cm2.
    fallout: { title: "Sand deposition on the bed", units: "mg cm⁻² d⁻¹", factor: 100, digits: 1 },
    shear_stress: { title: "Bed shear stress", units: "mPa", factor: 1000, digits: 1 },
};

/** One scale for all months of all runs, so that they can be compared. */
export function scaleOf(runs: Run[], map: BedMap): Scale {
    return scaleTo(Math.max(...runs.map((run) => run.bedMapMax(map))) * MAPS[map].factor);
}

/** RGBA, four bytes a cell, row by row from the front. */
export function coloursOf(run: Run, map: BedMap, frame: number, scale: Scale): Uint8Array {
    const values = run.bedMap(map, frame);
    const bytes = new Uint8Array(4 * values.length);
    for (let cell = 0; cell < values.length; ++cell) {
        const [r, g, b] = shadeAt((values[cell] * MAPS[map].factor) / scale.max);
        bytes.set([r, g, b, 255], 4 * cell);
    }
    return bytes;
}

/** The value of a map at a spot: "at 34, 10 cm: 104 µmol m⁻² s⁻¹". */
export function readingAt(run: Run, map: BedMap, frame: number, [x, y]: [number, number]): string | null {
    const { nx, ny, cell_x_m, cell_y_m } = run.document.bed;
    const column = Math.floor(x / cell_x_m);
    const row = Math.floor(y / cell_y_m);
    if (column < 0 || column >= nx || row < 0 || row >= ny) return null;
    const kind = MAPS[map];
    const value = run.bedMap(map, frame)[row * nx + column] * kind.factor;
    const spot = `${(100 * x).toFixed(0)}, ${(100 * y).toFixed(0)} cm`;
    return `at ${spot}: ${Number.isFinite(value) ? value.toFixed(kind.digits) : "no value"} ${kind.units}`;
}
