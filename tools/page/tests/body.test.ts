// Colonies as triangles: closed, in the right place, and bare where tissue is lost.
import assert from "node:assert/strict";
import { test } from "node:test";

import { allTriangles, gridTriangles, outline, surfaceShares, writePoints, writeTissue } from "../src/body";
import { CORNERS, floats, syntheticRun } from "./synthetic_run";

test("a grid has two triangles for each corner between two rings", () => {
    assert.equal(gridTriangles(48, { step: 1, rings: [0, 1, 2, 3, 4, 5, 6, 7, 8] }).length, 3 * 2 * 48 * 8);
    const coarse = gridTriangles(48, { step: 6, rings: [1, 2, 4] });
    assert.equal(coarse.length, 3 * 2 * 8 * 2);
    assert.ok(Math.max(...coarse) < 48 * 5);
});

test("each colony's triangles use its own points", () => {
    const all = allTriangles([0, 1, 2], 3, 10);
    assert.deepEqual([...all], [0, 1, 2, 10, 11, 12, 20, 21, 22]);
});

test("points lie on the body: outline times profile, around the base", () => {
    const run = syntheticRun();
    const points = new Float32Array(3 * CORNERS * 4);
    writePoints(run, 1, 1, points, 0);
    const rim = Array.from({ length: CORNERS }, (_, k) => points.subarray(3 * (CORNERS + k), 3 * (CORNERS + k) + 3));
    for (const [x, y, z] of rim) {
        assert.ok(Math.abs(Math.hypot(x - 0.4, y - 0.2) - 0.11) < 1e-6);
        assert.ok(Math.abs(z - 0.05) < 1e-6);
    }
    assert.ok(Math.abs(points[3 * 3 * CORNERS + 2] - 0.09) < 1e-6, "the top is the height above the base");
});

test("a leaning colony is rotated about its base", () => {
    const run = syntheticRun();
    // A quarter turn about y: up becomes +x.
    run.document.colonies[0].lean = [0, 0, 1, 0, 1, 0, -1, 0, 0];
    const points = new Float32Array(3 * CORNERS * 4);
    writePoints(run, 0, 0, points, 0);
    const top = points.subarray(3 * 3 * CORNERS, 3 * 3 * CORNERS + 3);
    assert.ok(Math.abs(top[0] - 0.24) < 1e-6 && Math.abs(top[2] - 0.05) < 1e-6);
});

test("an absent colony has all points at 0", () => {
    const points = new Float32Array(3 * CORNERS * 4).fill(9);
    writePoints(syntheticRun(), 2, 1, points, 0);
    assert.ok(points.every((value) => value === 0));
});

test("foot, side and top of a cylinder have the fractions of its surface given by geometry", () => {
    // Foot r/2, side h, top r/2, each times the circumference: r 0.1 and h 0.04 give 5/14, 4/14, 5/14.
    const shares = surfaceShares([0, 1, 1, 0], [0, 0, 0.04, 0.04], 0.1);
    const expected = [0, 5 / 14, 9 / 14, 1];
    shares.forEach((share, i) => assert.ok(Math.abs(share - expected[i]) < 1e-12));
});

test("bare skeleton covers the fraction of the surface without tissue, from the foot up", () => {
    const run = syntheticRun();
    run.document.figures.live_fraction = floats([0.5, 1, 0, 1, 0.5, 1], [3, 2]);
    run.document.figures.diameter = floats([0.2, 0.2, 0.2, 0.2, 0.2, 0.2], [3, 2]);
    const tissue = new Float32Array(CORNERS * 4);
    writeTissue(run, 0, 0, tissue, 0);
    const byRing = [0, 1, 2, 3].map((ring) => tissue[ring * CORNERS]);
    assert.ok(byRing[0] < 0 && byRing[1] < 0 && byRing[2] > 0 && byRing[3] > 0, String(byRing));
    writeTissue(run, 0, 1, tissue, 0);
    assert.ok(tissue.every((value) => value === 1), "all alive");
    writeTissue(run, 1, 0, tissue, 0);
    assert.ok(tissue.every((value) => value === -1), "all dead");
});

test("the outline from above is the widest ring", () => {
    const points = outline(syntheticRun(), 2, 0);
    assert.equal(points.length, CORNERS);
    for (const [x, y] of points) assert.ok(Math.abs(Math.hypot(x - 0.2, y - 0.2) - 0.12) < 1e-6);
});
