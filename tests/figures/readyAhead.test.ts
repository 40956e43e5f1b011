import {expect, test} from "vitest";
import {readyAhead} from "../../lib/figures/readyAhead.ts";
import type {ReadyRow} from "../../lib/seasoning/readyToTurn.ts";
import {expectSound} from "./sound.ts";

const stages = ["square", "rough-round", "second-round", "proud-round"];
const row = (more: Partial<ReadyRow>): ReadyRow => ({
  square: "A1",
  lot: "L1",
  species: "ash",
  stage: "square",
  nextStage: "rough-round",
  restedDays: 70,
  restDays: 60,
  restLeftDays: 0,
  scaleG: 1,
  verdict: "not yet",
  reason: "",
  weigh: false,
  ...more
});
const rows = [
  row({verdict: "ready"}),
  row({verdict: "ready", stage: "proud-round"}),
  row({verdict: "never weighed", weigh: true, until: "2026-10-31"}),
  // The first week ends on 7 November, the second begins on the 8th; eight weeks end on 26 December.
  row({until: "2026-11-01"}),
  row({until: "2026-11-07", stage: "rough-round"}),
  row({until: "2026-11-08"}),
  row({until: "2026-12-26"}),
  row({until: "2026-12-27"}),
  row({})
];

test("readyAhead counts each piece once, by hand", () => {
  const figure = readyAhead(rows, {asOf: "2026-10-31", stages});
  const {wide} = expectSound(figure);
  expect(figure.title).toBe("2 pieces are ready, 1 to weigh today");
  expect(figure.table.rows.map(({when, pieces}) => [when, pieces])).toEqual([
    ["ready now", 2],
    ["to weigh today", 1],
    ["by 2026-11-07", 2],
    ["by 2026-11-14", 1],
    ...["2026-11-21", "2026-11-28", "2026-12-05", "2026-12-12", "2026-12-19"].map((day) => [`by ${day}`, 0]),
    ["by 2026-12-26", 1],
    ["later, or not known", 2]
  ]);
  expect(figure.table.rows[0]).toEqual({
    when: "ready now",
    square: 1,
    "rough-round": 0,
    "second-round": 0,
    "proud-round": 1,
    pieces: 2
  });
  expect(wide).toContain("later, or not known");
});

test("readyAhead of an empty rack draws and says so", () => {
  const figure = readyAhead([], {asOf: "2026-10-31", stages});
  expectSound(figure);
  expect(figure.title).toBe("Nothing is waiting to be turned");
});

test("readyAhead of more stages than there are colours has no key", () => {
  const many = ["square", "a", "b", "c", "d", "e"];
  const figure = readyAhead([row({verdict: "ready"})], {asOf: "2026-10-31", stages: many});
  expectSound(figure);
  expect(figure.key).toBeUndefined();
});
