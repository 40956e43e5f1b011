import {expect, test} from "vitest";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {holm} from "../../lib/stats/holm.ts";
import {spreadSampleSize} from "../../lib/stats/spreadPower.ts";
import {frozen, makePiece} from "../pieces.ts";

const lots = (supplier: string, count: number, half: number) =>
  Array.from({length: count}, (_, i) =>
    [700 - half, 700, 700 + half].map((density) => makePiece({supplier, lot: `${supplier} ${i}`, density}))
  ).flat();

// Every lot is 700 ± 10 or 700 ± 20, so the ratio of deviations is 1/2 whichever lots are left out of both. Leaving out a lot of three from 18
// changes ln SD alone by ½ ln((10/9)²·…): SD² = 12·100/17 with all six, 10·100/14 without one, so ln SD moves by ½ ln(17·10/(14·12)) = 0.0059178;
// v = 5/6 · 6 · that² for each of two, t of 10 degrees of freedom 2.228139 (printed table): the limits are exp(ln ½ ∓ 2.228139·√(2v)).
test("compareSpread(six lots ± 10, six lots ± 20) is 0.5 and calls the first tighter", () => {
  const pieces = frozen([...lots("Elm End Yard", 6, 20), ...lots("Low Fold Sawmill", 6, 10)]);
  const [row] = compareSpread({pieces});
  expect(row).toMatchObject({species: "ash", suppliers: 2, squares: 36, df1: 1, df2: 34});
  expect(row!.p).toBeLessThan(0.05);
  const [pair] = row!.pairs;
  expect(pair).toMatchObject({tighter: "Low Fold Sawmill", wider: "Elm End Yard", verdict: "tighter"});
  expect(pair!.ratio).toBeCloseTo(0.5, 12);
  const half = 2.228138852 * Math.sqrt(2 * 5 * (Math.log(170 / 168) / 2) ** 2);
  expect(pair!.ratioLow!).toBeCloseTo(0.5 * Math.exp(-half), 8);
  expect(pair!.ratioHigh!).toBeCloseTo(0.5 * Math.exp(half), 8);
  // Far beyond chance; a ratio of 1/2 is told apart with few squares: F(n − 1, n − 1) at 4 times the variance, see spreadSampleSize.
  expect(pair!.chance).toBeLessThan(1e-6);
  expect(pair!.squaresToTell).toBe(spreadSampleSize({ratio: 0.5}));
});

test("compareSpread adjusts the chances for the pairs of a species by Holm's rule", () => {
  const three = [...lots("A", 6, 10), ...lots("B", 6, 11), ...lots("C", 6, 12)].map((piece, i) => ({
    ...piece,
    densityAt12KgM3: piece.densityAt12KgM3 + ((i * 7) % 5) - 2
  }));
  const pairs = compareSpread({pieces: three})[0]!.pairs;
  const alone = pairs.map(({tighter, wider}) => {
    const two = three.filter(({supplier}) => supplier === tighter || supplier === wider);
    return compareSpread({pieces: two})[0]!.pairs[0]!.chance!;
  });
  holm(alone).forEach((chance, i) => {
    expect(pairs[i]!.chance).toBeCloseTo(chance, 12);
  });
  expect(pairs.some(({chance}, i) => chance! > alone[i]!)).toBe(true);
});

test("compareSpread(three lots, six lots) cannot tell; one supplier has no pair; no pieces no rows", () => {
  const few = lots("Low Fold Sawmill", 3, 10);
  const [row] = compareSpread({pieces: [...few, ...lots("Elm End Yard", 6, 20)]});
  expect(row!.pairs[0]!.verdict).toBe("cannot tell");
  expect(row!.pairs[0]).not.toHaveProperty("ratioLow");
  expect(compareSpread({pieces: few})[0]).toEqual({species: "ash", suppliers: 1, squares: 9, pairs: []});
  expect(compareSpread({pieces: []})).toEqual([]);
});
