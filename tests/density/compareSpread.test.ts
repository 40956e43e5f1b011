import {expect, test} from "vitest";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {frozen, makePiece} from "../pieces.ts";

const sampling = () => ({random: randomStream(1), resamples: 99});
const lots = (supplier: string, count: number, half: number) =>
  Array.from({length: count}, (_, i) =>
    [700 - half, 700, 700 + half].map((density) => makePiece({supplier, lot: `${supplier} ${i}`, density}))
  ).flat();

// Every lot is 700 ± 10 or 700 ± 20, so the ratio of deviations is 1/2 up to the divisor (n − 1), in every resample.
test("compareSpread(six lots ± 10, six lots ± 20) is 0.5 and calls the first tighter", () => {
  const pieces = frozen([...lots("Elm End Yard", 6, 20), ...lots("Low Fold Sawmill", 6, 10)]);
  const [row] = compareSpread({pieces}, sampling());
  expect(row).toMatchObject({species: "ash", suppliers: 2, squares: 36, df1: 1, df2: 34});
  expect(row!.p).toBeLessThan(0.05);
  const [pair] = row!.pairs;
  expect(pair).toMatchObject({tighter: "Low Fold Sawmill", wider: "Elm End Yard", verdict: "tighter"});
  for (const value of [pair!.ratio, pair!.ratioLow!, pair!.ratioHigh!]) expect(value).toBeCloseTo(0.5, 10);
});

test("compareSpread(five lots, six lots) cannot tell; one supplier has no pair; no pieces no rows", () => {
  const few = lots("Low Fold Sawmill", 5, 10);
  const [row] = compareSpread({pieces: [...few, ...lots("Elm End Yard", 6, 20)]}, sampling());
  expect(row!.pairs[0]!.verdict).toBe("cannot tell");
  expect(row!.pairs[0]).not.toHaveProperty("ratioLow");
  expect(compareSpread({pieces: few}, sampling())[0]).toEqual({species: "ash", suppliers: 1, squares: 15, pairs: []});
  expect(compareSpread({pieces: []}, sampling())).toEqual([]);
});
