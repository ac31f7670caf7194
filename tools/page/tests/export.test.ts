// Exported scenes are valid glTF 2.0 according to the Khronos validator.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { test } from "node:test";

import { validateBytes } from "gltf-validator";

test("every month of the demo is a valid scene without a warning", async () => {
    const folder = mkdtempSync(join(tmpdir(), "bedshade-export-"));
    const program = process.env.BEDSHADE_PROGRAM ?? "";
    const layout = join(process.env.BEDSHADE_ROOT ?? "", "scenarios/ledge_over_bed.toml");
    const [run, scenes] = [join(folder, "run.h5"), join(folder, "scenes")];
    execFileSync(program, ["forecast", layout, "--quiet", "--months", "3", "--out", run], { stdio: "ignore" });
    execFileSync(program, ["export", run, "--quiet", "--to", "gltf", "--out", scenes]);
    const names = readdirSync(scenes).sort();
    assert.deepEqual(names, ["month_00.glb", "month_01.glb", "month_02.glb", "month_03.glb"]);
    for (const name of names) {
        const report = await validateBytes(new Uint8Array(readFileSync(join(scenes, name))));
        assert.deepEqual(report.issues.messages.filter(({ code }) => code !== "UNUSED_OBJECT"), []);
        assert.equal(report.issues.numErrors + report.issues.numWarnings, 0);
        assert.ok(report.info.totalTriangleCount > 10_000);
    }
    rmSync(folder, { recursive: true, force: true });
});
