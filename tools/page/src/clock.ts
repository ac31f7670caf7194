// Days, months and dates of a run, as the program defines them: a month is 30.4375 days, and
// "month m" is the instant at which it ends.

export const DAYS_PER_MONTH = 30.4375;

/** Months since the start, as a number with a fraction. */
export function monthsAt(day: number): number {
    return day / DAYS_PER_MONTH;
}

/** Calendar date of a day of the run, YYYY-MM-DD. */
export function dateAt(start: string, day: number): string {
    const [year, month, date] = start.split("-").map(Number);
    const time = new Date(0);
    time.setUTCFullYear(year, month - 1, date + Math.floor(day));
    return time.toISOString().slice(0, 10);
}

/** The frame nearest to a day. */
export function frameNear(days: number[], day: number): number {
    let best = 0;
    for (let frame = 1; frame < days.length; ++frame)
        if (Math.abs(days[frame] - day) < Math.abs(days[best] - day)) best = frame;
    return best;
}

/** The frame nearest to the end of a month. */
export function frameAtMonth(days: number[], month: number): number {
    return frameNear(days, month * DAYS_PER_MONTH);
}

/** Month and date of a day: "month 11.9, 2027-12-30". */
export function whenText(start: string, day: number): string {
    return `month ${monthsAt(day).toFixed(1)}, ${dateAt(start, day)}`;
}
