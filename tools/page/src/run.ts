// The run in the page: checks the document, unpacks its arrays and gives access to its values.

/** An array of numbers in the document: little-endian bytes in base64. */
export interface Packed {
    type: "f32" | "u8" | "i16" | "u32" | "q16";
    shape: number[];
    base64: string;
    step?: number;
    units?: string;
}

export interface Lamp {
    name: string;
    shape: "rectangle" | "disc" | "point";
    centre_m: number[];
    size_m: number[];
    tilt_rad: number;
    azimuth_rad: number;
}

export interface Pump {
    name: string;
    position_m: number[];
    direction: number[];
    flow_m3_s: number;
}

export interface Rock {
    name: string;
    vertices_m: Packed;
    triangles: Packed;
}

export interface Colony {
    name: string;
    taxon: string;
    kind: string;
    form: string;
    on: string;
    lean: number[];
}

export interface Flag {
    flag: string;
    colony: number;
    member: number;
    month: number;
    day: number;
    date: string;
    culprit_kind: string;
    culprit: number;
    share: number;
    text: string;
    months: number[];
}

export interface RunEvent {
    day: number;
    date: string;
    colony: number;
    kind: string;
    text: string;
}

/** The quantities of a colony in every frame, by their names in the trajectory. */
export type Quantity =
    | "diameter"
    | "height"
    | "live_fraction"
    | "ppfd_mean"
    | "dli"
    | "need_dli"
    | "net_carbon"
    | "reserve"
    | "sand_load"
    | "flow_speed"
    | "shade_by_other";

export type BedMap = "ppfd" | "fallout" | "shear_stress";

export interface Band {
    low: Packed;
    high: Packed;
}

export interface Document {
    format: number;
    /** The label of the run if the page holds two; otherwise empty. */
    label: string;
    title: string;
    start: string;
    complete: boolean;
    months: number;
    members: number;
    seed: string;
    program_version: string;
    model_version: string;
    verdict: string;
    tank: { length_m: number; width_m: number; water_depth_m: number; rim_m: number };
    bed: { nx: number; ny: number; cell_x_m: number; cell_y_m: number };
    lamps: Lamp[];
    pumps: Pump[];
    rocks: Rock[];
    colonies: Colony[];
    flags: Flag[];
    events: RunEvent[];
    days: number[];
    stage: Packed;
    position: Packed;
    corner: Packed;
    profile_share: Packed;
    profile_z: Packed;
    shaded_by: Packed;
    shade_share: Packed;
    figures: Record<Quantity, Packed>;
    bed_maps: Record<BedMap, Packed>;
    bands?: Record<Quantity, Band>;
}

/** Version of the document that this page reads. */
export const FORMAT = 1;

/** Stages of a colony; the indices are those of the trajectory. */
export const STAGES = [
    "absent",
    "settling",
    "growing",
    "idle (too little carbon to grow)",
    "fasting (lives on its reserve)",
    "receding (loses tissue)",
    "dead",
];

const NO_VALUE = 65535;

function bytesOf(base64: string): ArrayBuffer {
    const text = atob(base64);
    const bytes = new Uint8Array(text.length);
    for (let i = 0; i < text.length; ++i) bytes[i] = text.charCodeAt(i);
    return bytes.buffer;
}

function fromSteps(steps: Uint16Array, step: number): Float32Array {
    const values = new Float32Array(steps.length);
    for (let i = 0; i < steps.length; ++i) values[i] = steps[i] === NO_VALUE ? NaN : steps[i] * step;
    return values;
}

export type Numbers = Float32Array | Uint8Array | Int16Array | Uint32Array;

/** The numbers of a packed array. Throws if their count does not match the shape. */
export function unpack(packed: Packed): Numbers {
    const buffer = bytesOf(packed.base64);
    const make: Record<Packed["type"], () => Numbers> = {
        f32: () => new Float32Array(buffer),
        u8: () => new Uint8Array(buffer),
        i16: () => new Int16Array(buffer),
        u32: () => new Uint32Array(buffer),
        q16: () => fromSteps(new Uint16Array(buffer), packed.step ?? 1),
    };
    const values = make[packed.type]();
    const expected = packed.shape.reduce((product, size) => product * size, 1);
    if (values.length !== expected)
        throw new Error(`an array holds ${values.length} numbers instead of ${expected}`);
    return values;
}

/** A neighbour that shades a colony, and the share of light it blocks. */
export interface Shade {
    colony: number;
    share: number;
}

/** Access to a run. Frames and colonies count from 0. */
export class Run {
    readonly frames: number;
    readonly colonies: number;
    readonly corners: number;
    readonly profilePoints: number;
    private readonly ranks: number;
    private readonly unpacked = new Map<Packed, Numbers>();

