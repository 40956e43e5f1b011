import fc from "fast-check";
import {expect, test} from "vitest";
import type {Piece} from "../../lib/book/histories.ts";
import {countedPurchaseSpells, LotCounts, lotCounts, spellCounts, windowSide} from "../../lib/book/spellCounts.ts";
import {byLot, purchaseSpells, stageSpells} from "../../lib/book/spells.ts";
import {pooledEvents} from "../../lib/stats/clusterTable.ts";
import type {Spell} from "../../lib/stats/eventTable.ts";
import {anyPieces, lastMadeDay, makePiece, settings} from "../pieces.ts";

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
      const counts = new LotCounts(spellCounts(pieces), lastMadeDay);
      const ofPieces = byLot(pieces);
      for (const stage of stages)
        for (const [place, own] of counts.rows(stage).entries())
          expect(counts.spellsOf(own, from)).toEqual(stageSpells(ofPieces[place]!, stage, lastMadeDay, from));
    })
  );
});

test("LotCounts.seen counts each piece once that has a spell at one of the stages", () => {
  fc.assert(
    fc.property(anyPieces, since, fc.boolean(), (pieces, from, single) => {
      const asked = single ? [stages[1]!] : stages.slice(0, -1);
      const seen = (piece: Piece) => asked.some((stage) => stageSpells([piece], stage, lastMadeDay, from).length > 0);
      const counts = new LotCounts(spellCounts(pieces), lastMadeDay);
      expect(counts.seen(asked, from)).toBe(pieces.filter(seen).length);
    })
  );
});

test("LotCounts.seen: a piece that passes stages on the very day counts once", () => {
  const leaps = makePiece({boughtOn: 0, turned: [30, 30, 30]});
  const counts = new LotCounts(spellCounts([leaps]), 100);
  expect(counts.seen(stages.slice(0, -1), 30)).toBe(1);
  expect(counts.seen(stages.slice(0, -1), 31)).toBe(1);
});

const sorted = (spells: readonly Spell[]) => spells.map((spell) => JSON.stringify(spell)).sort();

test("the counts give the spells from purchase that the pieces give", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const bought = new Map(pieces.map(({lot, boughtOn}) => [lot, boughtOn]));
      const got = countedPurchaseSpells(spellCounts(pieces), (lot) => bought.get(lot)!, {
        asOf: lastMadeDay,
        last,
        ...(from !== undefined && {since: from})
      });
      expect(sorted(got)).toEqual(sorted(purchaseSpells(pieces, lastMadeDay, from)));
    })
  );
});

test("LotCounts.decided: what has ended, or at a stage what has left it, after a day", () => {
  const pieces = [
    makePiece({turned: [10, 20, 30, 40]}),
    makePiece({turned: [15], discarded: 25}),
    makePiece({diverted: 12}),
    makePiece({turned: [18]})
  ];
  const counts = new LotCounts(spellCounts(pieces), 100);
  expect(counts.decided({last})).toBe(3);
  expect(counts.decided({last, since: 24})).toBe(2);
  expect(counts.decided({last, stage: "square"})).toBe(4);
  expect(counts.decided({last, stage: "square", since: 12})).toBe(2);
  expect(counts.decided({last, stage: "rough-round"})).toBe(2);
});

test("LotCounts.only and withSpellsAt: a part has the tables that it would have by itself", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const isWanted = (lot: string) => lot < "L4";
      const part = new LotCounts(spellCounts(pieces), lastMadeDay).only(isWanted);
      const alone = new LotCounts(spellCounts(pieces.filter(({lot}) => isWanted(lot))), lastMadeDay);
      expect(part.lots).toEqual(alone.lots);
      for (const stage of stages) {
        const [a, b] = [part.withSpellsAt([stage], from), alone.withSpellsAt([stage], from)];
        expect(a.lots).toEqual(b.lots);
        expect(a.rows(stage)).toEqual(b.rows(stage));
        expect(pooledEvents(a.at(stage, from))).toEqual(pooledEvents(b.at(stage, from)));
      }
    })
  );
});

test("LotCounts counts the lots it is told to, also without a square", () => {
  const counts = new LotCounts(spellCounts([makePiece({lot: "L2", turned: [5]})]), 10, ["L1", "L2"]);
  expect(counts.at("square").pieces).toEqual([0, 1]);
  expect(counts.rows("proud-round")).toEqual([[], []]);
});

test("lotCounts makes the same list ready once", () => {
  const rows = spellCounts([makePiece()]);
  expect(lotCounts(rows, 10)).toBe(lotCounts(rows, 10));
  expect(lotCounts(rows, 11)).not.toBe(lotCounts(rows, 10));
  expect(lotCounts(lotCounts(rows, 10), 10)).toBe(lotCounts(rows, 10));
});
