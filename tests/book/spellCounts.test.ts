import fc from "fast-check";
import {expect, test} from "vitest";
import type {Piece} from "../../lib/book/histories.ts";
import {
  byLotSpells,
  countedPurchaseSpells,
  decidedSquares,
  piecesIn,
  spellCounts,
  windowSide
} from "../../lib/book/spellCounts.ts";
import {byLot, purchaseSpells, stageSpells} from "../../lib/book/spells.ts";
import type {Spell} from "../../lib/stats/eventTable.ts";
import {anyPieces, lastMadeDay, makeHistories, makePiece, settings} from "../pieces.ts";

const stages = settings.stages.map(({name}) => name);
const last = stages.at(-1)!;
const since = fc.option(fc.integer({min: -10, max: lastMadeDay}), {nil: undefined});

test("windowSide: both ends of the window belong to it", () => {
  const window = {low: 640, high: 720};
  expect([639.9, 640, 700, 720, 720.1].map((x) => windowSide(x, window))).toEqual([
    "below",
    "inside",
    "inside",
    "inside",
    "above"
  ]);
});

test("spellCounts: one row a piece and stage, with the days and how it left", () => {
  const made = [
    makePiece({boughtOn: 5, turned: [50], discarded: 70, defect: "warp"}),
    makePiece({lot: "L2", turned: [10, 20, 30, 40], allottedTo: "O-1", deliveredOn: 60}),
    makePiece({lot: "L3", turned: [10, 20, 30, 40], allottedTo: "O-2"})
  ];
  expect(spellCounts(made.slice(0, 1))).toEqual([
    {lot: "L1", stage: "square", from: 5, to: 50, outcome: "passed", squares: 1},
    {lot: "L1", stage: "rough-round", from: 50, to: 70, outcome: "discarded: warp", squares: 1}
  ]);
  expect(spellCounts(made.slice(1)).filter(({stage}) => stage === last)).toEqual([
    {lot: "L2", stage: last, from: 40, to: 60, outcome: "delivered", squares: 1},
    {lot: "L3", stage: last, from: 40, outcome: "allotted", squares: 1}
  ]);
});

test("the counts give the spells that the pieces give, at every stage and from any day on", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const lots = byLotSpells(spellCounts(pieces), lastMadeDay);
      const ofPieces = byLot(pieces);
      for (const [i, own] of lots.entries())
        for (const stage of stages)
          expect(own.spells(stage, from)).toEqual(stageSpells(ofPieces[i]!, stage, lastMadeDay, from));
    })
  );
});

test("LotSpells.seen counts each piece once that has a spell at one of the stages", () => {
  fc.assert(
    fc.property(anyPieces, since, fc.boolean(), (pieces, from, single) => {
      const asked = single ? [stages[1]!] : stages.slice(0, -1);
      const seen = (piece: Piece) => asked.some((stage) => stageSpells([piece], stage, lastMadeDay, from).length > 0);
      const lots = byLotSpells(spellCounts(pieces), lastMadeDay);
      expect(lots.reduce((total, lot) => total + lot.seen(asked, from), 0)).toBe(pieces.filter(seen).length);
    })
  );
});

test("LotSpells.seen: a piece that passes stages on the very day counts once", () => {
  const leaps = makePiece({boughtOn: 0, turned: [30, 30, 30]});
  const [lot] = byLotSpells(spellCounts([leaps]), 100);
  expect(lot!.seen(stages.slice(0, -1), 30)).toBe(1);
  expect(lot!.seen(stages.slice(0, -1), 31)).toBe(1);
});

const sorted = (spells: readonly Spell[]) => spells.map((spell) => JSON.stringify(spell)).sort();

test("the counts give the spells from purchase that the pieces give", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const {lots} = makeHistories(pieces, {asOf: lastMadeDay});
      const got = countedPurchaseSpells(spellCounts(pieces), lots, {
        asOf: lastMadeDay,
        last,
        ...(from !== undefined && {since: from})
      });
      expect(sorted(got)).toEqual(sorted(purchaseSpells(pieces, lastMadeDay, from)));
    })
  );
});

test("decidedSquares: what has ended, or at a stage what has left it, after a day", () => {
  const pieces = [
    makePiece({turned: [10, 20, 30, 40]}),
    makePiece({turned: [15], discarded: 25}),
    makePiece({diverted: 12}),
    makePiece({turned: [18]})
  ];
  const rows = spellCounts(pieces);
  expect(decidedSquares(rows, {last})).toBe(3);
  expect(decidedSquares(rows, {last, since: 24})).toBe(2);
  expect(decidedSquares(rows, {last, stage: "square"})).toBe(4);
  expect(decidedSquares(rows, {last, stage: "square", since: 12})).toBe(2);
  expect(decidedSquares(rows, {last, stage: "rough-round"})).toBe(2);
});

test("piecesIn adds up counts, those of some causes if asked", () => {
  const spells = [
    {exit: 3, cause: "passed", count: 4},
    {exit: 5, cause: "passed"},
    {exit: 9, count: 2}
  ];
  expect(piecesIn(spells)).toBe(7);
  expect(piecesIn(spells, (cause) => cause === "passed")).toBe(5);
});
