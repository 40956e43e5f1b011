import {expect, test} from "vitest";
import {usableShare} from "../../lib/buying/usableShare.ts";

test("usableShare: of one lot whose share may be anything, each count is as likely", () => {
  // Beta-binomial(n, 1, 1) is uniform on 0 … n: the counts 0 to 39 have 40/1601 = 0.02498, so 40 is the first to reach 0.025.
  const {mean, low, high} = usableShare([{squares: 1600, alpha: 1, beta: 1}])!;
  expect(mean).toBeCloseTo(0.5, 12);
  expect(low).toBe(40 / 1600);
  expect(high).toBe(1560 / 1600);
});

/** The quantile of a list of chances, counted by hand. */
function quantileOf(chances: readonly number[], p: number): number {
  let total = 0;
  return chances.findIndex((chance) => {
    total += chance;
    return total >= p;
  });
}

test("usableShare: of two suppliers, near the whole distribution of the sum", () => {
  // Two uniform counts on 0 … 100 and 0 … 100: their sum by full enumeration.
  const sums = new Array<number>(201).fill(0);
  for (let a = 0; a <= 100; a++) for (let b = 0; b <= 100; b++) sums[a + b]! += 1 / 101 ** 2;
  const lot = {squares: 100, alpha: 1, beta: 1};
  const {mean, low, high} = usableShare([lot, lot])!;
  expect(mean).toBeCloseTo(0.5, 12);
  expect(Math.abs(low - quantileOf(sums, 0.025) / 200)).toBeLessThan(0.02);
  expect(Math.abs(high - quantileOf(sums, 0.975) / 200)).toBeLessThan(0.02);
});

test("usableShare: a mix has the mean of its squares", () => {
  const share = usableShare([
    {squares: 30, alpha: 40, beta: 60},
    {squares: 10, alpha: 80, beta: 20, windowShare: 0.5},
    {squares: 0, alpha: 1, beta: 1}
  ])!;
  expect(share.mean).toBeCloseTo(0.4, 12);
});

test("usableShare: lots that fail apart make it surer, a doubt that they share does not", () => {
  const width = (more: object) => {
    const {low, high} = usableShare([{squares: 400, alpha: 4, beta: 6, ...more}])!;
    return high - low;
  };
  // Variance of a lot's share: 0.24/11. One lot in 400 squares, or sixteen: the range is about a quarter as wide.
  expect(width({lotSize: 25}) / width({})).toBeCloseTo(0.27, 1);
  expect(width({lotSize: 25, doubt: 0.24 / 11})).toBe(width({}));
  expect(width({lotSize: 25, common: 0.2})).toBeGreaterThan(width({lotSize: 25}));
});

test("usableShare: nothing of nothing; half a square is refused", () => {
  expect(usableShare([])).toBeUndefined();
  expect(usableShare([{squares: 0, alpha: 1, beta: 1}])).toBeUndefined();
  expect(() => usableShare([{squares: 0.5, alpha: 1, beta: 1}])).toThrow("usableShare: squares must be a count");
});
