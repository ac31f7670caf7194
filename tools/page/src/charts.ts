// A colony over time: light and light need, shade by neighbours, reserve, sand, size.

import uPlot from "uplot";

import type { Beside } from "./beside";
import { frameNear, monthsAt } from "./clock";
import { SERIES } from "./colours";
import { element } from "./dom";
import type { Quantity, Run } from "./run";
import { shadeLayers } from "./shade_layers";

const HEIGHT_PX = 170;
/** Neighbours with a layer of their own in the shade chart; one more layer holds all others. */
const MAX_LAYERS = 6;

type Column = (number | null)[];

interface Line {
    label: string;
    values: Column;
    /** Values for the legend, if they differ from those drawn. */
    legend?: Column;
    band?: { low: Column; high: Column } | null;
    filled?: boolean;
}

interface Chart {
    title: string;
    units: string;
    digits: number;
    max?: number;
    lines: Line[];
}

function scaled(column: Column, factor: number): Column {
    return column.map((value) => (value === null ? null : value * factor));
}

/** A coral of one run; that of the second run on the days of the first. */
interface ShownColony {
    run: Run;
    colony: number;
    /** Its frame for each frame of the first run; null: its own frames. */
    frames: number[] | null;
}

function onFirstDays(column: Column, { frames }: ShownColony): Column {
    return frames === null ? column : frames.map((frame) => column[frame]);
}

/** Label of a line; with a second run in the chart it names the run. */
function labelOf(label: string, { run }: ShownColony): string {
    return run.document.label === "" ? label : `${label}, ${run.document.label}`;
}

function line(shown: ShownColony, quantity: Quantity, label: string, factor: number): Line {
    const { run, colony } = shown;
    const band = run.band(quantity, colony);
    const drawn = (column: Column) => scaled(onFirstDays(column, shown), factor);
    return {
        label: labelOf(label, shown),
        values: drawn(run.series(quantity, colony)),
        band: band && { low: drawn(band.low), high: drawn(band.high) },
    };
}

function chartsOf(all: ShownColony[]): Chart[] {
    const lines = (quantity: Quantity, label: string, factor = 1) => all.map((shown) => line(shown, quantity, label, factor));
    return [
        {
            title: "Daily light and light need",
            units: "mol m⁻² d⁻¹",
            digits: 2,
            lines: [...lines("dli", "light"), ...lines("need_dli", "need")],
        },
        ...all.map(shadeChart),
        {
            title: "Reserve and living tissue",
            units: "%",
            digits: 0,
            max: 100,
            lines: [...lines("reserve", "reserve", 100), ...lines("live_fraction", "living tissue", 100)],
        },
        { title: "Sand load", units: "mg cm⁻²", digits: 1, lines: lines("sand_load", "sand", 100) },
        {
            title: "Size",
            units: "cm",
            digits: 1,
            lines: [...lines("diameter", "diameter", 100), ...lines("height", "height", 100)],
        },
    ];
}

function shadeChart(shown: ShownColony): Chart {
    const { run, colony } = shown;
    const lines = shadeLayers(run, colony, MAX_LAYERS).map((layer) => ({
        label: layer.colony === null ? "others" : run.document.colonies[layer.colony].name,
        values: scaled(onFirstDays(layer.top, shown), 100),
        legend: scaled(onFirstDays(layer.share, shown), 100),
        filled: true,
    }));
    const title = `${labelOf("Shade by neighbours", shown)} (share of the light it would have alone)`;
    return { title, units: "%", digits: 0, lines };
}

/** The columns for uPlot: time, the lines, then the edges of their bands. */
function columnsOf(run: Run, chart: Chart): Column[] {
    const columns: Column[] = [run.document.days.map(monthsAt)];
    for (const { values } of chart.lines) columns.push(values);
    for (const { band } of chart.lines) if (band) columns.push(band.high, band.low);
    return columns;
}

