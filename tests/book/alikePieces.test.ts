import fc from "fast-check";
import {expect, test} from "vitest";
import {type AlikePieces, alikeOfCounts, alikePieces} from "../../lib/book/alikePieces.ts";
import {bookCounts} from "../../lib/book/bookCounts.ts";
import {lotCounts} from "../../lib/book/lotCounts.ts";
import {anyPieces, lastMadeDay, makeHistories, makePiece, settings} from "../pieces.ts";

/** Each piece with all that is asked of it: of those in stock where they are and since when. */
const told = (alike: readonly AlikePieces[]) =>
  alike
    .flatMap(({stays, squares, deliveredOn, ...one}) => {
      const {stage, from} = stays.at(-1)!;
      const place = one.fate === "in stock" ? [stage, from] : [deliveredOn !== undefined];
      return Array.from({length: squares}, () => JSON.stringify([Object.entries(one).sort(), place]));
    })
    .sort();

test("the counts of a book stand for its pieces: fate, place, side of the window and promise of each", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const {spells, lots} = bookCounts(makeHistories(pieces, {asOf: lastMadeDay}));
      expect(told(alikeOfCounts(lotCounts(spells, lastMadeDay), lots, settings))).toEqual(
        told(alikePieces(pieces, settings))
      );
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
  const rows = alikeOfCounts(lotCounts(spells, 60), lots, settings);
  const kinds = rows.map(({isGiven, deliveredOn, squares}) => [isGiven, deliveredOn, squares]);
  expect(kinds).toHaveLength(3);
  expect(kinds).toContainEqual([false, undefined, 1]);
  expect(kinds).toContainEqual([true, undefined, 1]);
  expect(kinds).toContainEqual([true, 50, 2]);
});
