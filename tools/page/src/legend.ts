// The colour scale of the bed: a bar with numbers and a unit.

import { MAPS } from "./bed_maps";
import { css, shadeAt, type Scale } from "./colours";
import { byId, element } from "./dom";
import type { BedMap } from "./run";

const STEPS = 24;

export function showLegend(map: BedMap, scale: Scale) {
    const colours = Array.from({ length: STEPS }, (_, k) => css(shadeAt((k + 0.5) / STEPS)));
    const bar = element("div", { class: "bar" });
    bar.style.background = `linear-gradient(to right, ${colours.join(", ")})`;
    const ticks = scale.ticks.map((tick) => element("span", {}, String(tick)));
    byId("legend").replaceChildren(
        element("span", {}, `${MAPS[map].title}, ${MAPS[map].units}`),
        bar,
        element("div", { class: "ticks" }, ...ticks),
    );
}