function seriesOf(chart: Chart): uPlot.Series[] {
    const series: uPlot.Series[] = [{ label: "month", value: (_, month) => month?.toFixed(1) ?? "" }];
    chart.lines.forEach(({ label, legend, filled }, i) => {
        const style = SERIES[i % SERIES.length];
        series.push({
            label,
            stroke: style.colour,
            width: 2,
            dash: style.dash,
            fill: filled && i === 0 ? style.colour + "55" : undefined,
            value: (_, value, __, frame) => {
                const shown = legend === undefined || frame === null ? value : legend[frame];
                return shown === null || shown === undefined ? "" : `${shown.toFixed(chart.digits)} ${chart.units}`;
            },
        });
    });
    for (const { band } of chart.lines)
        if (band)
            for (const edge of ["90 %", "10 %"])
                series.push({ label: edge, stroke: "#00000000", value: (_, v) => v?.toFixed(chart.digits) ?? "" });
    return series;
}

/** Filled areas between the layers of a stack, and between the edges of an ensemble's range. */
function bandsOf(chart: Chart): uPlot.Band[] {
    const bands: uPlot.Band[] = [];
    chart.lines.forEach(({ filled }, i) => {
        if (filled && i > 0) bands.push({ series: [i + 1, i], fill: SERIES[i % SERIES.length].colour + "55" });
    });
    let edge = chart.lines.length + 1;
    chart.lines.forEach(({ band }, i) => {
        if (!band) return;
        bands.push({ series: [edge, edge + 1], fill: SERIES[i].colour + "33" });
        edge += 2;
    });
    return bands;
}

/** A vertical line at the current frame. */
function drawCurrentFrame(u: uPlot, month: number) {
    const x = Math.round(u.valToPos(month, "x", true));
    u.ctx.save();
    u.ctx.strokeStyle = "#1f2933";
    u.ctx.lineWidth = 1;
    u.ctx.setLineDash([]);
    u.ctx.beginPath();
    u.ctx.moveTo(x, u.bbox.top);
    u.ctx.lineTo(x, u.bbox.top + u.bbox.height);
    u.ctx.stroke();
    u.ctx.restore();
}

export class Charts {
    private plots: uPlot[] = [];
    private frame = 0;

    constructor(
        private readonly box: HTMLElement,
        private readonly run: Run,
        private readonly beside: Beside | null,
    ) {
        new ResizeObserver(() => this.fit()).observe(box);
    }

    private width(): number {
        return Math.max(240, this.box.clientWidth);
    }

    private fit() {
        for (const plot of this.plots)
            if (plot.width !== this.width()) plot.setSize({ width: this.width(), height: HEIGHT_PX });
    }

    showColony(colony: number | null) {
        for (const plot of this.plots) plot.destroy();
        this.box.replaceChildren();
        this.plots = colony === null ? [] : chartsOf(this.shownColonies(colony)).map((chart) => this.draw(chart));
    }

    private shownColonies(colony: number): ShownColony[] {
        const all: ShownColony[] = [{ run: this.run, colony, frames: null }];
        const other = this.beside?.colonyOf(colony) ?? null;
        if (this.beside !== null && other !== null) {
            const { run } = this.beside;
            const frames = this.run.document.days.map((day) => frameNear(run.document.days, day));
            all.push({ run, colony: other, frames });
        }
        return all;
    }

    private draw(chart: Chart): uPlot {
        const box = element("figure", { class: "chart" }, element("figcaption", {}, `${chart.title}, ${chart.units}`));
        this.box.append(box);
        if (chart.lines.length === 0) box.append(element("p", {}, "No neighbour shades it."));
        const options: uPlot.Options = {
            width: this.width(),
            height: HEIGHT_PX,
            cursor: { drag: { x: false, y: false }, sync: { key: "months" } },
            scales: { x: { time: false }, y: { range: (_, __, high) => [0, chart.max ?? Math.max(high * 1.05, 1e-6)] } },
            axes: [{ label: "month", labelSize: 20, size: 34 }, { size: 52 }],
            series: seriesOf(chart),
            bands: bandsOf(chart),
            hooks: {
                draw: [(u) => drawCurrentFrame(u, monthsAt(this.run.day(this.frame)))],
                ready: [(u) => u.setLegend({ idx: this.frame }, false)],
            },
        };
        return new uPlot(options, columnsOf(this.run, chart) as uPlot.AlignedData, box);
    }

    showFrame(frame: number) {
        this.frame = frame;
        for (const plot of this.plots) {
            plot.setLegend({ idx: frame }, false);
            plot.redraw(false, false);
        }
    }
}
