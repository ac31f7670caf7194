// A colony over time: light against need, who takes it, reserve, sand, size.

import uPlot from "uplot";

import type { Beside } from "./beside";
import { frameNear, monthsAt } from "./clock";
import { SERIES } from "./colours";
import { element } from "./dom";
import type { Figure, Run } from "./run";
import { culpritLayers } from "./stack";

const HEIGHT_PX = 170;
/** Layers of the shade chart, the last for all others. */
const MOST_CULPRITS = 6;

type Column = (number | null)[];

interface Line {
    label: string;
    values: Column;
    /** What the legend tells, where that is not what is drawn. */
    told?: Column;
    band?: { low: Column; high: Column } | null;
    filled?: boolean;
}

interface Chart {
    title: string;
    units: string;
    digits: number;
    most?: number;
    lines: Line[];
}

function scaled(column: Column, factor: number): Column {
    return column.map((value) => (value === null ? null : value * factor));
}

/** A coral as one run has it; of the run beside, on the days of the first. */
interface Shown {
    run: Run;
    colony: number;
    /** Which of its frames stands under each frame of the first run; null: its own. */
    frames: number[] | null;
}

function placed(column: Column, { frames }: Shown): Column {
    return frames === null ? column : frames.map((frame) => column[frame]);
}

/** What a line is called: with a second run in the chart, by the run it is of. */
function called(label: string, { run }: Shown): string {
    return run.document.label === "" ? label : `${label}, ${run.document.label}`;
}

function line(shown: Shown, figure: Figure, label: string, factor: number): Line {
    const { run, colony } = shown;
    const band = run.band(figure, colony);
    const drawn = (column: Column) => scaled(placed(column, shown), factor);
    return {
        label: called(label, shown),
        values: drawn(run.series(figure, colony)),
        band: band && { low: drawn(band.low), high: drawn(band.high) },
    };
}

function chartsOf(all: Shown[]): Chart[] {
    const lines = (figure: Figure, label: string, factor = 1) => all.map((shown) => line(shown, figure, label, factor));
    return [
        {
            title: "Daily light and need",
            units: "mol m⁻² d⁻¹",
            digits: 2,
            lines: [...lines("dli", "light"), ...lines("need_dli", "need")],
        },
        ...all.map(culpritChart),
        {
            title: "Reserve and living tissue",
            units: "%",
            digits: 0,
            most: 100,
            lines: [...lines("reserve", "reserve", 100), ...lines("live_fraction", "alive", 100)],
        },
        { title: "Sand lying on it", units: "mg cm⁻²", digits: 1, lines: lines("sand_load", "sand", 100) },
        {
            title: "Size",
            units: "cm",
            digits: 1,
            lines: [...lines("diameter", "across", 100), ...lines("height", "high", 100)],
        },
    ];
}

function culpritChart(shown: Shown): Chart {
    const { run, colony } = shown;
    const lines = culpritLayers(run, colony, MOST_CULPRITS).map((layer) => ({
        label: layer.colony === null ? "others" : run.document.colonies[layer.colony].name,
        values: scaled(placed(layer.top, shown), 100),
        told: scaled(placed(layer.share, shown), 100),
        filled: true,
    }));
    const title = `${called("Who takes its light", shown)} (of what it would have alone)`;
    return { title, units: "%", digits: 0, lines };
}

/** The columns that uPlot draws: time, the lines, then the edges of their bands. */
function columnsOf(run: Run, chart: Chart): Column[] {
    const columns: Column[] = [run.document.days.map(monthsAt)];
    for (const { values } of chart.lines) columns.push(values);
    for (const { band } of chart.lines) if (band) columns.push(band.high, band.low);
    return columns;
}

function seriesOf(chart: Chart): uPlot.Series[] {
    const series: uPlot.Series[] = [{ label: "month", value: (_, month) => month?.toFixed(1) ?? "" }];
    chart.lines.forEach(({ label, told, filled }, i) => {
        const look = SERIES[i % SERIES.length];
        series.push({
            label,
            stroke: look.colour,
            width: 2,
            dash: look.dash,
            fill: filled && i === 0 ? look.colour + "55" : undefined,
            value: (_, value, __, frame) => {
                const tell = told === undefined || frame === null ? value : told[frame];
                return tell === null || tell === undefined ? "" : `${tell.toFixed(chart.digits)} ${chart.units}`;
            },
        });
    });
    for (const { band } of chart.lines)
        if (band)
            for (const edge of ["90 %", "10 %"])
                series.push({ label: edge, stroke: "#00000000", value: (_, v) => v?.toFixed(chart.digits) ?? "" });
    return series;
}

/** Between the layers of a stack, and between the edges of an ensemble's spread. */
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

/** An upright line at the frame that is looked at. */
function drawNow(u: uPlot, month: number) {
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
        this.plots = colony === null ? [] : chartsOf(this.shown(colony)).map((chart) => this.draw(chart));
    }

    private shown(colony: number): Shown[] {
        const all: Shown[] = [{ run: this.run, colony, frames: null }];
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
        if (chart.lines.length === 0) box.append(element("p", {}, "Nobody shades it."));
        const options: uPlot.Options = {
            width: this.width(),
            height: HEIGHT_PX,
            cursor: { drag: { x: false, y: false }, sync: { key: "months" } },
            scales: { x: { time: false }, y: { range: (_, __, high) => [0, chart.most ?? Math.max(high * 1.05, 1e-6)] } },
            axes: [{ label: "month", labelSize: 20, size: 34 }, { size: 52 }],
            series: seriesOf(chart),
            bands: bandsOf(chart),
            hooks: {
                draw: [(u) => drawNow(u, monthsAt(this.run.day(this.frame)))],
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
