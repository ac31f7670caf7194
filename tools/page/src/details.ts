// One coral in text and numbers.

import { frameAtMonth, whenText } from "./clock";
import { byId, element, table } from "./dom";
import { numberText, READINGS } from "./quantities";
import { STAGES, type Quantity, type Run } from "./run";

/** Columns of the table of months. */
const MONTHLY: { quantity: Quantity; heading: string }[] = [
    { quantity: "dli", heading: "light" },
    { quantity: "need_dli", heading: "light need" },
    { quantity: "reserve", heading: "reserve, %" },
    { quantity: "live_fraction", heading: "living tissue, %" },
    { quantity: "sand_load", heading: "sand load, mg cm⁻²" },
    { quantity: "diameter", heading: "diameter, cm" },
];

export class Details {
    private readonly box = byId("details");
    private readonly monthly = byId("monthly");

    constructor(private readonly run: Run) {}

    show(frame: number, colony: number | null) {
        if (colony === null) {
            this.box.replaceChildren(element("p", {}, "Choose a coral in the tank, the plan or a table."));
            return;
        }
        this.box.replaceChildren(this.heading(frame, colony), this.numbers(frame, colony), this.shade(frame, colony));
    }

    private heading(frame: number, colony: number): HTMLElement {
        const { name, kind, form, on } = this.run.document.colonies[colony];
        const place = on === "sand" ? "on the bed" : on === "" ? "at a given height" : `on ${on}`;
        return element(
            "div",
            {},
            element("h2", {}, `${colony + 1}. ${name}`),
            element(
                "p",
                {},
                `${kind}, ${form}, ${place}. At ${whenText(this.run.document.start, this.run.day(frame))}: `,
                element("strong", {}, this.stage(frame, colony)),
            ),
        );
    }

    private stage(frame: number, colony: number): string {
        return STAGES[this.run.stage(frame, colony)] ?? "unknown";
    }

    private numbers(frame: number, colony: number): HTMLElement {
        const rows = READINGS.map(({ label, quantity, units }) => [
            label,
            element("span", { "data-quantity": quantity }, numberText(this.run, quantity, frame, colony)),
            units,
        ]);
        return table("At this time", ["quantity", "value", "unit"], rows);
    }

    private shade(frame: number, colony: number): HTMLElement {
        const shades = this.run.shades(frame, colony).filter(({ share }) => share >= 0.005);
        if (shades.length === 0) return element("p", {}, "No neighbour shades it.");
        const parts = shades.map(({ colony: by, share }) => `${this.run.document.colonies[by].name} ${(100 * share).toFixed(0)} %`);
        return element("p", { id: "shade" }, `Neighbours block part of the light it would have alone: ${parts.join(", ")}.`);
    }

    /** The charts as a table, for screen readers and for print. */
    showMonths(colony: number | null) {
        this.monthly.replaceChildren();
        if (colony === null) return;
        const { months, days } = this.run.document;
        const rows = Array.from({ length: months + 1 }, (_, month) => {
            const frame = frameAtMonth(days, month);
            return [String(month), ...MONTHLY.map(({ quantity }) => numberText(this.run, quantity, frame, colony))];
        });
        const name = this.run.document.colonies[colony].name;
        this.monthly.append(table(`${name} month by month`, ["month", ...MONTHLY.map((m) => m.heading)], rows));
    }
}
