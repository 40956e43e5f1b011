import fc from "fast-check";
import {expect, test} from "vitest";
import {checkSpell, eventTable, firstAfter, riskSets} from "../../lib/stats/eventTable.ts";
import {frozen, shuffled, spells} from "./arbitrary.ts";

// By hand: every kind of tie. At 2 two causes and a censoring at once, one piece entering just then; at 5 the last.
const six = frozen([
  {exit: 2, cause: "warp"},
  {exit: 2, cause: "knot"},
  {exit: 2},
  {entry: 2, exit: 5, cause: "warp"},
  {entry: 1, exit: 4},
  {exit: 0, cause: "knot"}
]);

test("eventTable counts who is at risk: entry < t ≤ exit, from the start without entry", () => {
  expect(eventTable(six)).toEqual({
    times: [0, 2, 5],
    atRisk: [4, 4, 1],
    causes: ["knot", "warp"],
    events: {knot: [1, 1, 0], warp: [0, 1, 1]},
    lastObserved: 5
  });
});

test("eventTable without spells, or without an event, is empty", () => {
  expect(eventTable([])).toEqual({times: [], atRisk: [], causes: [], events: {}, lastObserved: 0});
  expect(eventTable([{exit: 9}])).toEqual({times: [], atRisk: [], causes: [], events: {}, lastObserved: 9});
});

test("eventTable holds a cause with any name", () => {
  expect(eventTable([{exit: 1, cause: "__proto__"}]).causes).toEqual(["__proto__"]);
  expect(Object.entries(eventTable([{exit: 1, cause: "__proto__"}]).events)).toEqual([["__proto__", [1]]]);
});

test("eventTable does not depend on order, and counts as one would by looking", () => {
  fc.assert(
    fc.property(spells, fc.nat(), (own, seed) => {
      const table = eventTable(own);
      expect(eventTable(shuffled(own, seed))).toEqual(table);
      table.times.forEach((time, row) => {
        const atRisk = own.filter(({entry = 0, exit}) => (entry === 0 || entry < time) && time <= exit);
        expect(table.atRisk[row]).toBe(atRisk.length);
        for (const cause of table.causes) {
          expect(table.events[cause]![row]).toBe(own.filter((s) => s.exit === time && s.cause === cause).length);
        }
      });
    })
  );
});

test("riskSets counts at any ascending times", () => {
  expect(riskSets(six, [0, 1, 1.5, 2, 3, 4.5])).toEqual([4, 3, 4, 4, 2, 1]);
});

test("firstAfter finds the first time beyond", () => {
  expect([0, 1, 2, 3, 9].map((time) => firstAfter([1, 2, 5], time))).toEqual([0, 1, 2, 2, 3]);
});

test("checkSpell refuses what cannot be", () => {
  expect(() => checkSpell({entry: 5, exit: 5}, "here")).toThrow("here: exit must be after the entry (5), got 5.");
  expect(() => checkSpell({exit: -1}, "here")).toThrow("here: exit must be a time of 0 or more, got -1.");
  expect(() => checkSpell({exit: Number.NaN}, "here")).toThrow("here: exit must be a time of 0 or more, got NaN.");
  expect(() => checkSpell({entry: -2, exit: 1}, "here")).toThrow("here: entry must be a time of 0 or more, got -2.");
  expect(() => checkSpell({entry: 0, exit: 0}, "here")).not.toThrow();
});
