// A second run beside the first, in step with it: the same day, the same coral by its name, the same
// map on the same scale.

import { frameNear } from "./clock";
import { byId } from "./dom";
import { listFlags, verdictText } from "./flags";
import { PlanView } from "./plan_view";
import type { Run } from "./run";
import { TankView } from "./tank_view";
import type { Callbacks, Look } from "./view";

/** For each coral of one run the coral of that name in the other, or null. */
export function sameNames(of: string[], among: string[]): (number | null)[] {
    const places = new Map(among.map((name, place) => [name, place]));
    return of.map((name) => places.get(name) ?? null);
}

const namesOf = (run: Run) => run.document.colonies.map(({ name }) => name);

export class Beside {
    private readonly plan: PlanView;
    private readonly callbacks: Callbacks;
    private readonly ofFirst: (number | null)[];
    private tank: TankView | null = null;

    constructor(
        readonly run: Run,
        first: Run,
        chosen: Callbacks,
    ) {
        this.ofFirst = sameNames(namesOf(first), namesOf(run));
        const inFirst = sameNames(namesOf(run), namesOf(first));
        this.callbacks = {
            choose: (colony) => chosen.choose(colony === null ? null : inFirst[colony]),
            point: () => chosen.point(null),
        };
        document.body.classList.add("two");
        for (const part of ["beside", "beside-words"]) byId(part).hidden = false;
        byId("label").textContent = first.document.label;
        byId("beside-label").textContent = run.document.label;
        byId("beside-verdict").textContent = verdictText(run.document);
        listFlags(byId("beside-flags"), run, (colony) => inFirst[colony]);
        this.plan = new PlanView(byId("beside-plan"), run, this.callbacks);
    }

    /** Throws where the browser has no WebGL. */
    startTank(onLost: () => void) {
        this.tank = new TankView(byId("beside-tank"), byId("beside-labels"), this.run, this.callbacks);
        this.tank.onLost(onLost);
    }

    setMoving(moving: boolean) {
        this.tank?.setMoving(moving);
    }

    /** The coral that the first run's stands for here. */
    colonyOf(first: number | null): number | null {
        return first === null ? null : this.ofFirst[first];
    }

    /** What the first run shows on this day, as this one has it. */
    show(look: Look, day: number, words: string) {
        const own = { ...look, frame: frameNear(this.run.document.days, day), colony: this.colonyOf(look.colony) };
        this.tank?.show(own);
        this.tank?.describe(words);
        this.plan.show(own);
    }
}
