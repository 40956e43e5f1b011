import fc from "fast-check";
import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {squareDensityAt12} from "../../lib/book/squareDensity.ts";
import {usualSize, yardWeight} from "../../lib/density/yardCard.ts";
import {bookOf, settingsOf} from "../book/smallBook.ts";

const accuracy = {scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.5};
const none = {scaleG: 0, calliperMm: 0, tapeMm: 0, meterPct: 0};
const of = {
  sideMm: 40,
  lengthMm: 1500,
  moisturePct: 12,
  window: {low: 650, high: 735},
  wood: "white-ash",
  accuracy
} as const;

test("yardWeight at 12 % is volume times window: 2.4 litres of 650 to 735 kg/m³", () => {
  const {lowG, highG} = yardWeight(of);
  expect(lowG).toBeCloseTo(2.4 * 650, 9);
  expect(highG).toBeCloseTo(2.4 * 735, 9);
});

test("yardWeight is where the density that a square is credited with crosses the window, at any size and moisture", () => {
  const settings = settingsOf({species: {ash: {wood: "white-ash", windowKgM3: of.window}}});
  fc.assert(
    fc.property(
      fc.double({min: 30, max: 60, noNaN: true}),
      fc.double({min: 500, max: 2000, noNaN: true}),
      fc.double({min: 4, max: 40, noNaN: true}),
      (sideMm, lengthMm, moisturePct) => {
        const {lowG, highG} = yardWeight({...of, sideMm, lengthMm, moisturePct});
        for (const [massG, end] of [
          [lowG, of.window.low],
          [highG, of.window.high]
        ] as const) {
          const square = {square: "A1", lot: "A", lengthMm, widthMm: sideMm, thicknessMm: sideMm, massG, moisturePct};
          expect(squareDensityAt12(square, "ash", settings)).toBeCloseTo(end, 6);
        }
      }
    )
  );
});

test("yardWeight's bands are as wide as the instruments are wrong: 1.96 standard uncertainties, none without error", () => {
  const exact = yardWeight({...of, accuracy: none});
  expect([exact.sureLowG, exact.maybeLowG]).toEqual([exact.lowG, exact.lowG]);
  // The scale alone, 10 g: 1.96 · 10 g on either side, whatever the density.
  const coarse = yardWeight({...of, accuracy: {...none, scaleG: 10}});
  expect(coarse.sureLowG! - coarse.lowG).toBeCloseTo(19.6, 2);
  expect(coarse.highG - coarse.sureHighG!).toBeCloseTo(19.6, 2);
  expect(coarse.lowG - coarse.maybeLowG).toBeCloseTo(19.6, 2);
  // A meter so bad that nothing is sure.
  const blind = yardWeight({...of, accuracy: {...none, meterPct: 15}});
  expect(blind.sureLowG).toBeUndefined();
  expect(blind.maybeLowG).toBeLessThan(blind.lowG);
});

test("yardWeight of damp wood is more, and refuses a window turned round", () => {
  expect(yardWeight({...of, moisturePct: 18}).lowG).toBeGreaterThan(yardWeight(of).lowG);
  expect(() => yardWeight({...of, window: {low: 700, high: 700}})).toThrow("yardWeight: window must be low below high");
});

test("usualSize(book, species) is the median of what was bought in the last two years, or of all", () => {
  const lots = ["A,2020-01-10,Quillmoor Sawpit,ash,1,10", "B,2025-01-10,Fennaby Yard,ash,3,10"];
  const squares = [
    "A1,A,1400,50,50,2500,12",
    "B1,B,1500,36,49,1680,12",
    "B2,B,1510,40,40,1680,12",
    "B3,B,1520,41,41,1680,12"
  ];
  const at = (day: string) => usualSize(histories(bookOf({lots, squares}), day), "ash");
  expect(at("2025-12-31")).toEqual({sideMm: 41, lengthMm: 1510}); // √(36 · 49) = 42, 40, 41
  expect(at("2024-12-31")).toEqual({sideMm: 50, lengthMm: 1400});
  expect(usualSize(histories(bookOf({lots, squares}), "2025-12-31"), "maple")).toBeUndefined();
});
