// The page in a real browser, from disk and offline: its content against the trajectory read with
// h5py, its controls, and its behaviour with hostile names or without WebGL.
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { pathToFileURL } from "node:url";

import { chromium, type Browser, type Page } from "playwright-core";

const PROGRAM = process.env.BEDSHADE_PROGRAM ?? "";
const BROWSER = process.env.BEDSHADE_BROWSER ?? "";
const DEMO = join(process.env.BEDSHADE_ROOT ?? "", "scenarios/ledge_over_bed.toml");
const FLAGS = ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync"];
const SOFTWARE = ["--use-angle=swiftshader", "--enable-unsafe-swiftshader"];

const folder = mkdtempSync(join(tmpdir(), "bedshade-page-"));
/** Folder for the pictures of the documents (tools/pictures); by default the temporary folder. */
const PICTURES = process.env.BEDSHADE_PICTURES ?? folder;
let browser: Browser;

function file(name: string): string {
    return join(folder, name);
}

function bedshade(...words: string[]) {
    execFileSync(PROGRAM, words, { stdio: ["ignore", "ignore", "inherit"] });
}

/** Runs a layout into NAME.h5 and NAME.html. */
function makeRun(name: string, layout: string, ...options: string[]) {
    bedshade("forecast", layout, "--quiet", "--out", file(`${name}.h5`), "--page", file(`${name}.html`), ...options);
}

/** Evaluates a Python expression over the h5py file `f`, as JSON. */
function read(name: string, expression: string): unknown {
    const script = `import h5py, json, sys\nf = h5py.File(sys.argv[1])\nprint(json.dumps(${expression}))`;
    const python = ["/usr/bin/python3", "-c", script, file(`${name}.h5`)];
    return JSON.parse(execFileSync(python[0], python.slice(1), { encoding: "utf8" }));
}

function layoutWith(colonies: string, title = "synthetic", rest = ""): string {
    return `format = 1
title = ${JSON.stringify(title)}
[season]
start = 2027-01-01
months = 1
[tank]
length = "120 cm"
width = "60 cm"
water_depth = "50 cm"
[[lamp]]
name = "lamp"
position = "60 30 cm"
height = "20 cm"
shape = "rectangle"
size = "20 20 cm"
photon_flux = 200
${rest}${colonies}`;
}

function colony(name: string, x_cm: number, y_cm: number): string {
    return `[[colony]]
name = ${JSON.stringify(name)}
taxon = "fungia"
on = "sand"
position = "${x_cm} ${y_cm} cm"
diameter = "2 cm"
`;
}

/** A page with its log messages, dialogs and network requests. */
interface Watched {
    page: Page;
    messages: string[];
    requests: string[];
}

async function open(name: string, by: Browser = browser, address = ""): Promise<Watched> {
    const page = await by.newPage({ viewport: { width: 1100, height: 800 } });
    const watched: Watched = { page, messages: [], requests: [] };
    page.on("console", (message) => {
        if (message.type() === "error" || message.type() === "warning") watched.messages.push(message.text());
    });
    page.on("pageerror", (error) => watched.messages.push(error.message));
    page.on("dialog", (dialog) => {
        watched.messages.push(`dialog: ${dialog.message()}`);
        void dialog.dismiss();
    });
    page.on("request", (request) => watched.requests.push(request.url()));
    await page.goto(pathToFileURL(file(`${name}.html`)).href + address);
    await page.waitForSelector("body.ready");
    if (await page.isVisible("#tank canvas")) await page.waitForSelector("#tank[data-drawn]");
    return watched;
}

async function setFrame(page: Page, frame: number) {
    await page.$eval(
        "#time",
        (slider, value) => {
            (slider as HTMLInputElement).value = String(value);
            slider.dispatchEvent(new Event("input"));
        },
        frame,
    );
    if (await page.isVisible("#tank canvas")) await page.waitForSelector(`#tank[data-drawn="${frame}"]`);
}

/** Number of colours in a picture, counted in a browser page. */
async function coloursIn(png: Buffer): Promise<number> {
    const page = await browser.newPage();
    const count = await page.evaluate(async (data) => {
        const image = new Image();
        image.src = data;
        await image.decode();
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = [image.width, image.height];
        const context = canvas.getContext("2d") as CanvasRenderingContext2D;
        context.drawImage(image, 0, 0);
        const pixels = new Uint32Array(context.getImageData(0, 0, image.width, image.height).data.buffer);
        return new Set(pixels).size;
    }, `data:image/png;base64,${png.toString("base64")}`);
    await page.close();
    return count;
}

