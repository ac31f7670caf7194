// Texts of the page: quantities, flags, links, readings, and stacked shares.
import assert from "node:assert/strict";
import { test } from "node:test";

import { coloursOf, readingAt, scaleOf } from "../src/bed_maps";
import { lightText, numberText } from "../src/quantities";
import { matchNames } from "../src/beside";
import { chanceText, linkTo, monthBy, parseLink, verdictText } from "../src/flags";
import type { Flag } from "../src/run";
import { shadeLayers } from "../src/shade_layers";
import { floats, syntheticRun, shorts } from "./synthetic_run";

test("quantities are shown in common units", () => {
    const run = syntheticRun();
    run.document.figures.diameter = floats([0.1234, 0, 0, 0, 0, NaN], [3, 2]);
    assert.equal(numberText(run, "diameter", 0, 0), "12.3");
    assert.equal(numberText(run, "diameter", 2, 1), "–");
});

test("light is shown with light need, or with no need", () => {
    const run = syntheticRun();
    run.document.figures.dli = floats([1.25, 2, 0, 0, 0, 0], [3, 2]);
    run.document.figures.need_dli = floats([1.4, 0, 0, 0, 0, 0], [3, 2]);
    assert.equal(lightText(run, 0, 0), "1.25 of 1.40");
    assert.equal(lightText(run, 0, 1), "2.00, no need");
    assert.equal(lightText(run, 2, 1), "–");
});

test("links are parsed, and other links ignored", () => {
    assert.deepEqual(parseLink(linkTo(504.2, 7)), { day: 504, colony: 7 });
    assert.deepEqual(parseLink(linkTo(3, -1)), { day: 3, colony: null });
    for (const hash of ["", "#top", "#day-", "#day-1e9", "#day-1-coral-x", "#day-1-coral-0"]) assert.equal(parseLink(hash), null);
});

test("a flag of an ensemble says how often and when", () => {
    const months = [10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20];
    assert.equal(monthBy(months, 0.1), 11);
    assert.equal(monthBy(months, 0.9), 19);
    assert.equal(monthBy([5], 0.9), 5);
    const flag = { months, member: 0 } as Flag;
    assert.equal(chanceText(flag, 20), " In 11 of 20 members, month 11 to 19.");
    assert.equal(chanceText({ ...flag, member: 3, months: [5] }, 20), " Not in the best estimate; in 1 of 20 members, month 5.");
    assert.equal(chanceText(flag, 1), "");
});

test("the reading is that of the cell under the pointer", () => {
    const run = syntheticRun();
    assert.equal(readingAt(run, "ppfd", 2, [0.3, 0.1]), "at 30, 10 cm: 2 µmol m⁻² s⁻¹");
    assert.equal(readingAt(run, "ppfd", 2, [0.5, 0.1]), "at 50, 10 cm: no value µmol m⁻² s⁻¹");
    assert.equal(readingAt(run, "ppfd", 2, [0.7, 0.1]), null);
    assert.equal(readingAt(run, "ppfd", 2, [0.3, -0.01]), null);
});

test("all months have one scale", () => {
    const run = syntheticRun();
    const scale = scaleOf([run], "ppfd");
    assert.equal(scale.max, 2);
    const first = coloursOf(run, "ppfd", 0, scale);
    const last = coloursOf(run, "ppfd", 2, scale);
    assert.notDeepEqual([...first.subarray(0, 4)], [...last.subarray(0, 4)]);
    assert.deepEqual([...last.subarray(8, 12)], [255, 255, 255, 255]);
});

test("layers stack to the sum of all shares, the largest first, the smallest together", () => {
    const colonies = ["a", "b", "c", "d"].map((name) => ({ ...syntheticRun().document.colonies[0], name }));
    const run = syntheticRun({
        colonies,
        days: [0],
        shaded_by: shorts([1, 2, 3, -1, -1, -1, -1, -1, -1, -1, -1, -1], [1, 4, 3]),
        shade_share: floats([0.3, 0.2, 0.1, 0, 0, 0, 0, 0, 0, 0, 0, 0], [1, 4, 3]),
    });
    run.document.figures.shade_by_other = floats([0.05, 0, 0, 0], [1, 4]);
    const layers = shadeLayers(run, 0, 2);
    assert.deepEqual(layers.map((layer) => layer.colony), [1, 2, null]);
    const tops = layers.map((layer) => layer.top[0]);
    [0.3, 0.5, 0.65].forEach((top, i) => assert.ok(Math.abs(tops[i] - top) < 1e-6));
    assert.deepEqual(shadeLayers(run, 1, 2), []);
});

test("with two runs each has its label, and corals are matched by name", () => {
    const plain = { complete: true, verdict: "Nothing goes wrong.", label: "" };
    assert.equal(verdictText(plain), "Nothing goes wrong.");
    assert.equal(verdictText({ ...plain, label: "with pump.toml" }), "with pump.toml: Nothing goes wrong.");
    assert.match(verdictText({ ...plain, complete: false }), /was not finished/);
    assert.deepEqual(matchNames(["a", "b", "c"], ["c", "a"]), [1, null, 0]);
});

test("two runs have one scale", () => {
    const dim = syntheticRun();
    const { ppfd, ...others } = dim.document.bed_maps;
    const bright = syntheticRun({ bed_maps: { ppfd: { ...ppfd, step: 2 * (ppfd.step ?? 1) }, ...others } });
    const [one, two, both] = [[dim], [bright], [dim, bright]].map((runs) => scaleOf(runs, "ppfd").max);
    assert.ok(two > one);
    assert.equal(both, two);
});
