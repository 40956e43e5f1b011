import fc from "fast-check";
import {expect, test} from "vitest";
import {finishChance, finishChances} from "../../lib/yield/finishChance.ts";
import {anyPieces, frozen, lastMadeDay, makePiece, settings} from "../pieces.ts";

const at = (asOf: number) => ({settings, asOf});

// Ten squares, all decided: two thrown out at day 10 of the first rest, one at day 90 of the first, seven finish at 60, 90, 120, 150.
const examples = [
  ...[1, 2].map(() => makePiece({discarded: 10})),
  makePiece({discarded: 90}),
  ...Array.from({length: 7}, () => makePiece({turned: [60, 90, 120, 150]}))
];

// By hand: fresh 7/10; past day 10 two of the three failures are behind it: 7/8; past 60 nobody passes any more: 0.
test("finishChance(book, examples)(square) grows as it outlives its early faults", () => {
  const chance = finishChance(at(200), examples);
  expect(chance(makePiece({boughtOn: 200}))).toBeCloseTo(0.7, 12);
  expect(chance(makePiece({boughtOn: 180}))).toBeCloseTo(7 / 8, 12);
  expect(chance(makePiece({boughtOn: 130}))).toBeCloseTo(0, 12);
});

test("finishChance(book, examples)(rough-round) has the later stages only; ends are 1 and 0", () => {
  const chance = finishChance(at(200), examples);
  expect(chance(makePiece({boughtOn: 100, turned: [190]}))).toBeCloseTo(1, 12);
  expect(chance(examples.at(-1)!)).toBe(1);
  expect(chance(examples[0]!)).toBe(0);
  expect(chance(makePiece({diverted: 4}))).toBe(0);
});

test("finishChance(…)(a piece older at its stage than any decided) takes it as one that has just come", () => {
  const chance = finishChance(at(400), examples);
  expect(chance(makePiece({boughtOn: 0}))).toBeCloseTo(0.7, 12);
});

// Finished at day 150 of age: a square of age 20 gets there within 130 days, not within 129.
test("finishChance(book, examples, {withinDays}) asks that it be finished so soon", () => {
  const square = makePiece({boughtOn: 180});
  expect(finishChance(at(200), examples, {withinDays: 130})(square)).toBeCloseTo(7 / 8, 12);
  expect(finishChance(at(200), examples, {withinDays: 129})(square)).toBeCloseTo(0, 12);
  const within = finishChances(at(200), examples);
  expect([129, 130, undefined].map((days) => within(days)(square)!.toFixed(9))).toEqual([
    "0.000000000",
    "0.875000000",
    "0.875000000"
  ]);
});

test("finishChance is undefined while no example has left a stage still ahead", () => {
  expect(finishChance(at(50), [])(makePiece())).toBeUndefined();
  expect(finishChance(at(100), [makePiece({turned: [60]})])(makePiece({boughtOn: 90}))).toBeUndefined();
});

test("finishChance lies in 0…1, does not fall with more time, and changes nothing", () => {
  fc.assert(
    fc.property(anyPieces, fc.integer({min: 0, max: 100}), (pieces, days) => {
      const soon = finishChance(at(lastMadeDay), frozen(pieces), {withinDays: days});
      const later = finishChance(at(lastMadeDay), pieces, {withinDays: days + 50});
      for (const piece of pieces) {
        const [a, b] = [soon(piece), later(piece)];
        expect(a === undefined).toBe(b === undefined);
        if (a === undefined || b === undefined) continue;
        expect(a).toBeGreaterThanOrEqual(0);
        expect(b).toBeLessThanOrEqual(1 + 1e-12);
        expect(a).toBeLessThanOrEqual(b + 1e-12);
      }
    }),
    {numRuns: 60}
  );
});
