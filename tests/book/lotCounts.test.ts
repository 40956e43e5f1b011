import fc from "fast-check";
import {expect, test} from "vitest";
import {bookCounts} from "../../lib/book/bookCounts.ts";
import {dayNumber} from "../../lib/book/day.ts";
import {histories, type Piece} from "../../lib/book/histories.ts";
import {type CountsAsked, LotCountsMaker, lotCounts, lotCountsOf} from "../../lib/book/lotCounts.ts";
import {type SpellCount, spellCounts} from "../../lib/book/spellCounts.ts";
import {byLot, purchaseSpells, stageSpells} from "../../lib/book/spells.ts";
import {clusterTable, pooledEvents} from "../../lib/stats/clusterTable.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {anyPieces, lastMadeDay, makePiece, settings} from "../pieces.ts";

const stages = settings.stages.map(({name}) => name);
const last = stages.at(-1)!;
const since = fc.option(fc.integer({min: -10, max: lastMadeDay}), {nil: undefined});
const counted = (pieces: readonly Piece[]) => lotCounts(spellCounts(pieces), lastMadeDay);

test("LotCounts.at: the table of the spells that the pieces have, at every stage and from any day on", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const counts = counted(pieces);
      for (const stage of stages) {
        const table = clusterTable(byLot(pieces).map((lot) => stageSpells(lot, stage, lastMadeDay, from)));
        const got = counts.at(stage, {since: from});
        expect(got.pieces).toEqual(table.pieces);
        expect(pooledEvents(got)).toEqual(pooledEvents(table));
        for (const [i] of counts.lots.entries()) expect(pooledEvents(got.of([i]))).toEqual(pooledEvents(table.of([i])));
      }
    })
  );
});

test("LotCounts.at: only squares that came on wanted days, on one side of the window, or that stayed", () => {
  const pieces = [
    makePiece({boughtOn: 0, turned: [30, 30, 60], density: 900}),
    makePiece({boughtOn: 10, turned: [50], density: 690})
  ];
  const counts = lotCounts(
    [...bookCounts({settings, asOf: 100, lots: [lot("L1")], orders: [], pieces, problems: []}).spells],
    100
  );
  const pieceCount = (stage: string, asked: CountsAsked) => counts.at(stage, asked).pieces[0];
  expect(pieceCount("square", {})).toBe(2);
  expect(pieceCount("square", {side: "inside"})).toBe(1);
  expect(pieceCount("square", {cameOn: (day) => day === 10})).toBe(1);
  expect(pieceCount("rough-round", {})).toBe(2);
  expect(pieceCount("rough-round", {stayed: true})).toBe(1);
});

function lot(name: string) {
  const prices = {squaresBought: 2, priceEach: 10};
  return {row: 2, lot: name, boughtOn: "1970-01-01", supplier: "Low Fold Sawmill", species: "ash", ...prices};
}

test("LotCounts.seen counts each piece once that has a spell at one of the stages", () => {
  fc.assert(
    fc.property(anyPieces, since, fc.boolean(), (pieces, from, single) => {
      const asked = single ? [stages[1]!] : stages.slice(0, -1);
      const seen = (piece: Piece) => asked.some((stage) => stageSpells([piece], stage, lastMadeDay, from).length > 0);
      expect(counted(pieces).seen(asked, from)).toBe(pieces.filter(seen).length);
    })
  );
});

test("LotCounts.seen: a piece that passes stages on the very day counts once", () => {
  const counts = lotCounts(spellCounts([makePiece({boughtOn: 0, turned: [30, 30, 30]})]), 100);
  expect(counts.seen(stages.slice(0, -1), 30)).toBe(1);
  expect(counts.seen(stages.slice(0, -1), 31)).toBe(1);
});

