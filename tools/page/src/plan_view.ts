// The tank from above, as a drawing: for browsers without WebGL, for print, and for choosing corals
// with the keyboard. In centimetres, back of the tank at the top.

import { coloursOf } from "./bed_maps";
import { outline } from "./body";
import { drawing } from "./dom";
import type { Lamp, Pump, Run } from "./run";
import type { Callbacks, ViewState } from "./view";

const MARGIN_CM = 8;

export class PlanView {
    private readonly svg: SVGElement;
    private readonly bed = drawing("image", { x: 0, y: 0, preserveAspectRatio: "none", class: "bed" });
    private readonly corals: { shape: SVGElement; number: SVGElement }[] = [];
    private readonly pixels = document.createElement("canvas");

    constructor(
        box: HTMLElement,
        private readonly run: Run,
        private readonly callbacks: Callbacks,
    ) {
        const { length_m, width_m } = run.document.tank;
        const [long, wide] = [100 * length_m, 100 * width_m];
        this.svg = drawing("svg", {
            viewBox: `${-MARGIN_CM} ${-MARGIN_CM} ${long + 2 * MARGIN_CM} ${wide + 2 * MARGIN_CM}`,
            role: "group",
            "aria-label": "Plan of the tank",
        });
        this.bed.setAttribute("width", String(long));
        this.bed.setAttribute("height", String(wide));
        this.svg.append(this.bed, this.rocks(), ...this.lampsAndPumps(), this.glass(long, wide), ...this.rulers());
        for (let colony = 0; colony < run.colonies; ++colony) this.addCoral(colony);
        this.svg.append(...this.fromLowest().map((colony) => this.corals[colony].shape));
        this.svg.append(...this.corals.map((coral) => coral.number));
        this.listen();
        box.append(this.svg);
    }

    private x(m: number): number {
        return 100 * m;
    }
    private y(m: number): number {
        return 100 * (this.run.document.tank.width_m - m);
    }
    private at(x_m: number, y_m: number): string {
        return `${this.x(x_m).toFixed(2)},${this.y(y_m).toFixed(2)}`;
    }

    private glass(long: number, wide: number): SVGElement {
        return drawing("rect", { x: 0, y: 0, width: long, height: wide, class: "glass" });
    }

    private rulers(): SVGElement[] {
        const { length_m, width_m } = this.run.document.tank;
        const texts: SVGElement[] = [];
        for (let cm = 0; cm <= 100 * length_m + 0.01; cm += 20)
            texts.push(drawing("text", { x: cm, y: 100 * width_m + 5, class: "ruler" }, String(cm)));
        for (let cm = 0; cm <= 100 * width_m + 0.01; cm += 20)
            texts.push(drawing("text", { x: -4.5, y: this.y(cm / 100) + 1, class: "ruler" }, String(cm)));
        return texts;
    }

    private rocks(): SVGElement {
        let path = "";
        for (const rock of this.run.document.rocks) {
            const points = this.run.numbers(rock.vertices_m);
            const corners = this.run.numbers(rock.triangles);
            for (let i = 0; i < corners.length; i += 3)
                path += this.triangle([0, 1, 2].map((k) => [points[3 * corners[i + k]], points[3 * corners[i + k] + 1]]));
        }
        return drawing("path", { d: path, class: "rock" });
    }

    /** All triangles get the same orientation; otherwise those that face up and down would cancel out. */
    private triangle([a, b, c]: number[][]): string {
        const area = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
        const ordered = area < 0 ? [a, c, b] : [a, b, c];
        return `M${ordered.map(([x, y]) => this.at(x, y)).join("L")}Z`;
    }

    private lampsAndPumps(): SVGElement[] {
        return [
            ...this.run.document.lamps.map((lamp) => this.lamp(lamp)),
            ...this.run.document.pumps.flatMap((pump) => this.pump(pump)),
        ];
    }

