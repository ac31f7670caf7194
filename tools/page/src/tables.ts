// Tables of corals: one for those on the bed, one for the others.

import { byId, element, table } from "./dom";
import { lightText, numberText } from "./quantities";
import type { Run } from "./run";

export class Tables {
    private readonly now: { cell: HTMLElement; colony: number }[] = [];

    constructor(
        private readonly run: Run,
        private readonly choose: (colony: number) => void,
    ) {
        const all = run.document.colonies.map((_, colony) => colony);
        const onBed = all.filter((colony) => run.document.colonies[colony].on === "sand");
        const others = all.filter((colony) => run.document.colonies[colony].on !== "sand");
        byId("bed-corals").append(this.tableOf("Corals on the bed", onBed));
        byId("other-corals").append(this.tableOf("Other corals", others));
    }

    private tableOf(caption: string, colonies: number[]): HTMLElement {
        if (colonies.length === 0) return element("p", {}, `${caption}: none.`);
        return table(
            `${caption} (daily light and light need in mol m⁻²)`,
            ["coral", "taxon", "light at the start", "light now", "light at the end", "diameter, cm", "living tissue at the end, %", "flags"],
            colonies.map((colony) => this.row(colony)),
        );
    }

    private row(colony: number): (Node | string)[] {
        const { name, kind } = this.run.document.colonies[colony];
        const last = this.run.frames - 1;
        const button = element("button", { type: "button", class: "coral-name" }, `${colony + 1}. ${name}`);
        button.addEventListener("click", () => this.choose(colony));
        const cell = element("span", { "data-now": String(colony) });
        this.now.push({ cell, colony });
        const diameter = (frame: number) => numberText(this.run, "diameter", frame, colony);
        return [
            button,
            kind,
            lightText(this.run, 0, colony),
            cell,
            lightText(this.run, last, colony),
            `${diameter(0)} to ${diameter(last)}`,
            numberText(this.run, "live_fraction", last, colony),
            this.flagsOf(colony),
        ];
    }

    private flagsOf(colony: number): string {
        const flags = this.run.document.flags.filter((flag) => flag.colony === colony);
        return flags.length === 0 ? "none" : flags.map(({ flag, month }) => `${flag} month ${month}`).join(", ");
    }

    show(frame: number) {
        for (const { cell, colony } of this.now) cell.textContent = lightText(this.run, frame, colony);
    }
}
