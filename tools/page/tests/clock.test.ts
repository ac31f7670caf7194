// Months, dates and frames as the program defines them.
import assert from "node:assert/strict";
import { test } from "node:test";

import { dateAt, frameAtMonth, frameNear, monthsAt, whenText } from "../src/clock";

test("month m ends on day m times 30.4375", () => {
    assert.equal(monthsAt(730.5), 24);
    assert.equal(frameAtMonth([0, 7, 14, 21, 28, 35], 1), 4);
});

test("dates are calendar days, fractions of a day dropped", () => {
    assert.equal(dateAt("2027-01-04", 0), "2027-01-04");
    assert.equal(dateAt("2027-01-04", 730.5), "2029-01-03");
    assert.equal(dateAt("2028-02-28", 1.9), "2028-02-29");
    assert.equal(dateAt("0099-12-31", 1), "0100-01-01");
});

test("the nearest frame is found at both ends", () => {
    assert.equal(frameNear([0, 7, 14], -5), 0);
    assert.equal(frameNear([0, 7, 14], 99), 2);
    assert.equal(frameNear([0, 7, 14], 11), 2);
});

test("a day is shown as month and date", () => {
    assert.equal(whenText("2027-01-04", 365.25), "month 12.0, 2028-01-04");
});