const text = (page: Page, selector: string) => page.$eval(selector, (found) => found.textContent ?? "");

before(async () => {
    makeRun("demo", DEMO);
    browser = await chromium.launch({ executablePath: BROWSER, args: [...FLAGS, ...SOFTWARE] });
});

after(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
});

test("it opens from disk without messages and without network requests", async () => {
    const { page, messages, requests } = await open("demo");
    await page.click("#flags a");
    // The link is followed shortly after the click; wait for it before moving the slider.
    await page.waitForFunction(() => (document.getElementById("time") as HTMLInputElement).value !== "0");
    await setFrame(page, 3);
    assert.deepEqual(messages, []);
    assert.deepEqual(requests, [pathToFileURL(file("demo.html")).href]);
    await page.close();
});

test("the tank is drawn, and the slider changes it", async () => {
    const { page } = await open("demo");
    const tank = page.locator("#tank canvas");
    await setFrame(page, 0);
    const first = await tank.screenshot();
    assert.ok((await coloursIn(first)) > 200, "the tank is not blank");
    await setFrame(page, Number(await page.getAttribute("#time", "max")));
    assert.notDeepEqual(await tank.screenshot(), first);
    await page.close();
});

test("the values shown are those read by h5py", async () => {
    const { page } = await open("demo");
    const names = read("demo", "[n.decode() for n in f['colony/name'][:]]") as string[];
    const days = read("demo", "list(f['time'][:])") as number[];
    const factors = {
        dli: [1, 2], need_dli: [1, 2], ppfd_mean: [1, 0], net_carbon: [1, 2], reserve: [100, 0],
        live_fraction: [100, 0], diameter: [100, 1], height: [100, 1], sand_load: [100, 1], flow_speed: [100, 1],
    } as Record<string, [number, number]>;
    for (const [colony, frame] of [[0, 0], [7, Math.floor(days.length / 2)], [7, days.length - 1], [names.length - 1, 5]]) {
        await page.evaluate((link) => (location.hash = link), `#day-${Math.round(days[frame])}-coral-${colony + 1}`);
        await page.waitForFunction((name) => document.querySelector("#details h2")?.textContent === name, `${colony + 1}. ${names[colony]}`);
        await setFrame(page, frame);
        for (const [quantity, [factor, digits]] of Object.entries(factors)) {
            const value = read("demo", `float(f['colony/${quantity}'][0, ${frame}, ${colony}])`) as number;
            assert.equal(await text(page, `[data-quantity=${quantity}]`), (value * factor).toFixed(digits), `${quantity} of ${names[colony]} in frame ${frame}`);
        }
    }
    await page.close();
});

test("shade by neighbours is shown with the trajectory's shares", async () => {
    const { page } = await open("demo");
    const last = Number(await page.getAttribute("#time", "max"));
    const first = read("demo", `[[int(r['colony']), float(r['share'])] for r in f['colony/shade_by'][0, ${last}, :, 0]]`) as number[][];
    const shaded = first.reduce((most, [, share], i) => (share > first[most][1] ? i : most), 0);
    const [by, share] = first[shaded];
    const names = read("demo", "[n.decode() for n in f['colony/name'][:]]") as string[];
    const day = read("demo", `float(f['time'][${last}])`) as number;
    await page.evaluate((link) => (location.hash = link), `#day-${Math.round(day)}-coral-${shaded + 1}`);
    await page.waitForFunction((frame) => (document.getElementById("time") as HTMLInputElement).value === frame, String(last));
    assert.match(await text(page, "#shade"), new RegExp(`${names[by]} ${(100 * share).toFixed(0)} %`));
    await page.close();
});

