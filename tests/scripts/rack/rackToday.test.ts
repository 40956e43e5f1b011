import {expect, test} from "vitest";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {dryingOf} from "../../../scripts/rack/dryingOf.ts";
import {rackToday, readyToday} from "../../../scripts/rack/rackToday.ts";

const found = readBook("sample-data");
const read = bookAsOf({...found, book: found.book!}, "2026-06-30");
const today = rackToday(read);

test("rackToday(book): all parts speak of the same pieces, and are worked out once", () => {
  const {pieces} = read.histories;
  const waiting = pieces.filter(({fate}) => fate === "in stock").map(({square}) => square);
  expect(today.ready.map(({square}) => square)).toEqual(waiting);
  expect([...today.oversize.keys()].every((square) => waiting.includes(square))).toBe(true);
  expect(rackToday(read)).toBe(today);
  expect(dryingOf(read)).toBe(dryingOf(read));
  expect(readyToday(read).ready).toEqual(today.ready);
});

test("rackToday(book): what may still come is told of the orders that are not served from shafts known to fit, and of no other", () => {
  const wanting = new Set(
    today.assignment.given.flatMap(({order, square, look}) => (square === undefined || look ? [order] : []))
  );
  expect(new Set(today.coming.map(({order}) => order))).toEqual(wanting);
  for (const {order} of today.unserved) expect(wanting.has(order)).toBe(true);
  for (const {pieces} of today.coming)
    for (const {square, finishFraction, fitFraction, chanceFraction} of pieces) {
      expect(read.histories.pieces.find((piece) => piece.square === square)!.fate).toBe("in stock");
      expect(chanceFraction).toBeCloseTo(finishFraction * fitFraction, 12);
    }
});
