// Takes pictures of a page at months 0, 12 and 24, with the coral of its first flag chosen.
// Usage: node pictures.mjs RUN.html PREFIX   (writes PREFIX00.png and so on)
import { execFileSync } from "node:child_process";
import { resolve } from "node:path";
import { pathToFileURL } from "node:url";

import { chromium } from "playwright-core";

const [run, prefix] = process.argv.slice(2);
const executablePath =
    process.env.BEDSHADE_BROWSER ?? execFileSync("which", ["chromium"], { encoding: "utf8" }).trim();
const browser = await chromium.launch({
    executablePath,
    args: ["--no-sandbox", "--use-angle=swiftshader", "--enable-unsafe-swiftshader"],
});
const page = await browser.newPage({ viewport: { width: 1180, height: 860 } });
await page.goto(pathToFileURL(resolve(run)).href);
await page.waitForSelector("body.ready");
if ((await page.locator("#flags a").count()) > 0) {
    await page.click("#flags a");
    // The link is followed a moment after the click.
    await page.waitForFunction(() => document.getElementById("time").value !== "0");
}
await page.focus("#time");
await page.keyboard.press("Home");
for (const month of [0, 12, 24]) {
    if (month > 0) for (let k = 0; k < 12; ++k) await page.keyboard.press("PageUp");
    await page.waitForFunction(() => {
        const slider = document.getElementById("time");
        return document.getElementById("tank").dataset.drawn === slider.value;
    });
    await page.waitForTimeout(200);
    await page.screenshot({ path: `${prefix}${String(month).padStart(2, "0")}.png` });
}
await browser.close();
