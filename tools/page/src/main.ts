// The page: one view state (frame, coral, map), and all views of it.

import { MAPS, readingAt, scaleOf } from "./bed_maps";
import { Beside } from "./beside";
import { Charts } from "./charts";
import { dateAt, frameAtMonth, frameNear, monthsAt, whenText } from "./clock";
import { Details } from "./details";
import { byId, element } from "./dom";
import { parseLink, showFlags } from "./flags";
import { showLegend } from "./legend";
import { PlanView } from "./plan_view";
import { besideIn, runIn, type BedMap, type Run } from "./run";
import { Tables } from "./tables";
import { TankView } from "./tank_view";
import type { Callbacks, ViewState } from "./view";

/** Frames a second during playback. */
const PLAY_FPS = 8;

class Page {
    private readonly state: ViewState;
    private readonly slider = byId<HTMLInputElement>("time");
    private readonly play = byId<HTMLButtonElement>("play");
    private readonly plan: PlanView;
    private readonly charts: Charts;
    private readonly details: Details;
    private readonly tables: Tables;
    private readonly beside: Beside | null;
    private tank: TankView | null = null;
    private playing: number | null = null;

    constructor(
        private readonly run: Run,
        other: Run | null,
    ) {
        const callbacks: Callbacks = {
            choose: (colony) => this.choose(colony),
            point: (spot) => this.showReading(spot),
        };
        byId("title").textContent = run.document.title;
        showFlags(run);
        this.beside = other === null ? null : new Beside(other, run, callbacks);
        this.state = { frame: 0, colony: this.initialColony(), map: "ppfd", scale: scaleOf(this.runs(), "ppfd") };
        this.plan = new PlanView(byId("plan"), run, callbacks);
        this.details = new Details(run);
        this.tables = new Tables(run, (colony) => this.choose(colony));
        this.charts = new Charts(byId("charts"), run, this.beside);
        this.showFacts();
        this.listen();
        if (!this.followLink()) this.showAll();
        // The text is painted first, because starting 3-D graphics takes longer.
        requestAnimationFrame(() => window.setTimeout(() => this.startTank(callbacks)));
    }

    /** The coral shown before one is chosen: that of the first flag, or the first on the bed. */
    private initialColony(): number | null {
        const { flags, colonies } = this.run.document;
        if (flags.length > 0) return flags[0].colony;
        const onBed = colonies.findIndex(({ on }) => on === "sand");
        return onBed < 0 ? null : onBed;
    }

    private runs(): Run[] {
        return this.beside === null ? [this.run] : [this.run, this.beside.run];
    }

    private startTank(callbacks: Callbacks) {
        try {
            this.tank = new TankView(byId("tank"), byId("labels"), this.run, callbacks);
            const onLost = () => this.showPlanOnly("The 3-D view has stopped; the plan is shown instead.");
            this.tank.onLost(onLost);
            this.beside?.startTank(onLost);
            this.showFrame();
        } catch {
            this.showPlanOnly("This browser has no 3-D graphics (WebGL); the plan is shown instead.");
        }
        document.body.classList.add("ready");
    }

    private showPlanOnly(reason: string) {
        this.tank = null;
        document.body.classList.add("no-tank");
        byId("tank-note").textContent = reason;
        this.selectView("plan");
        byId("view-choice").hidden = true;
    }

    private showFacts() {
        const { start, seed, members, program_version, model_version, days } = this.run.document;
        byId("facts").textContent =
            `${this.run.colonies} corals, ${days.length} frames from ${dateAt(start, this.run.day(0))}, ${members} member${members === 1 ? "" : "s"}, ` +
            `seed ${seed}, made by bedshade ${program_version} (model ${model_version}).`;
    }

    private listen() {
        this.slider.max = String(this.run.frames - 1);
        this.slider.addEventListener("input", () => this.showFrameAt(Number(this.slider.value)));
        this.slider.addEventListener("keydown", (event) => this.stepMonths(event));
        this.play.addEventListener("click", () => this.setPlaying(this.playing === null));
        byId("map").addEventListener("change", (event) =>
            this.setMap((event.target as HTMLSelectElement).value as BedMap),
        );
        for (const name of ["tank", "plan"])
            byId(`show-${name}`).addEventListener("change", () => this.selectView(name));
        window.addEventListener("hashchange", () => this.followLink());
        window.addEventListener("keydown", (event) => this.onKey(event));
        window.addEventListener("beforeprint", () => this.plan.show(this.state));
    }

