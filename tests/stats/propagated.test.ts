import {expect, test} from "vitest";
import {propagated} from "../../lib/stats/propagated.ts";

// By hand, the rule of products: u²/y² = (0.1/10)² + (0.2/5)² = 0.0017, y = 50, so u = 50 · 0.0412311 = 2.061553. A product is straight in each factor.
test("propagated of a product is the rule of products", () => {
  const product = ([a, b]: readonly number[]) => a! * b!;
  const [a, b] = [
    {value: 10, u: 0.1},
    {value: 5, u: 0.2}
  ];
  expect(propagated(product, [a, b])).toBeCloseTo(2.061553, 6);
  expect(propagated(product, [{...a, u: 0}, b])).toBeCloseTo(2, 9);
  expect(propagated(product, [])).toBe(0);
});

// By hand: x⁴ at 10 ± 0.1 by the halved difference, (10.1⁴ − 9.9⁴)/2 = 400.04; first order 4 · 10³ · 0.1 = 400.
test("propagated takes the halved difference", () => {
  expect(propagated(([x]) => x! ** 4, [{value: 10, u: 0.1}])).toBeCloseTo(400.04, 6);
});

test("propagated refuses a negative uncertainty", () => {
  expect(() => propagated(([x]) => x!, [{value: 1, u: -1}])).toThrow("propagated: u must be 0 or more, got -1.");
});
