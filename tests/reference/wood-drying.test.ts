import {expect, test} from "vitest";
import {dryingTimeRatio} from "../../lib/wood/dryingTimeRatio.ts";

// Source: drying practice, time by the 1.5th power of thickness, by others 1.3 to 2. Tag: from memory. 40 mm against 25 mm is twice as long: computed
// by hand (1.6^1.5 = 2.02). Tolerance half a digit. Its ground is diffusion, where time goes with the square, as the upper end, and a surface that
// holds the water back, where it goes with the first power, as the lower: the answer must lie between.
test("a 40 mm square takes about twice as long as inch stock", () => {
  const ratio = dryingTimeRatio({thicknessMm: 40, referenceMm: 25});
  expect(Math.abs(ratio - 2)).toBeLessThanOrEqual(0.05);
  expect(ratio).toBeGreaterThan(40 / 25);
  expect(ratio).toBeLessThan((40 / 25) ** 2);
});

// The same practice's ends, by hand: 1.6^1.3 = 1.84 and 1.6² = 2.56. Tolerance half a digit.
test.each([
  [1.3, 1.84],
  [2, 2.56]
])("with the exponent %s it takes %s times as long", (exponent, times) => {
  expect(Math.abs(dryingTimeRatio({thicknessMm: 40, referenceMm: 25, exponent}) - times)).toBeLessThanOrEqual(0.005);
});

// Source: Peck (1957), US Forest Products Laboratory report 2086: inch sugar maple took 40 to 205 days to 20 %, mean about 90. Tag: read. Inch ash took
// 60 to 200 (FPL Technical Note 233, from memory): 90 lies within. Scaled to a 40 mm square the mean is about half a year; a rest of two months
// is thus no guarantee of 20 %, whichever exponent is right.
test("inch maple's 90 days are five to eight months for a 40 mm square", () => {
  for (const exponent of [1.3, 1.5, 2]) {
    const days = 90 * dryingTimeRatio({thicknessMm: 40, referenceMm: 25.4, exponent});
    expect(days).toBeGreaterThan(150);
    expect(days).toBeLessThan(240);
  }
});
