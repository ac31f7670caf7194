// A second run beside the first, in step with it: the same day, the coral of the same name, the same
// map on the same scale.

import { frameNear } from "./clock";
import { byId } from "./dom";
import { listFlags, verdictText } from "./flags";
import { PlanView } from "./plan_view";
import type { Run } from "./run";
import { TankView } from "./tank_view";
import type { Callbacks, ViewState } from "./view";

/** For each name the index of the same name in `others`, or null. */
export function matchNames(names: string[], others: string[]): (number | null)[] {
    const indices = new Map(others.map((name, index) => [name, index]));
    return names.map((name) => indices.get(name) ?? null);
}

const namesOf = (run: Run) => run.document.colonies.map(({ name }) => name);

export class Beside {
    private readonly plan: PlanView;
    private readonly callbacks: Callbacks;
    private readonly fromFirst: (number | null)[];
    private tank: TankView | null = null;

    constructor(
        readonly run: Run,
        first: Run,
        chosen: Callbacks,
    ) {
        this.fromFirst = matchNames(namesOf(first), namesOf(run));
        const toFirst = matchNames(namesOf(run), namesOf(first));
        this.callbacks = {
            choose: (colony) => chosen.choose(colony === null ? null : toFirst[colony]),
            point: () => chosen.point(null),
        };
        document.body.classList.add("two");
        for (const part of ["beside", "beside-words"]) byId(part).hidden = false;
        byId("label").textContent = first.document.label;
        byId("beside-label").textContent = run.document.label;
        byId("beside-verdict").textContent = verdictText(run.document);
        listFlags(byId("beside-flags"), run, (colony) => toFirst[colony]);
        this.plan = new PlanView(byId("beside-plan"), run, this.callbacks);
    }

    /** Throws if the browser has no WebGL. */
    startTank(onLost: () => void) {
        this.tank = new TankView(byId("beside-tank"), byId("beside-labels"), this.run, this.callbacks);
        this.tank.onLost(onLost);
    }

    setMoving(moving: boolean) {
        this.tank?.setMoving(moving);
    }

    /** The coral of this run with the name of the first run's coral. */
    colonyOf(first: number | null): number | null {
        return first === null ? null : this.fromFirst[first];
    }

    /** Shows this run on the same day and with the same choices as the first. */
    show(state: ViewState, day: number, description: string) {
        const own = { ...state, frame: frameNear(this.run.document.days, day), colony: this.colonyOf(state.colony) };
        this.tank?.show(own);
        this.tank?.describe(description);
        this.plan.show(own);
    }
}
