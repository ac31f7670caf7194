// The state that all views of the tank show, and their callbacks.

import type { BedMap } from "./run";
import type { Scale } from "./colours";

/** The frame, the coral (or none), and the map of the bed with its scale. */
export interface ViewState {
    frame: number;
    colony: number | null;
    map: BedMap;
    scale: Scale;
}

export interface Callbacks {
    /** A coral was chosen; null: no coral was hit. */
    choose(colony: number | null): void;
    /** The pointer is over a spot of the bed (metres), or has left it. */
    point(spot_m: [number, number] | null): void;
}
