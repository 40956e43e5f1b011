import fc from "fast-check";
import {expect, test} from "vitest";
import {kaplanMeier} from "../../lib/stats/kaplanMeier.ts";
import {nelsonAalen} from "../../lib/stats/nelsonAalen.ts";
import {shuffled, spells} from "./arbitrary.ts";

// By hand: at 1 one of four, at 2 one of three with a censoring at the same time, at 3 the last.
test("nelsonAalen of four pieces, worked by hand", () => {
  const rows = nelsonAalen([{exit: 1, cause: "a"}, {exit: 2, cause: "b"}, {exit: 2}, {exit: 3, cause: "a"}]);
  expect(rows).toEqual([
    {time: 1, cumulativeHazard: 1 / 4},
    {time: 2, cumulativeHazard: expect.closeTo(1 / 4 + 1 / 3, 12)},
    {time: 3, cumulativeHazard: expect.closeTo(1 / 4 + 1 / 3 + 1, 12)}
  ]);
});

test("nelsonAalen of pieces that all go on has no row", () => {
  expect(nelsonAalen([{exit: 3}])).toEqual([]);
});

test("nelsonAalen rises, does not depend on order, and e^−H is never below kaplanMeier", () => {
  fc.assert(
    fc.property(spells, fc.nat(), (own, seed) => {
      const rows = nelsonAalen(own);
      expect(nelsonAalen(shuffled(own, seed))).toEqual(rows);
      const curve = kaplanMeier(own);
      expect(rows.map((row) => row.time)).toEqual(curve.map((row) => row.time));
      rows.forEach(({cumulativeHazard}, i) => {
        expect(cumulativeHazard).toBeGreaterThan(rows[i - 1]?.cumulativeHazard ?? 0);
        expect(Math.exp(-cumulativeHazard)).toBeGreaterThanOrEqual(curve[i]!.survival - 1e-12);
      });
    })
  );
});
