import {expect, test} from "vitest";
import {compareSpread} from "../../lib/density/compareSpread.ts";
import {holm} from "../../lib/stats/holm.ts";
import {spreadSampleSize} from "../../lib/stats/spreadPower.ts";
import {frozen, makePiece} from "../pieces.ts";
import {now} from "../recovery/sample.ts";

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

const madeOf = (halves: Record<string, number[]>) =>
  Object.entries(halves).flatMap(([supplier, own]) =>
    own.flatMap((half, i) =>
      [700 - half, 700, 700 + half].map((density) => makePiece({supplier, lot: `${supplier} ${i}`, density}))
    )
  );
const unlike = {
  A: [8, 10, 12, 9, 11],
  B: [10, 12, 15, 11, 13, 9],
  C: [30, 35, 28, 40, 33],
  D: [12, 14, 13, 12]
};

// NumPy for the jackknife and SciPy 1.17.1 (stats.t, stats.nct) for the rest, written apart from this library; run once. Of A and B alone: chance
// 0.1851, 17 lots more of each with a power of 0.8078, 16 with 0.7891. Of all four three pairs are told and three not, which are held to 0.05/3.
test("compareSpread gives the lots still to buy of each, at Holm's level, as SciPy has them", () => {
  const {A, B} = unlike;
  expect(compareSpread({pieces: madeOf({A, B})})[0]!.pairs[0]).toMatchObject({verdict: "cannot tell", moreLots: 17});
  expect(compareSpread({pieces: madeOf({A, B})})[0]!.pairs[0]!.chance).toBeCloseTo(0.18509928133, 9);
  const found = compareSpread({pieces: madeOf(unlike)})[0]!.pairs.map(({tighter, wider, moreLots}) => [
    tighter + wider,
    moreLots
  ]);
  expect(Object.fromEntries(found)).toEqual({AB: 25, AD: 4, BD: 53, AC: undefined, BC: undefined, DC: undefined});
});

test("compareSpread never says that nothing is to buy where it cannot tell, and nothing of fewer than four lots", () => {
  for (const row of compareSpread(now))
    for (const {verdict, ratioLow, moreLots} of row.pairs) {
      if (verdict === "tighter" || ratioLow === undefined) expect(moreLots).toBeUndefined();
      else expect(moreLots!).toBeGreaterThanOrEqual(1);
    }
  const pieces = madeOf({A: unlike.A.slice(0, 3), B: unlike.B});
  expect(compareSpread({pieces})[0]!.pairs[0]).not.toHaveProperty("moreLots");
});

// The chance of the F test by adding up the density of ln F, e^(au)/(1 + e^u)^(2a) with a half the degrees of freedom: no library in it.
// SciPy 1.17.1 (stats.f) has 0.79848 for 159 and 0.80097 for 160 squares of each.
test("spreadSampleSize({ratio: 0.8}) is the 160 documented, by adding up the density of ln F", () => {
  const step = 2e-4;
  const power = (n: number) => {
    const a = (n - 1) / 2;
    const height = (u: number) => Math.exp(a * u - 2 * a * Math.log1p(Math.exp(u)) + 2 * a * Math.LN2);
    // From 0 up, as ln F lies alike on both sides: half of all by u = 0.
    const sums = [0];
    for (let i = 1; i <= 10_000; i++) sums.push(sums[i - 1]! + height((i - 0.5) * step));
    const above = (u: number): number => {
      if (u < 0) return 1 - above(-u);
      const at = Math.floor(u / step);
      const part = sums[at]! + (u / step - at) * (sums[at + 1]! - sums[at]!);
      return 0.5 * (1 - part / sums.at(-1)!);
    };
    let [low, high] = [0, 1.9];
    for (let i = 0; i < 50; i++) {
      const middle = (low + high) / 2;
      if (above(middle) > 0.025) low = middle;
      else high = middle;
    }
    const shift = -2 * Math.log(0.8);
    return above(high - shift) + above(high + shift);
  };
  expect(power(159)).toBeCloseTo(0.79848, 5);
  expect(power(160)).toBeCloseTo(0.80097, 5);
  expect(spreadSampleSize({ratio: 0.8})).toBe(160);
  // And through compareSpread: six lots ± 8 against ± 10.
  const pieces = [...lots("Elm End Yard", 6, 10), ...lots("Low Fold Sawmill", 6, 8)];
  expect(compareSpread({pieces})[0]!.pairs[0]!.squaresToTell).toBe(160);
});

test("compareSpread(three lots, six lots) cannot tell; one supplier has no pair; no pieces no rows", () => {
  const few = lots("Low Fold Sawmill", 3, 10);
  const [row] = compareSpread({pieces: [...few, ...lots("Elm End Yard", 6, 20)]});
  expect(row!.pairs[0]!.verdict).toBe("cannot tell");
  expect(row!.pairs[0]).not.toHaveProperty("ratioLow");
  expect(compareSpread({pieces: few})[0]).toEqual({species: "ash", suppliers: 1, squares: 9, pairs: []});
  expect(compareSpread({pieces: []})).toEqual([]);
});
