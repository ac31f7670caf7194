// Figures as people read them: the trajectory's numbers in handy units.

import type { Figure, Run } from "./run";

interface Reading {
    label: string;
    figure: Figure;
    units: string;
    /** Times the trajectory's units. */
    factor: number;
    digits: number;
}

export const READINGS: Reading[] = [
    { label: "Daily light", figure: "dli", units: "mol m⁻² d⁻¹", factor: 1, digits: 2 },
    { label: "Daily light it needs", figure: "need_dli", units: "mol m⁻² d⁻¹", factor: 1, digits: 2 },
    { label: "Light, lamps at plateau", figure: "ppfd_mean", units: "µmol m⁻² s⁻¹", factor: 1, digits: 0 },
    { label: "Net carbon", figure: "net_carbon", units: "days of dark respiration a day", factor: 1, digits: 2 },
    { label: "Reserve", figure: "reserve", units: "%", factor: 100, digits: 0 },
    { label: "Living tissue", figure: "live_fraction", units: "%", factor: 100, digits: 0 },
    { label: "Across", figure: "diameter", units: "cm", factor: 100, digits: 1 },
    { label: "High", figure: "height", units: "cm", factor: 100, digits: 1 },
    { label: "Sand lying on it", figure: "sand_load", units: "mg cm⁻²", factor: 100, digits: 1 },
    { label: "Flow about it", figure: "flow_speed", units: "cm s⁻¹", factor: 100, digits: 1 },
];

/** A figure's number, without its unit; a dash where it has none. */
export function numberText(run: Run, figure: Figure, frame: number, colony: number): string {
    const reading = READINGS.find((r) => r.figure === figure);
    const value = run.figure(figure, frame, colony);
    if (reading === undefined || !Number.isFinite(value)) return "–";
    return (value * reading.factor).toFixed(reading.digits);
}

/** "1.25 of 1.40", light and need; what lives without light needs none. */
export function lightText(run: Run, frame: number, colony: number): string {
    if (!run.isPresent(frame, colony)) return "–";
    const need = run.figure("need_dli", frame, colony);
    const light = numberText(run, "dli", frame, colony);
    return need > 0 ? `${light} of ${numberText(run, "need_dli", frame, colony)}` : `${light}, no need`;
}
