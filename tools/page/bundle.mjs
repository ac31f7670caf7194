// Makes the page's shell: one HTML file with style and script in it, and two marks that the program
// replaces by a run. Usage: node bundle.mjs OUT.html
import { createHash } from "node:crypto";
import { readFile, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

import { build } from "esbuild";

const here = dirname(fileURLToPath(import.meta.url));
const MARKS = ["<!-- bedshade: run -->", "<!-- bedshade: title -->"];

/** The licence texts of the libraries in the page, as their licences require. */
async function licences() {
    const texts = ["three", "uplot"].map(async (name) => {
        const text = await readFile(join(here, "node_modules", name, "LICENSE"), "utf8");
        return `This page holds ${name}:\n${text.trim()}\n`;
    });
    return `/*!\n${(await Promise.all(texts)).join("\n")}*/`;
}

async function script() {
    const result = await build({
        entryPoints: [join(here, "src/main.ts")],
        bundle: true,
        minify: true,
        format: "iife",
        target: "es2020",
        legalComments: "none",
        banner: { js: await licences() },
        write: false,
    });
    // The only text that would end a script element early.
    return result.outputFiles[0].text.replaceAll("</script", "<\\/script");
}

async function style() {
    const uplot = await readFile(join(here, "node_modules/uplot/dist/uPlot.min.css"), "utf8");
    return uplot + (await readFile(join(here, "src/page.css"), "utf8"));
}

async function shell() {
    const code = await script();
    const hash = createHash("sha256").update(code).digest("base64");
    const page = await readFile(join(here, "src/page.html"), "utf8");
    const css = await style();
    return page
        .replace("SCRIPT_SHA256", () => hash)
        .replace("PAGE_STYLE", () => css)
        .replace("PAGE_SCRIPT", () => code);
}

const page = await shell();
for (const mark of MARKS)
    if (page.split(mark).length !== 2) throw new Error(`the page does not hold '${mark}' exactly once`);
await writeFile(process.argv[2], page);
