// The colour scale is readable without colour vision, and its numbers are round.
import assert from "node:assert/strict";
import { test } from "node:test";

import { lightness, roundStep, scaleTo, shadeAt, SERIES } from "../src/colours";

test("lightness rises evenly along the scale", () => {
    const light = Array.from({ length: 101 }, (_, k) => lightness(shadeAt(k / 100)));
    for (let k = 1; k <= 100; ++k) assert.ok(light[k] > light[k - 1], `at ${k} %`);
    // An even rise to within 7 of 100.
    for (let k = 0; k <= 100; ++k)
        assert.ok(Math.abs(light[k] - (light[0] + ((light[100] - light[0]) * k) / 100)) < 7, `at ${k} %`);
    assert.ok(light[100] - light[0] > 70);
});

test("values beyond the scale get the end colours, missing values are white", () => {
    assert.deepEqual(shadeAt(-1), shadeAt(0));
    assert.deepEqual(shadeAt(2), shadeAt(1));
    assert.deepEqual(shadeAt(NaN), [255, 255, 255]);
});

test("steps are 1, 2 or 5 times a power of ten", () => {
    assert.equal(roundStep(131, 5), 50);
    assert.equal(roundStep(100, 5), 20);
    assert.equal(roundStep(0.0042, 5), 0.001);
    assert.equal(roundStep(0, 5), 1);
});

test("a scale holds its largest value and ends on a tick", () => {
    for (const max of [0, 0.003, 1, 131, 99999]) {
        const scale = scaleTo(max);
        assert.ok(scale.max >= max);
        assert.ok(Math.abs(scale.ticks[scale.ticks.length - 1] - scale.max) <= 1e-9 * scale.max);
        assert.ok(scale.ticks.length <= 7);
    }
});

test("every series of a chart has its own dash", () => {
    assert.equal(new Set(SERIES.map((s) => s.dash.join())).size, SERIES.length);
});