    private lamp({ centre_m, size_m, shape, azimuth_rad }: Lamp): SVGElement {
        const [x, y] = [this.x(centre_m[0]), this.y(centre_m[1])];
        const [along, across] = size_m.map((side) => 100 * Math.max(side, 0.02));
        if (shape !== "rectangle") return drawing("circle", { cx: x, cy: y, r: along / 2, class: "lamp" });
        return drawing("rect", {
            x: x - along / 2,
            y: y - across / 2,
            width: along,
            height: across,
            transform: `rotate(${(-180 / Math.PI) * azimuth_rad} ${x} ${y})`,
            class: "lamp",
        });
    }

    private pump({ position_m, direction }: Pump): SVGElement[] {
        const [x, y] = [this.x(position_m[0]), this.y(position_m[1])];
        const tip = { x2: x + 9 * direction[0], y2: y - 9 * direction[1] };
        return [
            drawing("circle", { cx: x, cy: y, r: 1.4, class: "pump" }),
            drawing("line", { x1: x, y1: y, ...tip, class: "jet" }),
        ];
    }

    private addCoral(colony: number) {
        const shape = drawing("polygon", { class: "coral", tabindex: 0, role: "button", "data-colony": colony });
        shape.addEventListener("click", () => this.callbacks.choose(colony));
        shape.addEventListener("keydown", (event) => {
            if (event.key !== "Enter" && event.key !== " ") return;
            event.preventDefault();
            this.callbacks.choose(colony);
        });
        this.corals.push({ shape, number: drawing("text", { class: "number" }, String(colony + 1)) });
    }

    /** Corals from the lowest to the highest. */
    private fromLowest(): number[] {
        const high = this.corals.map((_, colony) => this.run.position(0, colony)[2] || 0);
        return high.map((_, colony) => colony).sort((a, b) => high[a] - high[b]);
    }

    private listen() {
        this.svg.addEventListener("pointermove", (event) => {
            const area = this.bed.getBoundingClientRect();
            const { length_m, width_m } = this.run.document.tank;
            const x = ((event.clientX - area.left) / area.width) * length_m;
            const y = (1 - (event.clientY - area.top) / area.height) * width_m;
            this.callbacks.point([x, y]);
        });
        this.svg.addEventListener("pointerleave", () => this.callbacks.point(null));
    }

    show(state: ViewState) {
        this.paintBed(state);
        for (const [colony, coral] of this.corals.entries()) this.place(state, colony, coral.shape, coral.number);
    }

    private paintBed(state: ViewState) {
        const { nx, ny } = this.run.document.bed;
        this.pixels.width = nx;
        this.pixels.height = ny;
        const context = this.pixels.getContext("2d");
        if (context === null) return;
        const image = context.createImageData(nx, ny);
        const colours = coloursOf(this.run, state.map, state.frame, state.scale);
        // The map's rows run from the front, the picture's from the back.
        for (let row = 0; row < ny; ++row)
            image.data.set(colours.subarray(4 * nx * row, 4 * nx * (row + 1)), 4 * nx * (ny - 1 - row));
        context.putImageData(image, 0, 0);
        this.bed.setAttribute("href", this.pixels.toDataURL());
    }

    private place(state: ViewState, colony: number, shape: SVGElement, number: SVGElement) {
        const present = this.run.isPresent(state.frame, colony);
        for (const part of [shape, number]) part.toggleAttribute("hidden", !present);
        if (!present) return;
        const live = this.run.value("live_fraction", state.frame, colony);
        shape.setAttribute("points", outline(this.run, state.frame, colony).map(([x, y]) => this.at(x, y)).join(" "));
        shape.classList.toggle("bare", live < 0.5);
        shape.classList.toggle("chosen", colony === state.colony);
        shape.setAttribute("aria-label", this.descriptionOf(state.frame, colony));
        shape.setAttribute("aria-pressed", String(colony === state.colony));
        const base = this.run.position(state.frame, colony);
        number.setAttribute("x", this.x(base[0]).toFixed(2));
        number.setAttribute("y", (this.y(base[1]) + 1).toFixed(2));
    }

    private descriptionOf(frame: number, colony: number): string {
        const { name, kind } = this.run.document.colonies[colony];
        const across = (100 * this.run.value("diameter", frame, colony)).toFixed(0);
        return `${colony + 1}, ${name}, ${kind}, ${across} cm across`;
    }
}