test("the value of the bed under the pointer is that of the trajectory", async () => {
    const { page } = await open("demo");
    await page.check("#show-plan");
    const bed = await page.locator("#plan .bed").boundingBox();
    assert.ok(bed);
    const [ny, nx] = read("demo", "list(f['bed/ppfd'].shape[2:])") as number[];
    const [column, row] = [Math.floor(nx / 2), 2];
    await page.mouse.move(bed.x + ((column + 0.5) / nx) * bed.width, bed.y + (1 - (row + 0.5) / ny) * bed.height);
    const value = read("demo", `float(f['bed/ppfd'][0, 0, ${row}, ${column}])`) as number;
    const shown = Number(/: (\S+) µmol/.exec(await text(page, "#spot"))?.[1]);
    assert.ok(Math.abs(shown - value) <= 0.51, `${shown} against ${value}`);
    await page.close();
});

test("every flag is a sentence that links to its month and coral", async () => {
    const { page } = await open("demo");
    const flags = read("demo", "[[float(r['day']), int(r['month']), int(r['colony'])] for r in f['flags'][:]]") as number[][];
    assert.equal(await page.locator("#flags a").count(), flags.length);
    const monthShown = Number(/^month (\d+) /.exec(await text(page, "#flags a"))?.[1]);
    await page.click("#flags a");
    await page.waitForFunction(() => (document.getElementById("time") as HTMLInputElement).value !== "0");
    const chosen = Number(/^\d+/.exec(await text(page, "#details h2"))?.[0]) - 1;
    const [day] = flags.find(([, month, colony]) => month === monthShown && colony === chosen) ?? [NaN];
    const shown = Number(/month ([\d.]+)/.exec(await text(page, "#when"))?.[1]) * 30.4375;
    assert.ok(Math.abs(shown - day) < 7, `${shown} against ${day}`);
    await page.close();
});

test("at first the coral of the first flag is shown, or else the first on the bed", async () => {
    const whole = readFileSync(file("demo.html"), "utf8");
    const flags = /"flags":(\[.*?\]),"events":/.exec(whole)?.[1] ?? "";
    const other = flags.replace(/"colony":\d+/, '"colony":3');
    assert.notEqual(other, flags);
    const cases: [string, string, RegExp][] = [["other", other, /^4\. /], ["calm", "[]", /^8\. /]];
    for (const [name, instead, chosen] of cases) {
        writeFileSync(file(`${name}.html`), whole.replace(`"flags":${flags}`, `"flags":${instead}`));
        const { page } = await open(name);
        assert.match(await text(page, "#details h2"), chosen);
        assert.equal(await page.inputValue("#time"), "0");
        assert.equal(await page.locator("#charts .uplot").count(), 5);
        await page.close();
    }
});

test("keys step, play, turn the tank and choose a coral", async () => {
    const { page } = await open("demo");
    await page.focus("#time");
    await page.keyboard.press("ArrowRight");
    assert.equal(await page.inputValue("#time"), "1");
    await page.keyboard.press("PageUp");
    assert.match((await page.getAttribute("#time", "aria-valuetext")) ?? "", /^month (0\.9|1\.\d), 2027-/);
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    await page.keyboard.press("Space");
    assert.equal(await text(page, "#play"), "Pause");
    await page.waitForFunction(() => Number((document.getElementById("time") as HTMLInputElement).value) > 7);
    await page.keyboard.press("Space");
    assert.equal(await text(page, "#play"), "Play");
    const tank = page.locator("#tank canvas");
    const before = await tank.screenshot();
    await page.focus("#tank canvas");
    await page.keyboard.press("ArrowLeft");
    const deadline = Date.now() + 10000;
    while (before.equals(await tank.screenshot())) assert.ok(Date.now() < deadline, "the tank has not turned");
    await page.check("#show-plan");
    await page.focus('#plan [data-colony="3"]');
    await page.keyboard.press("Enter");
    assert.match(await text(page, "#details h2"), /^4\. /);
    await page.close();
});

test("a click in the tank chooses the coral under it", async () => {
    const { page } = await open("demo");
    const label = await page.locator(".label", { hasText: /^1(:|$)/ }).boundingBox();
    assert.ok(label);
    // The label is above the centre of the plate.
    await page.mouse.click(label.x + label.width / 2, label.y + label.height + 4);
    assert.match(await text(page, "#details h2"), /^1\. /);
    assert.equal(await page.locator(".label.chosen").count(), 1);
    assert.equal(await page.locator("#charts .uplot").count(), 5);
    await page.close();
});

