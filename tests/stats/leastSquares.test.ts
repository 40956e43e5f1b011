import {expect, test} from "vitest";
import {leastSquares} from "../../lib/stats/leastSquares.ts";

// By hand: of (1, 1), (2, 2), (3, 2) the means are 2 and 5/3, Sxy = 1, Sxx = 2: slope 1/2, intercept 5/3 − 1.
test("leastSquares by hand: a line through three points", () => {
  const [intercept, slope] = leastSquares(
    [
      [1, 1],
      [1, 2],
      [1, 3]
    ],
    [1, 2, 2]
  );
  expect(intercept).toBeCloseTo(2 / 3, 12);
  expect(slope).toBeCloseTo(1 / 2, 12);
});

test("leastSquares: what is left over is at right angles to every column", () => {
  const design = Array.from({length: 30}, (_, i) => [1, Math.cos(i / 5), Math.sin(i / 5), i ** 2 / 100]);
  const values = design.map((_, i) => Math.sqrt(i) + (i % 3));
  const b = leastSquares(design, values);
  const left = values.map((y, i) => y - design[i]!.reduce((all, x, j) => all + x * b[j]!, 0));
  for (const column of [0, 1, 2, 3])
    expect(left.reduce((all, one, i) => all + one * design[i]![column]!, 0)).toBeCloseTo(0, 9);
});

test("leastSquares refuses rows and values that do not belong together, and fewer rows than columns", () => {
  expect(() => leastSquares([[1], [1]], [1])).toThrow("leastSquares: design must be 1 rows, got 2");
  expect(() => leastSquares([[1, 2]], [1])).toThrow("at least as many rows as columns");
  expect(() => leastSquares([], [])).toThrow(RangeError);
});
