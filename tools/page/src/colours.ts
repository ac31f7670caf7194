// Colours that can be distinguished without colour vision, and scales with round numbers.

export type Rgb = [number, number, number];

/** Cividis at ten even steps: a scale of even lightness that looks the same to people with and
 *  without red-green colour blindness (Nuñez, Anderton & Renslow 2018, PLoS ONE 13:e0199239). */
const CIVIDIS: Rgb[] = [
    [0, 34, 78],
    [18, 53, 112],
    [59, 73, 108],
    [87, 93, 109],
    [112, 113, 115],
    [138, 134, 120],
    [165, 156, 116],
    [195, 179, 105],
    [225, 204, 85],
    [254, 232, 56],
];

/** For cells without a value. */
const NONE: Rgb = [255, 255, 255];

/** Colour of a value from 0 (dark) to 1 (light). */
export function shadeAt(share: number): Rgb {
    if (!Number.isFinite(share)) return NONE;
    const at = Math.min(Math.max(share, 0), 1) * (CIVIDIS.length - 1);
    const below = Math.min(Math.floor(at), CIVIDIS.length - 2);
    const part = at - below;
    const mix = (k: number) =>
        Math.round(CIVIDIS[below][k] + part * (CIVIDIS[below + 1][k] - CIVIDIS[below][k]));
    return [mix(0), mix(1), mix(2)];
}

export function css([r, g, b]: Rgb): string {
    return `rgb(${r}, ${g}, ${b})`;
}

/** Lightness of an sRGB colour, 0 to 100 (CIE 1976 L*). */
export function lightness(colour: Rgb): number {
    const [r, g, b] = colour.map((v) => {
        const share = v / 255;
        return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    const y = 0.2126 * r + 0.7152 * g + 0.0722 * b;
    return y > 0.008856 ? 116 * Math.cbrt(y) - 16 : 903.3 * y;
}

/** A step of 1, 2 or 5 times a power of ten, so that about `steps` of them reach `max`. */
export function roundStep(max: number, steps: number): number {
    if (!(max > 0)) return 1;
    const raw = max / steps;
    const power = 10 ** Math.floor(Math.log10(raw));
    const times = [1, 2, 5, 10].find((k) => k * power >= raw * (1 - 1e-9)) ?? 10;
    return times * power;
}

/** A scale from 0 to a round number, with the ticks of its legend. */
export interface Scale {
    max: number;
    ticks: number[];
}

export function scaleTo(max: number): Scale {
    const step = roundStep(max, 5);
    const count = Math.max(1, Math.ceil(max / step - 1e-9));
    return {
        max: step * count,
        ticks: Array.from({ length: count + 1 }, (_, k) => Number((step * k).toPrecision(12))),
    };
}

/** Series of a chart: dark to light and by dash, so that they differ without colour too.
 *  Hues after Okabe & Ito 2008, "Color Universal Design" (from memory). */
export const SERIES: { colour: string; dash: number[] }[] = [
    { colour: "#0072b2", dash: [] },
    { colour: "#d55e00", dash: [6, 3] },
    { colour: "#009e73", dash: [2, 3] },
    { colour: "#8a4f7d", dash: [9, 3, 2, 3] },
    { colour: "#b8860b", dash: [4, 2] },
    { colour: "#56b4e9", dash: [1, 2] },
    { colour: "#5c554d", dash: [12, 4] },
    { colour: "#999999", dash: [3, 6] },
];
