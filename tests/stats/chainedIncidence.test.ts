import fc from "fast-check";
import {expect, test} from "vitest";
import {chainedIncidence} from "../../lib/stats/chainedIncidence.ts";
import type {Spell} from "../../lib/stats/eventTable.ts";

const spell = (exit: number, cause?: string): Spell => ({exit, ...(cause !== undefined && {cause})});

// By hand: of four pieces at the first stage one is out at 5 (knot), two pass at 10, one is there still at 12: passed 2/3 of 3/4 = 1/2 and so
// undecided 1/4. At the second one of two passes, one is out (warp).
test("chainedIncidence of two stages, worked by hand", () => {
  const got = chainedIncidence(
    [
      [[spell(5, "knot"), spell(10, "passed"), spell(10, "passed"), spell(12)]],
      [[spell(3, "warp"), spell(8, "passed")]]
    ],
    "passed"
  )([1]);
  expect(got.passed).toBeCloseTo(0.25, 12);
  expect(got.passedAtMost).toBeCloseTo(0.375, 12);
  expect(got.ended.knot).toBeCloseTo(0.25, 12);
  expect(got.ended.warp).toBeCloseTo(0.25, 12);
  expect(got.undecided).toBeCloseTo(0.25, 12);
});

test("chainedIncidence with a stage that has decided nothing has no passed share; what reaches it is undecided", () => {
  const got = chainedIncidence([[[spell(5, "passed"), spell(6, "knot")]], [[spell(4)]]], "passed")([1]);
  expect(got.passed).toBeUndefined();
  expect(got.ended).toEqual({knot: 0.5});
  expect(got.undecided).toBe(0.5);
});

test("chainedIncidence of no stages passes all", () => {
  expect(chainedIncidence([], "passed")([])).toEqual({
    stages: [],
    passed: 1,
    passedAtMost: 1,
    ended: {},
    undecided: 0
  });
});

const anySpells = fc.array(
  fc
    .record({exit: fc.integer({min: 0, max: 30}), cause: fc.constantFrom("passed", "knot", "warp", undefined)})
    .map(({exit, cause}) => spell(exit, cause)),
  {maxLength: 8}
);
const anyStages = fc
  .tuple(fc.integer({min: 1, max: 4}), fc.integer({min: 1, max: 5}))
  .chain(([stages, lots]) =>
    fc.array(fc.array(anySpells, {minLength: lots, maxLength: lots}), {minLength: stages, maxLength: stages})
  );

test("chainedIncidence: passed, ended and undecided add up to 1, in whatever order lots and spells come", () => {
  fc.assert(
    fc.property(anyStages, (stages) => {
      const weights = stages[0]!.map(() => 1);
      const got = chainedIncidence(stages, "passed")(weights);
      const ended = Object.values(got.ended).reduce((a, b) => a + b, 0);
      expect((got.passed ?? 0) + ended + got.undecided).toBeCloseTo(1, 10);
      if (got.passed !== undefined) expect(got.passedAtMost!).toBeGreaterThanOrEqual(got.passed - 1e-12);
      const turned = stages.map((stage) => stage.map((lot) => lot.toReversed()).toReversed());
      expect(chainedIncidence(turned, "passed")(weights).undecided).toBeCloseTo(got.undecided, 10);
    })
  );
});

test("chainedIncidence of pieces that are all decided is counting", () => {
  const first = [[spell(4, "passed"), spell(9, "passed"), spell(2, "knot"), spell(7, "knot"), spell(7, "passed")]];
  const second = [[spell(1, "warp"), spell(8, "passed"), spell(5, "passed")]];
  const got = chainedIncidence([first, second], "passed")([1]);
  expect(got.passed).toBeCloseTo(2 / 5, 12);
  expect(got.ended.knot).toBeCloseTo(2 / 5, 12);
  expect(got.ended.warp).toBeCloseTo(1 / 5, 12);
});

test("chainedIncidence refuses stages with unlike numbers of lots", () => {
  expect(() => chainedIncidence([[[spell(1)]], [[], []]], "passed")).toThrow(
    new RangeError("chainedIncidence: stages must be 1 clusters at each, got 2.")
  );
});
