// Unpacked arrays equal the packed ones, and each value has its own place.
import assert from "node:assert/strict";
import { test } from "node:test";

import { unpack } from "../src/run";
import { bytes, valueAt, floats, syntheticRun, shorts, steps } from "./synthetic_run";

test("packed numbers are unpacked unchanged", () => {
    assert.deepEqual([...unpack(floats([1.5, -2, NaN], [3]))], [1.5, -2, NaN]);
    assert.deepEqual([...unpack(bytes([0, 255], [2]))], [0, 255]);
    assert.deepEqual([...unpack(shorts([-1, 300], [1, 2]))], [-1, 300]);
    assert.deepEqual([...unpack(steps([0, 3, 65535], 0.5, [3]))], [0, 1.5, NaN]);
});

test("an array whose size does not match its shape is refused", () => {
    assert.throws(() => unpack(floats([1, 2], [3])), /2 numbers instead of 3/);
});

test("values come from their frame and colony", () => {
    const run = syntheticRun();
    for (let frame = 0; frame < 3; ++frame)
        for (let colony = 0; colony < 2; ++colony)
            assert.equal(run.value("reserve", frame, colony), valueAt("reserve", frame, colony));
    assert.deepEqual(run.series("dli", 1), [401, 411, 421]);
});

test("a run of another format, or without frames, is refused", () => {
    assert.throws(() => syntheticRun({ format: 2 }), /format 2; this page reads 1/);
    assert.throws(() => syntheticRun({ days: [] }), /no frame/);
});

test("a missing value is a gap in a series", () => {
    const run = syntheticRun();
    run.document.figures.dli = floats([1, 2, NaN, 4, 5, NaN], [3, 2]);
    assert.deepEqual(run.series("dli", 0), [1, null, 5]);
});

test("an ensemble has a range for each colony, a single run has none", () => {
    const run = syntheticRun();
    assert.equal(run.band("dli", 0), null);
    const low = floats([1, 2, 3, 4, 5, 6], [3, 2]);
    run.document.bands = { dli: { low, high: low } } as never;
    assert.deepEqual(run.band("dli", 1)?.low, [2, 4, 6]);
});

test("shades name only colonies of the run", () => {
    const run = syntheticRun({ shaded_by: shorts([1, 7, -1, -1, 1, -1, -1, -1, 1, -1, -1, -1], [3, 2, 2]) });
    assert.deepEqual(run.shades(0, 0).map((shade) => shade.colony), [1]);
    assert.deepEqual(run.shades(0, 1), []);
});

test("a map of the bed is that of its frame, and its maximum skips gaps", () => {
    const run = syntheticRun();
    assert.deepEqual([...run.bedMap("ppfd", 2)], [1, 2, NaN, 1, 2, NaN]);
    assert.equal(run.bedMapMax("ppfd"), 2);
});
