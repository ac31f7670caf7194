// The page: one state (frame, coral, map), and everything that shows it.

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
import type { Callbacks, Look } from "./view";

/** Frames a second while it plays. */
const PLAY_FPS = 8;

class Page {
    private readonly look: Look;
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
            point: (spot) => this.tellSpot(spot),
        };
        byId("title").textContent = run.document.title;
        showFlags(run);
        this.beside = other === null ? null : new Beside(other, run, callbacks);
        this.look = { frame: 0, colony: this.firstShown(), map: "ppfd", scale: scaleOf(this.runs(), "ppfd") };
        this.plan = new PlanView(byId("plan"), run, callbacks);
        this.details = new Details(run);
        this.tables = new Tables(run, (colony) => this.choose(colony));
        this.charts = new Charts(byId("charts"), run, this.beside);
        this.tellFacts();
        this.listen();
        if (!this.followLink()) this.showAll();
        // The words are painted first; starting 3-D graphics takes longer.
        requestAnimationFrame(() => window.setTimeout(() => this.startTank(callbacks)));
    }

    /** The coral that is told of before one is chosen: the one of the first flag, or the first on the bed. */
    private firstShown(): number | null {
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
            const lost = () => this.withoutTank("The 3-D view has stopped; the plan stands in for it.");
            this.tank.onLost(lost);
            this.beside?.startTank(lost);
            this.showFrame();
        } catch {
            this.withoutTank("This browser shows no 3-D graphics (WebGL); the plan stands in for the tank.");
        }
        document.body.classList.add("ready");
    }

    private withoutTank(reason: string) {
        this.tank = null;
        document.body.classList.add("no-tank");
        byId("tank-note").textContent = reason;
        this.pickView("plan");
        byId("view-choice").hidden = true;
    }

    private tellFacts() {
        const { start, seed, members, program_version, model_version, days } = this.run.document;
        byId("facts").textContent =
            `${this.run.colonies} corals, ${days.length} frames from ${dateAt(start, this.run.day(0))} on, ${members} member${members === 1 ? "" : "s"}, ` +
            `seed ${seed}, made by bedshade ${program_version} (model ${model_version}).`;
    }

    private listen() {
        this.slider.max = String(this.run.frames - 1);
        this.slider.addEventListener("input", () => this.goTo(Number(this.slider.value)));
        this.slider.addEventListener("keydown", (event) => this.stepMonths(event));
        this.play.addEventListener("click", () => this.setPlaying(this.playing === null));
        byId("map").addEventListener("change", (event) =>
            this.setMap((event.target as HTMLSelectElement).value as BedMap),
        );
        for (const name of ["tank", "plan"])
            byId(`show-${name}`).addEventListener("change", () => this.pickView(name));
        window.addEventListener("hashchange", () => this.followLink());
        window.addEventListener("keydown", (event) => this.onKey(event));
        window.addEventListener("beforeprint", () => this.plan.show(this.look));
    }

    /** Page keys move the slider by months. */
    private stepMonths(event: KeyboardEvent) {
        const step = event.key === "PageUp" ? 1 : event.key === "PageDown" ? -1 : 0;
        if (step === 0) return;
        event.preventDefault();
        const month = Math.round(monthsAt(this.run.day(this.look.frame))) + step;
        this.goTo(frameAtMonth(this.run.document.days, month));
    }

    private onKey(event: KeyboardEvent) {
        const target = event.target as HTMLElement;
        if (event.ctrlKey || event.altKey || event.metaKey) return;
        if (/^(INPUT|SELECT|BUTTON|A|SUMMARY)$/.test(target.tagName) && event.key === " ") return;
        const step = ({ ",": -1, ".": 1 } as Record<string, number>)[event.key];
        if (step !== undefined) this.goTo(this.look.frame + step);
        else if (event.key === " " && target.getAttribute("role") !== "button") {
            event.preventDefault();
            this.setPlaying(this.playing === null);
        }
    }

    private followLink(): boolean {
        const link = parseLink(location.hash);
        if (link === null) return false;
        if (link.colony !== null && link.colony < this.run.colonies) this.look.colony = link.colony;
        this.look.frame = frameNear(this.run.document.days, link.day);
        this.showAll();
        return true;
    }

    private goTo(frame: number) {
        this.look.frame = Math.min(Math.max(frame, 0), this.run.frames - 1);
        this.showFrame();
    }

    private choose(colony: number | null) {
        this.look.colony = colony;
        this.showAll();
    }

    private setMap(map: BedMap) {
        this.look.map = map;
        this.look.scale = scaleOf(this.runs(), map);
        this.showAll();
    }

    private setPlaying(on: boolean) {
        if (this.playing !== null) window.clearInterval(this.playing);
        this.playing = null;
        if (on) {
            if (this.look.frame === this.run.frames - 1) this.goTo(0);
            this.playing = window.setInterval(() => this.playOn(), 1000 / PLAY_FPS);
        }
        this.play.textContent = on ? "Pause" : "Play";
        this.tank?.setMoving(on);
        this.beside?.setMoving(on);
    }

    private playOn() {
        this.goTo(this.look.frame + 1);
        if (this.look.frame === this.run.frames - 1) this.setPlaying(false);
    }

    private pickView(name: string) {
        document.body.classList.toggle("plan-shown", name === "plan");
        this.showFrame();
    }

    private showAll() {
        this.charts.showColony(this.look.colony);
        this.details.showMonths(this.look.colony);
        showLegend(this.look.map, this.look.scale);
        this.showFrame();
    }

    private showFrame() {
        const { frame, colony } = this.look;
        const when = whenText(this.run.document.start, this.run.day(frame));
        this.slider.value = String(frame);
        this.slider.setAttribute("aria-valuetext", when);
        byId("when").textContent = when;
        this.tank?.show(this.look);
        const words = `The tank in 3-D at ${when}. ${MAPS[this.look.map].title}. The plan and the tables tell the same.`;
        this.tank?.describe(words);
        this.plan.show(this.look);
        this.beside?.show(this.look, this.run.day(frame), words);
        this.details.show(frame, colony);
        this.tables.show(frame);
        this.charts.showFrame(frame);
    }

    private tellSpot(spot: [number, number] | null) {
        const told = spot === null ? null : readingAt(this.run, this.look.map, this.look.frame, spot);
        byId("spot").textContent = told ?? "";
    }
}

try {
    new Page(runIn(document), besideIn(document));
} catch (error) {
    const words = error instanceof Error ? error.message : String(error);
    byId("trouble").append(element("p", {}, `This page cannot show its run: ${words}`));
}
