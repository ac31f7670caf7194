// A synthetic run of two colonies and three frames with simple numbers.

import { FORMAT, Run, type Document, type Quantity, type Packed } from "../src/run";

function base64(values: ArrayBufferView): string {
    return Buffer.from(values.buffer, values.byteOffset, values.byteLength).toString("base64");
}

export function floats(values: number[], shape: number[]): Packed {
    return { type: "f32", shape, base64: base64(Float32Array.from(values)) };
}
export function bytes(values: number[], shape: number[]): Packed {
    return { type: "u8", shape, base64: base64(Uint8Array.from(values)) };
}
export function shorts(values: number[], shape: number[]): Packed {
    return { type: "i16", shape, base64: base64(Int16Array.from(values)) };
}
export function steps(values: number[], step: number, shape: number[]): Packed {
    return { type: "q16", step, shape, base64: base64(Uint16Array.from(values)) };
}

const T = 3;
const C = 2;
export const CORNERS = 8;
const POINTS = 4;
const QUANTITIES: Quantity[] = [
    "diameter",
    "height",
    "live_fraction",
    "ppfd_mean",
    "dli",
    "need_dli",
    "net_carbon",
    "reserve",
    "sand_load",
    "flow_speed",
    "shade_by_other",
];

/** Quantity q of colony c in frame t is 100 q + 10 t + c. */
export function valueAt(quantity: Quantity, frame: number, colony: number): number {
    return 100 * QUANTITIES.indexOf(quantity) + 10 * frame + colony;
}

function eachFrame<V>(make: (frame: number, colony: number) => V[]): V[] {
    return Array.from({ length: T * C }, (_, i) => make(Math.floor(i / C), i % C)).flat();
}

/** A cylinder of 10 cm radius and 4 cm height, growing by 1 cm a frame. */
export function syntheticRun(change: Partial<Document> = {}): Run {
    const figures = Object.fromEntries(
        QUANTITIES.map((f) => [f, floats(eachFrame((t, c) => [valueAt(f, t, c)]), [T, C])]),
    ) as Record<Quantity, Packed>;
    const map = steps(eachFrame((t) => [t, 2 * t, 65535]), 0.5, [T, 2, 3]);
    return new Run({
        format: FORMAT,
        label: "",
        title: "synthetic",
        start: "2027-01-30",
        complete: true,
        months: 1,
        members: 1,
        seed: "1",
        program_version: "0",
        model_version: "0",
        verdict: "",
        tank: { length_m: 0.6, width_m: 0.4, water_depth_m: 0.4, rim_m: 0.03 },
        bed: { nx: 3, ny: 2, cell_x_m: 0.2, cell_y_m: 0.2 },
        lamps: [],
        pumps: [],
        rocks: [],
        colonies: ["a", "b"].map((name) => ({
            name,
            taxon: "t",
            kind: "k",
            form: "massive",
            on: "sand",
            lean: [1, 0, 0, 0, 1, 0, 0, 0, 1],
        })),
        flags: [],
        events: [],
        days: [0, 15, 30.4375],
        stage: bytes(eachFrame((t, c) => [t === 2 && c === 1 ? 0 : 2]), [T, C]),
        position: floats(eachFrame((_, c) => [0.2 + 0.2 * c, 0.2, 0.05]), [T, C, 3]),
        corner: steps(eachFrame((t, c) => Array<number>(CORNERS).fill(t === 2 && c === 1 ? 65535 : 10 + t)), 0.01, [T, C, CORNERS]),
        profile_share: steps(eachFrame(() => [0, 1, 1, 0]), 1, [T, C, POINTS]),
        profile_z: steps(eachFrame(() => [0, 0, 4, 4]), 0.01, [T, C, POINTS]),
        shaded_by: shorts(eachFrame((_, c) => (c === 0 ? [1, -1] : [-1, -1])), [T, C, 2]),
        shade_share: floats(eachFrame((t, c) => (c === 0 ? [0.1 * t, 0] : [0, 0])), [T, C, 2]),
        figures,
        bed_maps: { ppfd: map, fallout: map, shear_stress: map },
        ...change,
    });
}