test("the plan is printed", async () => {
    const { page } = await open("demo");
    await page.emulateMedia({ media: "print" });
    assert.ok(await page.isVisible("#plan svg"));
    assert.ok(!(await page.isVisible("#tank")));
    await page.close();
});

test("without WebGL the plan is shown", async () => {
    const plain = await chromium.launch({ executablePath: BROWSER, args: [...FLAGS, "--disable-3d-apis"] });
    const { page, messages } = await open("demo", plain);
    assert.match(await text(page, "#tank-note"), /no 3-D graphics/);
    assert.ok(await page.isVisible("#plan svg"));
    const plan = page.locator("#plan svg");
    const first = await plan.screenshot();
    assert.ok((await coloursIn(first)) > 50, "the plan is not blank");
    await setFrame(page, Number(await page.getAttribute("#time", "max")));
    assert.notDeepEqual(await plan.screenshot(), first);
    assert.deepEqual(messages, []);
    await plain.close();
});

test("hostile names stay text", async () => {
    const names = ["<script>window.caught = 1</script>", '<img src=x onerror="window.caught = 1">', "</script><svg onload=alert(1)>", "<!--"];
    const layout = layoutWith(names.map((name, i) => colony(name, 20 + 20 * i, 30)).join(""), names.join(""));
    writeFileSync(file("hostile.toml"), layout);
    makeRun("hostile", file("hostile.toml"));
    const { page, messages } = await open("hostile");
    assert.equal(await text(page, "#title"), names.join(""));
    assert.equal(await page.title(), names.join(""));
    for (const [i, name] of names.entries()) {
        await page.locator(".coral-name").nth(i).click();
        assert.equal(await text(page, "#details h2"), `${i + 1}. ${name}`);
        assert.equal(await text(page, ".label.chosen"), name);
    }
    assert.equal(await page.evaluate(() => "caught" in window), false);
    assert.equal(await page.locator("img, main script, svg svg").count(), 0);
    assert.deepEqual(messages, []);
    await page.close();
});

test("an unfinished run says so", async () => {
    const whole = readFileSync(file("demo.html"), "utf8");
    assert.ok(whole.includes('"complete":true'));
    writeFileSync(file("part.html"), whole.replace('"complete":true', '"complete":false'));
    const { page } = await open("part");
    assert.match(await text(page, "#verdict"), /not finished/);
    await page.close();
});

test("a page with a damaged run says so", async () => {
    const whole = readFileSync(file("demo.html"), "utf8");
    writeFileSync(file("damaged.html"), whole.replace('"format":1,', '"format":99,'));
    const page = await browser.newPage();
    await page.goto(pathToFileURL(file("damaged.html")).href);
    assert.match(await text(page, "#trouble"), /format 99; this page reads 1/);
    await page.close();
});

test("three hundred corals are drawn, at coarse resolution while they turn", async () => {
    const colonies = Array.from({ length: 300 }, (_, i) => colony(`c${i}`, 5 + 4.5 * (i % 25), 4 + 4.5 * Math.floor(i / 25)));
    writeFileSync(file("many.toml"), layoutWith(colonies.join("")));
    makeRun("many", file("many.toml"));
    const { page, messages } = await open("many");
    await setFrame(page, 1);
    const box = await page.locator("#tank canvas").boundingBox();
    assert.ok(box);
    await page.mouse.move(box.x + 200, box.y + 60);
    await page.mouse.down();
    const paced = page.evaluate(async () => {
        const started = performance.now();
        for (let k = 0; k < 15; ++k) await new Promise(requestAnimationFrame);
        return (performance.now() - started) / 15;
    });
    for (let step = 1; step <= 15; ++step) await page.mouse.move(box.x + 200 + 8 * step, box.y + 60);
    const took_ms = await paced;
    await page.mouse.up();
    console.log(`300 corals turn at ${took_ms.toFixed(0)} ms a frame without a graphics card`);
    // Even on a busy machine the controls must respond.
    assert.ok(took_ms < 500, `${took_ms.toFixed(0)} ms a frame`);
    assert.deepEqual(messages, []);
    await page.close();
});

