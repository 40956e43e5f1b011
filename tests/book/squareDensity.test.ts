import {expect, test} from "vitest";
import {squareDensityAt12, usualDensityAt12} from "../../lib/book/squareDensity.ts";
import {woodNames} from "../../lib/wood/species.ts";
import {bookOf, settingsOf} from "./smallBook.ts";

const square = bookOf().squares[0]!;

test("squareDensityAt12 of 1680 g in 2.4 litres at 12 % is 700 kg/m³, whatever the species", () => {
  expect(squareDensityAt12(square, "ash", settingsOf())).toBeCloseTo(700, 9);
  expect(squareDensityAt12(square, "maple", settingsOf())).toBeCloseTo(700, 9);
});

// White ash: volumetric shrinkage 13.3 % (table 4-3) below 30 % moisture (p. 4-2): Wood Handbook, FPL-GTR-190 (2010), read.
// Measured at 16 %: the water beyond 12 % taken out, and the volume it leaves shrunk along a straight line from 30 % down.
test("squareDensityAt12 takes out water and shrinks the volume with the constants of the workshop's species", () => {
  const window = {low: 600, high: 800};
  const settings = settingsOf({species: {grey: {wood: "white-ash", windowKgM3: window}}});
  const byHand = 700 * (1.12 / 1.16) * ((1 - (0.133 * 14) / 30) / (1 - (0.133 * 18) / 30));
  expect(squareDensityAt12({...square, moisturePct: 16}, "grey", settings)).toBeCloseTo(byHand, 9);
});

// Vieilledent's reading of Simpson (1993): G12 = Gb/(1 − 0.265·0.6·Gb); white ash Gb 0.55 gives 0.6027 and a density of
// 1120 · 0.6027 = 675 kg/m³ at 12 %; 4 · 10 % on either side is 405 and 945. By hand.
test("usualDensityAt12 of white ash is 405 to 945 kg/m³", () => {
  const {low, high} = usualDensityAt12("white-ash");
  expect(low).toBeCloseTo(405.0, 0);
  expect(high).toBeCloseTo(945.0, 0);
});

test("usualDensityAt12 is known of every wood that is stored", () => {
  for (const wood of woodNames) {
    const {low, high} = usualDensityAt12(wood);
    expect(low, wood).toBeGreaterThan(250);
    expect(high, wood).toBeLessThan(1250);
  }
});
