// Flags as sentences, each a link to its day and coral.

import { byId, element } from "./dom";
import type { Flag, Run } from "./run";

/** The link to a day and coral: `#day-504-coral-8`. */
export function linkTo(day: number, colony: number): string {
    return `#day-${Math.round(day)}${colony >= 0 ? `-coral-${colony + 1}` : ""}`;
}

/** The day and coral of a link, or null for any other link. */
export function parseLink(hash: string): { day: number; colony: number | null } | null {
    const found = /^#day-(\d{1,6})(?:-coral-([1-9]\d{0,5}))?$/.exec(hash);
    if (found === null) return null;
    return { day: Number(found[1]), colony: found[2] === undefined ? null : Number(found[2]) - 1 };
}

/** The quantile `p` of sorted months: the first by which at least that fraction has come. */
export function monthBy(sorted: number[], p: number): number {
    return sorted[Math.max(0, Math.ceil(p * sorted.length - 1e-9) - 1)];
}

/** In how many members of an ensemble a flag was raised, and when. */
export function chanceText(flag: Flag, members: number): string {
    if (members <= 1) return "";
    const [early, late] = [0.1, 0.9].map((p) => monthBy(flag.months, p));
    const when = early === late ? `month ${early}` : `month ${early} to ${late}`;
    const central = flag.member === 0 ? " In" : " Not in the best estimate; in";
    return `${central} ${flag.months.length} of ${members} members, ${when}.`;
}

/** The verdict; with two runs on the page, after the label of the run. */
export function verdictText({ complete, verdict, label }: Pick<Run["document"], "complete" | "verdict" | "label">): string {
    const sentence = complete
        ? verdict
        : "This run was not finished. It is shown up to its last frame; flags not yet written are missing.";
    return label === "" ? sentence : `${label}: ${sentence}`;
}

/** Fills a list with flags; `linked` gives the coral that a flag links to, or null for no link. */
export function listFlags(list: HTMLElement, run: Run, linked: (colony: number) => number | null) {
    const { flags, members } = run.document;
    const items = flags.map((flag) => {
        const colony = linked(flag.colony);
        const sentence = colony === null ? flag.text : element("a", { href: linkTo(flag.day, colony) }, flag.text);
        return element("li", {}, sentence, chanceText(flag, members));
    });
    list.replaceChildren(...items);
}

export function showFlags(run: Run) {
    const { flags, events } = run.document;
    byId("verdict").textContent = verdictText(run.document);
    listFlags(byId("flags"), run, (colony) => colony);
    byId("events").replaceChildren(
        ...events.map(({ day, date, colony, text }) =>
            element("li", {}, element("a", { href: linkTo(day, colony) }, `${date}: ${text}`)),
        ),
    );
    byId("no-flags").hidden = flags.length > 0;
}