test("two runs are shown side by side, in step", async () => {
    writeFileSync(file("changed.toml"), `format = 1\nextends = ${JSON.stringify(DEMO)}\n[[colony]]\nname = "ledge plate"\nremove = true\n`);
    makeRun("as_it_is", DEMO, "--months", "2");
    makeRun("without_plate", file("changed.toml"), "--months", "2");
    bedshade("replay", file("as_it_is.h5"), "--quiet", "--beside", file("without_plate.h5"), "--out", file("pair.html"));
    const { page, messages } = await open("pair");
    assert.equal(await text(page, "#label"), "as_it_is");
    assert.equal(await text(page, "#beside-label"), "without_plate");
    assert.match(await text(page, "#beside-verdict"), /^without_plate: /);
    await setFrame(page, 5);
    await page.waitForSelector('#beside-tank[data-drawn="5"]');
    const [left, right] = await Promise.all(["#tank", "#beside-tank"].map((id) => page.locator(`${id} canvas`).screenshot()));
    assert.ok((await coloursIn(right)) > 200, "the tank beside is not blank");
    assert.notDeepEqual(left, right);
    await page.evaluate(() => (location.hash = "#day-14-coral-9"));
    await page.waitForFunction(() => document.querySelector("#details h2")?.textContent?.startsWith("9. "));
    const lines = await page.locator("#charts .chart").first().locator(".u-label").allTextContents();
    assert.deepEqual(lines.slice(1), ["light, as_it_is", "light, without_plate", "need, as_it_is", "need, without_plate"]);
    await page.check("#show-plan");
    // The plate is in one plan and not in the other.
    assert.equal((await page.locator("#plan .coral").count()) - (await page.locator("#beside-plan .coral").count()), 1);
    await page.focus('#beside-plan [data-colony="0"]');
    await page.keyboard.press("Enter");
    assert.match(await text(page, "#details h2"), /^2\. /);
    assert.deepEqual(messages, []);
    await page.close();
});

test("an ensemble shows its range and how often a flag was raised", async () => {
    makeRun("members", join(process.env.BEDSHADE_ROOT ?? "", "tests/monte_carlo/black_box.toml"), "--months", "2", "--members", "4");
    const { page, messages } = await open("members");
    assert.match(await text(page, "#flags"), /(In|in) [1-4] of 4 members, month /);
    assert.match(await text(page, "#facts"), /4 members/);
    await page.locator(".coral-name").first().click();
    const edges = await page.locator("#charts .u-label").allTextContents();
    assert.ok(edges.includes("10 %") && edges.includes("90 %"), edges.join());
    assert.deepEqual(messages, []);
    await page.close();
});

test("on a small screen nothing is wider than the screen", async () => {
    for (const name of ["demo", "pair"]) {
        const { page } = await open(name);
        await page.setViewportSize({ width: 390, height: 800 });
        await page.evaluate(() => (location.hash = "#day-14-coral-8"));
        await page.waitForFunction(() => (document.getElementById("time") as HTMLInputElement).value !== "0");
        const wide = await page.evaluate(() => document.documentElement.scrollWidth);
        assert.ok(wide <= 390, `${name} is ${wide} px wide`);
        await page.close();
    }
});

test("pictures at months 0, 12 and 24", async () => {
    const { page } = await open("demo");
    await page.setViewportSize({ width: 1180, height: 860 });
    await page.click("#flags a");
    await page.waitForFunction(() => (document.getElementById("time") as HTMLInputElement).value !== "0");
    await page.focus("#time");
    await page.keyboard.press("Home");
    const taken: Buffer[] = [];
    for (const month of [0, 12, 24]) {
        if (month > 0) for (let k = 0; k < 12; ++k) await page.keyboard.press("PageUp");
        assert.match(await text(page, "#when"), new RegExp(`^month ${month === 0 ? "0.0" : `(${month - 1}\\.[5-9]|${month}\\.[0-4])`},`));
        await page.waitForFunction(() => {
            const slider = document.getElementById("time") as HTMLInputElement;
            return document.getElementById("tank")?.dataset.drawn === slider.value;
        });
        await page.waitForTimeout(200);
        taken.push(await page.screenshot({ path: join(PICTURES, `replay_month_${String(month).padStart(2, "0")}.png`) }));
    }
    for (const picture of taken) assert.ok((await coloursIn(picture)) > 200, "a picture is blank");
    assert.notDeepEqual(taken[0], taken[2]);
    await page.close();
});
