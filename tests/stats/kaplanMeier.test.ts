import fc from "fast-check";
import {expect, test} from "vitest";
import {eventTable} from "../../lib/stats/eventTable.ts";
import {allEvents, kaplanMeier, type SurvivalScale} from "../../lib/stats/kaplanMeier.ts";
import {shuffled, spells} from "./arbitrary.ts";

// By hand: 4 pieces; at 1 one of 4, at 2 one of 3 with a censoring at the same time, at 3 the last.
test("kaplanMeier of four pieces, worked by hand", () => {
  const rows = kaplanMeier([{exit: 1, cause: "a"}, {exit: 2, cause: "b"}, {exit: 2}, {exit: 3, cause: "a"}]);
  expect(rows.map((row) => row.survival)).toEqual([3 / 4, expect.closeTo(1 / 2, 12), 0]);
  expect(rows.map((row) => row.se)).toEqual([
    expect.closeTo((3 / 4) * Math.sqrt(1 / 12), 12),
    expect.closeTo((1 / 2) * Math.sqrt(1 / 12 + 1 / 6), 12),
    undefined
  ]);
  expect(rows[2]).toEqual({time: 3, atRisk: 1, events: 1, survival: 0});
});

test("kaplanMeier of pieces that all go on has no row", () => {
  expect(kaplanMeier([{exit: 3}, {exit: 5}])).toEqual([]);
  expect(kaplanMeier([])).toEqual([]);
});

test("kaplanMeier without censoring is the plain share still going on, with its binomial standard error", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({min: 0, max: 9}), {minLength: 1, maxLength: 30}), (exits) => {
      for (const row of kaplanMeier(exits.map((exit) => ({exit, cause: "any"})))) {
        const share = exits.filter((exit) => exit > row.time).length / exits.length;
        expect(row.survival).toBeCloseTo(share, 12);
        if (share > 0) expect(row.se).toBeCloseTo(Math.sqrt((share * (1 - share)) / exits.length), 12);
      }
    })
  );
});

const scales = fc.constantFrom<SurvivalScale>("log-log", "log", "logit", "plain");

test("kaplanMeier falls, does not depend on order, and its limits hold the curve and widen with the level", () => {
  fc.assert(
    fc.property(spells, fc.nat(), scales, (own, seed, limits) => {
      const [rows, wide] = [kaplanMeier(own, {level: 0.8, limits}), kaplanMeier(own, {level: 0.99, limits})];
      expect(kaplanMeier(shuffled(own, seed), {level: 0.8, limits})).toEqual(rows);
      rows.forEach((row, i) => {
        expect(row.survival).toBeLessThan(rows[i - 1]?.survival || 1);
        if (row.low === undefined) return;
        expect(wide[i]!.low!).toBeLessThanOrEqual(row.low);
        expect(row.low).toBeLessThanOrEqual(row.survival);
        expect(row.survival).toBeLessThanOrEqual(row.high!);
        expect(row.high!).toBeLessThanOrEqual(wide[i]!.high!);
        expect(wide[i]!.low!).toBeGreaterThanOrEqual(0);
        expect(wide[i]!.high!).toBeLessThanOrEqual(1);
      });
    })
  );
});

test("allEvents adds up the causes", () => {
  expect(
    allEvents(
      eventTable([
        {exit: 1, cause: "a"},
        {exit: 1, cause: "b"},
        {exit: 2, cause: "b"}
      ])
    )
  ).toEqual([2, 1]);
});

test("kaplanMeier refuses a level in percent", () => {
  expect(() => kaplanMeier([], {level: 95})).toThrow("kaplanMeier: level must be between 0 and 1, got 95.");
});
