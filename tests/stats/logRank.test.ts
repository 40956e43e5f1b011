import fc from "fast-check";
import {expect, test} from "vitest";
import {logRank} from "../../lib/stats/logRank.ts";
import {shuffled, spells} from "./arbitrary.ts";

// By hand: a at 1 of {a, b} and b at 2 of {b}. E_a = 1/2, V = 1/4; at 2 one piece is left and nothing can differ.
test("logRank of two pieces, worked by hand", () => {
  const got = logRank([[{exit: 1, cause: "warp"}], [{exit: 2, cause: "warp"}]])!;
  expect(got.observed).toEqual([1, 1]);
  expect(got.expected).toEqual([0.5, 1.5]);
  expect(got.chiSquare).toBeCloseTo(1, 12);
  expect(got.df).toBe(1);
});

// Published: none; R only. R 4.2.2, survival 3.5-3: survdiff(Surv(time, status) ~ g) with three groups.
test("logRank of three groups agrees with R", () => {
  const groups = [
    [{exit: 3, cause: "e"}, {exit: 5, cause: "e"}, {exit: 7}, {exit: 9, cause: "e"}, {exit: 12, cause: "e"}],
    [{exit: 2, cause: "e"}, {exit: 4, cause: "e"}, {exit: 5, cause: "e"}, {exit: 8}, {exit: 9, cause: "e"}],
    [{exit: 6}, {exit: 9, cause: "e"}, {exit: 11}, {exit: 14, cause: "e"}, {exit: 15, cause: "e"}]
  ];
  const got = logRank(groups)!;
  expect(got.chiSquare).toBeCloseTo(6.75041316421703, 9);
  expect(got.df).toBe(2);
  expect(got.p).toBeCloseTo(0.0342110501907346, 9);
});

test("logRank: observed and expected add up to the same, and order does not matter", () => {
  fc.assert(
    fc.property(spells, spells, fc.nat(), (a, b, seed) => {
      const got = logRank([a, b]);
      const again = logRank([shuffled(a, seed), b]);
      expect(again === undefined).toBe(got === undefined);
      if (!got || !again) return;
      expect(again.chiSquare).toBeCloseTo(got.chiSquare, 8);
      expect(got.expected[0]! + got.expected[1]!).toBeCloseTo(got.observed[0]! + got.observed[1]!, 9);
    })
  );
});

test("logRank has no answer for one group, for groups without events and for groups never at risk together", () => {
  expect(logRank([[{exit: 1, cause: "warp"}]])).toBeUndefined();
  expect(logRank([[{exit: 1}], [{exit: 2}]])).toBeUndefined();
  expect(logRank([[{exit: 1, cause: "warp"}], [{entry: 2, exit: 3, cause: "warp"}]])).toBeUndefined();
});
