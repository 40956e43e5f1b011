import {expect, test} from "vitest";
import {root} from "../../lib/stats/root.ts";

test("root finds √2 and π to the last digits, whichever end is positive", () => {
  expect(root((x) => x ** 2 - 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
  expect(root((x) => 2 - x ** 2, 0, 2)).toBeCloseTo(Math.SQRT2, 15);
  expect(root(Math.sin, 3, 4)).toBeCloseTo(Math.PI, 15);
});

test("root finds a zero at an end", () => {
  expect(root((x) => x, 0, 1)).toBe(0);
  expect(root((x) => x - 1, 0, 1)).toBe(1);
});

test("root copes with flat and with steep functions", () => {
  expect(root((x) => (x - 0.3) ** 9, 0, 1)).toBeCloseTo(0.3, 6);
  expect(root((x) => Math.exp(50 * x) - 1e10, 0, 1)).toBeCloseTo(Math.log(1e10) / 50, 13);
  expect(root((x) => (x < 0.7 ? -1 : 1), 0, 1)).toBeCloseTo(0.7, 13);
});

test("root needs few calls: about as many as digits, not as bits", () => {
  let calls = 0;
  root(
    (x) => {
      calls++;
      return Math.cos(x) - x;
    },
    0,
    1
  );
  expect(calls).toBeLessThan(20);
});

test("root refuses two ends of one sign", () => {
  expect(() => root((x) => x + 1, 0, 1)).toThrow("root: f(low) must be of other sign than f(high) = 2, got 1.");
});
