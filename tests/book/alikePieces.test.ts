import fc from "fast-check";
import {expect, test} from "vitest";
import {type AlikePieces, alikeOfCounts, alikePieces} from "../../lib/book/alikePieces.ts";
import {bookCounts} from "../../lib/book/bookCounts.ts";
import {anyPieces, lastMadeDay, makeHistories, makePiece, settings} from "../pieces.ts";

/** Each piece with all that counts, only the last stay and when it began. */
const told = (alike: readonly AlikePieces[]) =>
  alike
    .flatMap(({stays, squares, ...one}) => {
      const {stage, from} = stays.at(-1)!;
      const text = JSON.stringify(Object.entries({...one, stage, from}).sort());
      return Array.from({length: squares}, () => text);
    })
    .sort();

test("the counts of a book stand for its pieces: fate, place, side of the window and promise of each", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const {spells, lots} = bookCounts(makeHistories(pieces, {asOf: lastMadeDay}));
      expect(told(alikeOfCounts(spells, lots, settings))).toEqual(told(alikePieces(pieces, settings)));
    })
  );
});

test("shafts free, promised and sold are told apart", () => {
  const turned = [10, 20, 30, 40];
  const pieces = [
    makePiece({turned}),
    makePiece({turned, allottedTo: "O-1"}),
    makePiece({turned, allottedTo: "O-1", deliveredOn: 50}),
    makePiece({turned, deliveredOn: 50})
  ];
  const {spells, lots} = bookCounts(makeHistories(pieces, {asOf: 60}));
  const rows = alikeOfCounts(spells, lots, settings);
  const kinds = rows.map(({isGiven, deliveredOn, squares}) => [isGiven, deliveredOn, squares]);
  expect(kinds).toHaveLength(3);
  expect(kinds).toContainEqual([false, undefined, 1]);
  expect(kinds).toContainEqual([true, undefined, 1]);
  expect(kinds).toContainEqual([true, 50, 2]);
});
