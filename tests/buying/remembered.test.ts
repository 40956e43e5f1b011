import {expect, test, vi} from "vitest";
import {remembered, rememberedUpTo} from "../../lib/buying/remembered.ts";

test.each([
  ["remembered", remembered<number, number>],
  ["rememberedUpTo", (f: (k: number) => number) => rememberedUpTo(3, f)]
])("%s gives what the function gives, and asks it once for each number", (_, keeping) => {
  const f = vi.fn((k: number) => 10 * k);
  const g = keeping(f);
  expect([0, 3, 1, 3, 0, 1].map(g)).toEqual([0, 30, 10, 30, 0, 10]);
  expect(f.mock.calls.flat()).toEqual([0, 3, 1]);
});
