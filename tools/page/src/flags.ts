// Flags in words, each a link to its month and coral.

import { byId, element } from "./dom";
import type { Flag, Run } from "./run";

/** Where a link leads: `#day-504-coral-8`. */
export function linkTo(day: number, colony: number): string {
    return `#day-${Math.round(day)}${colony >= 0 ? `-coral-${colony + 1}` : ""}`;
}

/** What a link says, or null where it is none of ours. */
export function parseLink(hash: string): { day: number; colony: number | null } | null {
    const found = /^#day-(\d{1,6})(?:-coral-(\d{1,6}))?$/.exec(hash);
    if (found === null) return null;
    return { day: Number(found[1]), colony: found[2] === undefined ? null : Number(found[2]) - 1 };
}

/** The first of sorted months by which at least a share `p` of them have come. */
export function monthBy(sorted: number[], p: number): number {
    return sorted[Math.max(0, Math.ceil(p * sorted.length - 1e-9) - 1)];
}

/** How often members of an ensemble raised a flag, and when. */
export function chanceText(flag: Flag, members: number): string {
    if (members <= 1) return "";
    const [early, late] = [0.1, 0.9].map((p) => monthBy(flag.months, p));
    const when = early === late ? `month ${early}` : `month ${early} to ${late}`;
    const central = flag.member === 0 ? " In" : " Not in the best estimate; in";
    return `${central} ${flag.months.length} of ${members} members, ${when}.`;
}

export function showFlags(run: Run) {
    const { flags, events, members, verdict, complete } = run.document;
    byId("verdict").textContent = complete
        ? verdict
        : "This run was not finished. It is shown up to its last frame; flags that it had not yet written are missing.";
    byId("flags").replaceChildren(
        ...flags.map((flag) =>
            element("li", {}, element("a", { href: linkTo(flag.day, flag.colony) }, flag.text), chanceText(flag, members)),
        ),
    );
    byId("events").replaceChildren(
        ...events.map(({ day, date, colony, text }) =>
            element("li", {}, element("a", { href: linkTo(day, colony) }, `${date}: ${text}`)),
        ),
    );
    byId("no-flags").hidden = flags.length > 0;
}
