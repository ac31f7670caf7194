// Quantities of a coral in common units.

import type { Quantity, Run } from "./run";

interface Reading {
    label: string;
    quantity: Quantity;
    units: string;
    /** Factor from the trajectory's units. */
    factor: number;
    digits: number;
}

export const READINGS: Reading[] = [
    { label: "Daily light", quantity: "dli", units: "mol m⁻² d⁻¹", factor: 1, digits: 2 },
    { label: "Daily light need", quantity: "need_dli", units: "mol m⁻² d⁻¹", factor: 1, digits: 2 },
    { label: "Light, lamps at plateau", quantity: "ppfd_mean", units: "µmol m⁻² s⁻¹", factor: 1, digits: 0 },
    { label: "Net carbon", quantity: "net_carbon", units: "days of dark respiration a day", factor: 1, digits: 2 },
    { label: "Reserve", quantity: "reserve", units: "%", factor: 100, digits: 0 },
    { label: "Living tissue", quantity: "live_fraction", units: "%", factor: 100, digits: 0 },
    { label: "Diameter", quantity: "diameter", units: "cm", factor: 100, digits: 1 },
    { label: "Height", quantity: "height", units: "cm", factor: 100, digits: 1 },
    { label: "Sand load", quantity: "sand_load", units: "mg cm⁻²", factor: 100, digits: 1 },
    { label: "Flow speed", quantity: "flow_speed", units: "cm s⁻¹", factor: 100, digits: 1 },
];

/** The value of a quantity without its unit; a dash where it has none. */
export function numberText(run: Run, quantity: Quantity, frame: number, colony: number): string {
    const reading = READINGS.find((r) => r.quantity === quantity);
    const value = run.value(quantity, frame, colony);
    if (reading === undefined || !Number.isFinite(value)) return "–";
    return (value * reading.factor).toFixed(reading.digits);
}

/** "1.25 of 1.40", light and light need; a coral that lives without light has no need. */
export function lightText(run: Run, frame: number, colony: number): string {
    if (!run.isPresent(frame, colony)) return "–";
    const need = run.value("need_dli", frame, colony);
    const light = numberText(run, "dli", frame, colony);
    return need > 0 ? `${light} of ${numberText(run, "need_dli", frame, colony)}` : `${light}, no need`;
}
