import {expect, test} from "vitest";
import {finishDays} from "../../lib/buying/finishDays.ts";
import {makeHistories, makePiece} from "../pieces.ts";

// Days at the stages: one piece 60, 20, 30, 40, the other 60, 30, 30, 40; so at rough-round 20 or 30 days, each for half of them, and 70 after it.
const examples = [
  makePiece({square: "A", turned: [60, 80, 110, 150]}),
  makePiece({square: "B", turned: [60, 90, 120, 160]})
];

test("finishDays(book)(piece): the days left at its stage, given those it has been there, and those of the later stages", () => {
  const piece = makePiece({square: "C", boughtOn: 130, turned: [190]});
  const days = (asOf: number) => finishDays(makeHistories([...examples, piece], {asOf}), examples)(piece)!;
  // Ten days at rough-round: 10 or 20 more, then 70.
  const young = days(200);
  expect([young.quantile(0.1), young.quantile(0.5), young.quantile(0.51), young.quantile(1)]).toEqual([
    280, 280, 290, 290
  ]);
  expect([199, 279, 280, 289, 290, 5000].map((day) => young.shareBy(day))).toEqual([0, 0, 0.5, 0.5, 1, 1]);
  // 25 days there: only the slower example is like it.
  expect(days(215).quantile(0.01)).toBe(290);
  expect(days(215).shareBy(289)).toBe(0);
  // 35 days, longer than any: as one that has just come.
  expect([days(225).quantile(0.5), days(225).quantile(0.9)]).toEqual([225 + 20 + 70, 225 + 30 + 70]);
});

test("finishDays(book)(piece): none for a piece that is not in stock, or while no example has passed a stage before it", () => {
  const out = makePiece({square: "D", discarded: 30});
  const square = makePiece({square: "E"});
  const of = (pieces: typeof examples) => finishDays(makeHistories([...pieces, out, square], {asOf: 200}), pieces);
  expect(of(examples)(out)).toBeUndefined();
  expect(of(examples)(examples[0]!)).toBeUndefined();
  expect(of(examples)(square)).toBeDefined();
  expect(of([makePiece({square: "F", turned: [60, 80, 110]})])(square)).toBeUndefined();
});

test("finishDays(book)(piece): pieces still there count as not passed yet", () => {
  // Of three at rough-round one passed after 20 days, one is there for 25 days yet, one passed after 30: a third by 20, all by 30 (Aalen–Johansen).
  const waiting = makePiece({square: "G", boughtOn: 115, turned: [175]});
  const piece = makePiece({square: "H", boughtOn: 140, turned: [200]});
  const all = [...examples, waiting];
  const {shareBy} = finishDays(makeHistories([...all, piece], {asOf: 200}), all)(piece)!;
  expect(shareBy(200 + 20 + 70)).toBeCloseTo(1 / 3, 12);
  expect(shareBy(200 + 30 + 70)).toBeCloseTo(1, 12);
});