    /** Page keys move the slider by months. */
    private stepMonths(event: KeyboardEvent) {
        const step = event.key === "PageUp" ? 1 : event.key === "PageDown" ? -1 : 0;
        if (step === 0) return;
        event.preventDefault();
        const month = Math.round(monthsAt(this.run.day(this.state.frame))) + step;
        this.showFrameAt(frameAtMonth(this.run.document.days, month));
    }

    private onKey(event: KeyboardEvent) {
        const target = event.target as HTMLElement;
        if (event.ctrlKey || event.altKey || event.metaKey) return;
        if (/^(INPUT|SELECT|BUTTON|A|SUMMARY)$/.test(target.tagName) && event.key === " ") return;
        const step = ({ ",": -1, ".": 1 } as Record<string, number>)[event.key];
        if (step !== undefined) this.showFrameAt(this.state.frame + step);
        else if (event.key === " " && target.getAttribute("role") !== "button") {
            event.preventDefault();
            this.setPlaying(this.playing === null);
        }
    }

    private followLink(): boolean {
        const link = parseLink(location.hash);
        if (link === null) return false;
        if (link.colony !== null && link.colony < this.run.colonies) this.state.colony = link.colony;
        this.state.frame = frameNear(this.run.document.days, link.day);
        this.showAll();
        return true;
    }

    private showFrameAt(frame: number) {
        this.state.frame = Math.min(Math.max(frame, 0), this.run.frames - 1);
        this.showFrame();
    }

    private choose(colony: number | null) {
        this.state.colony = colony;
        this.showAll();
    }

    private setMap(map: BedMap) {
        this.state.map = map;
        this.state.scale = scaleOf(this.runs(), map);
        this.showAll();
    }

    private setPlaying(on: boolean) {
        if (this.playing !== null) window.clearInterval(this.playing);
        this.playing = null;
        if (on) {
            if (this.state.frame === this.run.frames - 1) this.showFrameAt(0);
            this.playing = window.setInterval(() => this.playNext(), 1000 / PLAY_FPS);
        }
        this.play.textContent = on ? "Pause" : "Play";
        this.tank?.setMoving(on);
        this.beside?.setMoving(on);
    }

    private playNext() {
        this.showFrameAt(this.state.frame + 1);
        if (this.state.frame === this.run.frames - 1) this.setPlaying(false);
    }

    private selectView(name: string) {
        document.body.classList.toggle("plan-shown", name === "plan");
        this.showFrame();
    }

    private showAll() {
        this.charts.showColony(this.state.colony);
        this.details.showMonths(this.state.colony);
        showLegend(this.state.map, this.state.scale);
        this.showFrame();
    }

    private showFrame() {
        const { frame, colony } = this.state;
        const when = whenText(this.run.document.start, this.run.day(frame));
        this.slider.value = String(frame);
        this.slider.setAttribute("aria-valuetext", when);
        byId("when").textContent = when;
        this.tank?.show(this.state);
        const description = `The tank in 3-D at ${when}. ${MAPS[this.state.map].title}. The plan and the tables show the same data.`;
        this.tank?.describe(description);
        this.plan.show(this.state);
        this.beside?.show(this.state, this.run.day(frame), description);
        this.details.show(frame, colony);
        this.tables.show(frame);
        this.charts.showFrame(frame);
    }

    private showReading(spot: [number, number] | null) {
        const reading = spot === null ? null : readingAt(this.run, this.state.map, this.state.frame, spot);
        byId("spot").textContent = reading ?? "";
    }
}

try {
    new Page(runIn(document), besideIn(document));
} catch (error) {
    const message = error instanceof Error ? error.message : String(error);
    byId("trouble").append(element("p", {}, `This page cannot show its run: ${message}`));
}