test("LotCounts.purchases: the table of the spells from purchase that the pieces have", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const counts = counted(pieces);
      const bought = new Map(pieces.map(({lot, boughtOn}) => [lot, boughtOn]));
      const got = counts.purchases((place) => bought.get(counts.lots[place]!)!, {
        last,
        ...(from !== undefined && {since: from})
      });
      const table = clusterTable(byLot(pieces).map((lot) => purchaseSpells(lot, lastMadeDay, from)));
      expect(got.pieces).toEqual(table.pieces);
      expect(pooledEvents(got)).toEqual(pooledEvents(table));
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
  const counts = lotCounts(spellCounts(pieces), 100);
  expect(counts.decided({last})).toBe(3);
  expect(counts.decided({last, since: 24})).toBe(2);
  expect(counts.decided({last, stage: "square"})).toBe(4);
  expect(counts.decided({last, stage: "square", since: 12})).toBe(2);
  expect(counts.decided({last, stage: "rough-round"})).toBe(2);
});

test("LotCounts.only and withSpellsAt: a part has the tables that it would have by itself", () => {
  fc.assert(
    fc.property(anyPieces, since, (pieces, from) => {
      const isWanted = (name: string) => name < "L4";
      const part = counted(pieces).only(isWanted);
      const alone = counted(pieces.filter((piece) => isWanted(piece.lot)));
      expect(part.lots).toEqual(alone.lots);
      expect([...part.rows()].map((row) => JSON.stringify(row)).sort()).toEqual(
        [...alone.rows()].map((row) => JSON.stringify(row)).sort()
      );
      for (const stage of stages) {
        const [a, b] = [part.withSpellsAt([stage], {since: from}), alone.withSpellsAt([stage], {since: from})];
        expect(a.lots).toEqual(b.lots);
        expect(pooledEvents(a.at(stage, {since: from}))).toEqual(pooledEvents(b.at(stage, {since: from})));
      }
    })
  );
});

test("lotCountsOf counts the lots it is told to, also without a square; rows give back what was put in", () => {
  const rows = spellCounts([makePiece({lot: "L2", turned: [5]})]);
  const counts = lotCountsOf(rows, 10, ["L1", "L2"]);
  expect(counts.at("square").pieces).toEqual([0, 1]);
  expect(counts.at("proud-round").pieces).toEqual([0, 0]);
  expect([...counts.rows()]).toEqual(rows);
});

test("LotCountsMaker takes more counts than it began with room for", () => {
  const maker = new LotCountsMaker(["L1"]);
  for (let day = 0; day < 5000; day++) maker.add(0, "square", day, undefined, undefined, 1, undefined);
  expect(maker.made(5000).seen(["square"])).toBe(5000);
});

test("lotCounts makes the same list ready once", () => {
  const rows = spellCounts([makePiece()]);
  expect(lotCounts(rows, 10)).toBe(lotCounts(rows, 10));
  expect(lotCounts(rows, 11)).not.toBe(lotCounts(rows, 10));
  expect(lotCounts(lotCounts(rows, 10), 10)).toBe(lotCounts(rows, 10));
});

test("LotCounts.upTo(an earlier day): the counts of the sample book replayed up to that day", () => {
  const book = readBook("sample-data").book!;
  const [now, day] = ["2026-10-31", "2025-03-31"];
  const boughtOn = new Map(book.lots.map((one) => [one.lot, one.boughtOn]));
  const counts = bookCounts(histories(book, now));
  const got = lotCounts(counts.spells, counts.asOf).upTo(dayNumber(day), (name) => boughtOn.get(name)! <= day);
  /** Shafts promised by then and by now are not told apart. */
  const merged = (rows: Iterable<SpellCount>) => {
    const sums = new Map<string, number>();
    for (const {squares, outcome, ...row} of rows) {
      const key = JSON.stringify([Object.entries(row).sort(), outcome === "allotted" ? null : (outcome ?? null)]);
      sums.set(key, (sums.get(key) ?? 0) + squares);
    }
    return [...sums].sort();
  };
  expect(merged(got.rows())).toEqual(merged(bookCounts(histories(book, day)).spells));
});
