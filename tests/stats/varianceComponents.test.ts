import fc from "fast-check";
import {expect, test} from "vitest";
import {checkGroups, squaresBetween, squaresWithin, varianceComponents} from "../../lib/stats/varianceComponents.ts";
import {shuffled, values} from "./arbitrary.ts";

// By hand: means 2 and 6 around 4: between 4 + 4 on each of two values = 16 on 1, within 4 on 2: 2; n0 = 2: (16 −
// 2)/2 = 7.
test("varianceComponents([[1, 3], [5, 7]]), worked by hand", () => {
  expect(
    varianceComponents([
      [1, 3],
      [5, 7]
    ])
  ).toEqual({between: 7, within: 2, betweenNegative: false});
});

test("varianceComponents of alike groups is 0 between, and says that it was below", () => {
  expect(
    varianceComponents([
      [1, 3],
      [3, 1]
    ])
  ).toEqual({between: 0, within: 2, betweenNegative: true});
});

test("varianceComponents does not depend on order or place, and goes with the square of the unit", () => {
  fc.assert(
    fc.property(values, values, values, fc.nat(), (a, b, c, seed) => {
      const got = varianceComponents([a, b, c])!;
      const moved = varianceComponents(
        shuffled([shuffled(c, seed), b, a], seed).map((own) => own.map((x) => x + 300))
      )!;
      const scaled = varianceComponents([a, b, c].map((own) => own.map((x) => 10 * x)))!;
      const near = (x: number, y: number) =>
        expect(Math.abs(x - y)).toBeLessThanOrEqual(1e-7 * (got.between + got.within) + 1e-9);
      near(moved.between, got.between);
      near(moved.within, got.within);
      near(scaled.between / 100, got.between);
      near(scaled.within / 100, got.within);
    })
  );
});

test("squaresWithin and squaresBetween add up to all squares", () => {
  fc.assert(
    fc.property(values, values, (a, b) => {
      const all = squaresWithin([[...a, ...b]]);
      expect(squaresWithin([a, b]) + squaresBetween([a, b])).toBeCloseTo(all, 4);
    })
  );
});

test("varianceComponents has no answer for one group or groups of one", () => {
  expect(varianceComponents([[1, 2, 3]])).toBeUndefined();
  expect(varianceComponents([[1], [2]])).toBeUndefined();
  expect(varianceComponents([])).toBeUndefined();
});

test("checkGroups refuses an empty group and NaN", () => {
  expect(() => checkGroups([[1], []], "here")).toThrow("here: groups must be of at least one value, got 0.");
  expect(() => varianceComponents([[1, Number.NaN]])).toThrow(
    "varianceComponents: groups must be finite numbers, got NaN."
  );
});
