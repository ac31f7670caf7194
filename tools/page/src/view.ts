// What every view of the tank is shown, and what it tells back.

import type { BedMap } from "./run";
import type { Scale } from "./colours";

/** What is looked at: a frame, a coral (or none), and which map of the bed on which scale. */
export interface Look {
    frame: number;
    colony: number | null;
    map: BedMap;
    scale: Scale;
}

export interface Callbacks {
    /** A coral was chosen; null: open water. */
    choose(colony: number | null): void;
    /** The pointer is over a spot of the bed (metres), or has left it. */
    point(spot_m: [number, number] | null): void;
}
