import {expect, test} from "vitest";
import {densityBySupplier, lotSums, sdOfSums, weightedSums} from "../../lib/density/densityBySupplier.ts";
import {wilson} from "../../lib/stats/wilson.ts";
import {frozen, makePiece, settings} from "../pieces.ts";

const piece = (density: number, lot = "A", supplier = "Low Fold Sawmill") => makePiece({density, lot, supplier});

// By hand: 630, 650, 700, 740, 780 against 640…740: mean 700, SD √(4900 + 2500 + 0 + 1600 + 6400)/4) = √3850.
test("densityBySupplier(five squares of one lot), worked by hand", () => {
  const pieces = frozen([780, 630, 740, 650, 700].map((density) => piece(density)));
  const [row] = densityBySupplier({settings, pieces});
  expect(row).toMatchObject({squares: 5, lots: 1, meanKgM3: 700, insideFraction: 0.6, tooLightFraction: 0.2});
  expect(row).toMatchObject({tooHeavyFraction: 0.2, lowestKgM3: 630, quarterKgM3: 650, medianKgM3: 700});
  expect(row).toMatchObject({threeQuarterKgM3: 740, highestKgM3: 780});
  expect(row!.sdKgM3).toBeCloseTo(Math.sqrt(3850), 10);
  expect(row!.variationFraction).toBeCloseTo(Math.sqrt(3850) / 700, 12);
  expect(row).not.toHaveProperty("meanLow");
  expect(row!.insideLow!).toBeLessThan(0.6);
  expect(row!.insideHigh!).toBeGreaterThan(0.6);
});

test("densityBySupplier(six like lots) has an interval of no width for the mean, Wilson's for the share; tightest first", () => {
  const lots = ["A", "B", "C", "D", "E", "F"];
  const wide = lots.flatMap((lot) => [600, 700, 800].map((density) => piece(density, `W${lot}`, "Elm End Yard")));
  const tight = lots.flatMap((lot) => [690, 700, 710].map((density) => piece(density, lot)));
  const [first, second] = densityBySupplier({settings, pieces: [...wide, ...tight]});
  expect([first!.supplier, second!.supplier]).toEqual(["Low Fold Sawmill", "Elm End Yard"]);
  expect(first).toMatchObject({meanKgM3: 700, meanLow: 700, meanHigh: 700, insideHigh: 1});
  expect(first!.insideLow).toBeCloseTo(18 / (18 + 1.959964 ** 2), 6); // n/(n + z²) of 18 of 18
  const {low, high} = wilson(6, 18)!;
  expect(second!.insideLow).toBeCloseTo(low, 12);
  expect(second!.insideHigh).toBeCloseTo(high, 12);
  // One square of three too light and one too heavy in each lot: the same interval as for the one inside; none of fewer than four lots.
  for (const end of ["tooLight", "tooHeavy"] as const) {
    expect(second![`${end}Low`]).toBeCloseTo(low, 12);
    expect(second![`${end}High`]).toBeCloseTo(high, 12);
    expect(first![`${end}High`]).toBeCloseTo(1 - 18 / (18 + 1.959964 ** 2), 6);
  }
  const [three] = densityBySupplier({settings, pieces: wide.slice(0, 9)});
  expect(three).not.toHaveProperty("tooLightLow");
  expect(three).not.toHaveProperty("tooHeavyHigh");
});

test("densityBySupplier(one square) has no deviation; without pieces it has no rows", () => {
  const [row] = densityBySupplier({settings, pieces: [piece(700)]});
  expect(row).not.toHaveProperty("sdKgM3");
  expect(densityBySupplier({settings, pieces: []})).toEqual([]);
});

test("sdOfSums(weightedSums(lots, [2, 0])) is the deviation of the first lot counted twice", () => {
  const sums = weightedSums([lotSums([690, 710]), lotSums([1, 2, 3])], [2, 0]);
  expect(sdOfSums(sums)).toBeCloseTo(Math.sqrt(400 / 3), 10);
  expect(sdOfSums(lotSums([700]))).toBeUndefined();
});
