// Colonies as triangles: closed, where they stand, and bare where tissue is lost.
import assert from "node:assert/strict";
import { test } from "node:test";

import { netsTriangles, netTriangles, outline, surfaceShares, writePoints, writeTissue } from "../src/body";
import { CORNERS, floats, madeUp } from "./made_up";

test("a net has two triangles for each corner between two rings", () => {
    assert.equal(netTriangles(48, { step: 1, rings: [0, 1, 2, 3, 4, 5, 6, 7, 8] }).length, 3 * 2 * 48 * 8);
    const rough = netTriangles(48, { step: 6, rings: [1, 2, 4] });
    assert.equal(rough.length, 3 * 2 * 8 * 2);
    assert.ok(Math.max(...rough) < 48 * 5);
});

test("each colony's triangles use its own points", () => {
    const all = netsTriangles([0, 1, 2], 3, 10);
    assert.deepEqual([...all], [0, 1, 2, 10, 11, 12, 20, 21, 22]);
});

test("points lie on the body: outline times share of the profile, about the base", () => {
    const run = madeUp();
    const points = new Float32Array(3 * CORNERS * 4);
    writePoints(run, 1, 1, points, 0);
    const rim = Array.from({ length: CORNERS }, (_, k) => points.subarray(3 * (CORNERS + k), 3 * (CORNERS + k) + 3));
    for (const [x, y, z] of rim) {
        assert.ok(Math.abs(Math.hypot(x - 0.4, y - 0.2) - 0.11) < 1e-6);
        assert.ok(Math.abs(z - 0.05) < 1e-6);
    }
    assert.ok(Math.abs(points[3 * 3 * CORNERS + 2] - 0.09) < 1e-6, "the top is the height above the base");
});

test("a colony that leans is turned about its base", () => {
    const run = madeUp();
    // A quarter turn about y: up becomes +x.
    run.document.colonies[0].lean = [0, 0, 1, 0, 1, 0, -1, 0, 0];
    const points = new Float32Array(3 * CORNERS * 4);
    writePoints(run, 0, 0, points, 0);
    const top = points.subarray(3 * 3 * CORNERS, 3 * 3 * CORNERS + 3);
    assert.ok(Math.abs(top[0] - 0.24) < 1e-6 && Math.abs(top[2] - 0.05) < 1e-6);
});

test("a colony that is not there shrinks to nothing", () => {
    const points = new Float32Array(3 * CORNERS * 4).fill(9);
    writePoints(madeUp(), 2, 1, points, 0);
    assert.ok(points.every((value) => value === 0));
});

test("the surface of a cylinder is shared by foot, side and top as geometry says", () => {
    // Foot r/2, side h, top r/2, each times the edge: r 0.1 and h 0.04 give 5/14, 4/14, 5/14.
    const shares = surfaceShares([0, 1, 1, 0], [0, 0, 0.04, 0.04], 0.1);
    const expected = [0, 5 / 14, 9 / 14, 1];
    shares.forEach((share, i) => assert.ok(Math.abs(share - expected[i]) < 1e-12));
});

test("bare skeleton takes as much of the surface as has lost its tissue, from the foot up", () => {
    const run = madeUp();
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
    const points = outline(madeUp(), 2, 0);
    assert.equal(points.length, CORNERS);
    for (const [x, y] of points) assert.ok(Math.abs(Math.hypot(x - 0.2, y - 0.2) - 0.12) < 1e-6);
});
