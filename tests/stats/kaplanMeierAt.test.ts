import fc from "fast-check";
import {expect, test} from "vitest";
import {kaplanMeierAt} from "../../lib/stats/kaplanMeierAt.ts";
import {shuffled, spells} from "./arbitrary.ts";

test("kaplanMeierAt steps at the event, not before, and ends with what was seen", () => {
  const own = [{exit: 2, cause: "warp"}, {exit: 5}];
  expect(kaplanMeierAt(own, [0, 1.9, 2, 5, 5.1])).toEqual([1, 1, 0.5, 0.5, undefined]);
});

test("kaplanMeierAt stays at 0 once all had their event", () => {
  expect(kaplanMeierAt([{exit: 2, cause: "warp"}], [1, 2, 99])).toEqual([1, 0, 0]);
});

test("kaplanMeierAt of nothing knows only the start", () => {
  expect(kaplanMeierAt([], [0, 1])).toEqual([1, undefined]);
});

test("kaplanMeierAt does not depend on the order of spells", () => {
  fc.assert(
    fc.property(spells, fc.nat(), (own, seed) => {
      expect(kaplanMeierAt(shuffled(own, seed), [0, 3, 5.5, 20])).toEqual(kaplanMeierAt(own, [0, 3, 5.5, 20]));
    })
  );
});