    constructor(readonly document: Document) {
        if (document.format !== FORMAT)
            throw new Error(`the run has format ${document.format}; this page reads ${FORMAT}`);
        this.frames = document.days.length;
        this.colonies = document.colonies.length;
        if (this.frames === 0) throw new Error("the run holds no frame");
        this.corners = document.corner.shape[2];
        this.profilePoints = document.profile_z.shape[2];
        this.ranks = document.shaded_by.shape[2];
    }

    /** Unpacked on first use, because most maps and quantities are never shown. */
    numbers(packed: Packed): Numbers {
        let values = this.unpacked.get(packed);
        if (values === undefined) {
            values = unpack(packed);
            this.unpacked.set(packed, values);
        }
        return values;
    }

    day(frame: number): number {
        return this.document.days[frame];
    }
    stage(frame: number, colony: number): number {
        return this.numbers(this.document.stage)[frame * this.colonies + colony];
    }
    isPresent(frame: number, colony: number): boolean {
        return this.stage(frame, colony) !== 0;
    }
    value(name: Quantity, frame: number, colony: number): number {
        return this.numbers(this.document.figures[name])[frame * this.colonies + colony];
    }
    units(name: Quantity): string {
        return this.document.figures[name].units ?? "";
    }
    /** A quantity of one colony in every frame; null where it is not in the tank. */
    series(name: Quantity, colony: number): (number | null)[] {
        return this.seriesOf(this.document.figures[name], colony);
    }
    /** The 10 % and 90 % points over the members of an ensemble; null for a single run. */
    band(name: Quantity, colony: number): { low: (number | null)[]; high: (number | null)[] } | null {
        const band = this.document.bands?.[name];
        if (band === undefined) return null;
        return { low: this.seriesOf(band.low, colony), high: this.seriesOf(band.high, colony) };
    }
    private seriesOf(packed: Packed, colony: number): (number | null)[] {
        const values = this.numbers(packed);
        const series: (number | null)[] = [];
        for (let frame = 0; frame < this.frames; ++frame) {
            const value = values[frame * this.colonies + colony];
            series.push(Number.isFinite(value) ? value : null);
        }
        return series;
    }

    /** Base of a colony: x, y, z. */
    position(frame: number, colony: number): ArrayLike<number> {
        return this.slice(this.document.position, frame, colony, 3);
    }
    /** Radii of its outline at even angles from +x toward +y; NaN where it has no shape. */
    corner(frame: number, colony: number): ArrayLike<number> {
        return this.slice(this.document.corner, frame, colony, this.corners);
    }
    /** Its profile: fractions of the outline's radius, from the axis at the foot to the axis at the top. */
    profileShare(frame: number, colony: number): ArrayLike<number> {
        return this.slice(this.document.profile_share, frame, colony, this.profilePoints);
    }
    profileZ(frame: number, colony: number): ArrayLike<number> {
        return this.slice(this.document.profile_z, frame, colony, this.profilePoints);
    }
    private slice(packed: Packed, frame: number, colony: number, size: number): ArrayLike<number> {
        const from = (frame * this.colonies + colony) * size;
        return this.numbers(packed).subarray(from, from + size);
    }

    /** The neighbours that shade a colony, largest share first. */
    shades(frame: number, colony: number): Shade[] {
        const by = this.slice(this.document.shaded_by, frame, colony, this.ranks);
        const share = this.slice(this.document.shade_share, frame, colony, this.ranks);
        const shades: Shade[] = [];
        for (let rank = 0; rank < this.ranks && by[rank] >= 0; ++rank)
            if (by[rank] < this.colonies) shades.push({ colony: by[rank], share: share[rank] });
        return shades;
    }

    /** A map of the bed in one frame, row by row from the front. */
    bedMap(name: BedMap, frame: number): Float32Array {
        const cells = this.document.bed.nx * this.document.bed.ny;
        const all = this.numbers(this.document.bed_maps[name]) as Float32Array;
        return all.subarray(frame * cells, (frame + 1) * cells);
    }
    /** The largest value of a map in any frame. */
    bedMapMax(name: BedMap): number {
        const packed = this.document.bed_maps[name];
        let max = 0;
        for (const value of this.numbers(packed) as Float32Array) if (value > max) max = value;
        return max;
    }
}

/** The run in the page. */
export function runIn(document: globalThis.Document): Run {
    const text = document.getElementById("run")?.textContent;
    if (!text) throw new Error("the page holds no run");
    return new Run(JSON.parse(text) as Document);
}

/** The second run in the page, or null. */
export function besideIn(document: globalThis.Document): Run | null {
    const text = document.getElementById("run-beside")?.textContent;
    return text ? new Run(JSON.parse(text) as Document) : null;
}
