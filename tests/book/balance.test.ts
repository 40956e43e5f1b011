import {expect, test} from "vitest";
import {balance} from "../../lib/book/balance.ts";
import {histories} from "../../lib/book/histories.ts";
import {bookOf, frozen, type Lines} from "./smallBook.ts";

const square = (number: string, lot: string) => `${number},${lot},1500,40,40,1680,12`;
const lines = {
  lots: [
    "M,2025-01-10,Fennaby Yard,maple,1,10",
    "A,2025-01-10,Quillmoor Sawpit,ash,5,10",
    "B,2025-03-10,Quillmoor Sawpit,ash,2,10"
  ],
  squares: [
    ...["A1", "A2", "A3", "A4"].map((number) => square(number, "A")),
    square("B1", "B"),
    square("M1", "M"),
    square("M2", "M")
  ],
  events: [
    "2025-04-01,A1,turned,finished,310,,,",
    "2025-04-02,A2,discarded,,,,knot,",
    "2025-04-03,A3,diverted,,,,,",
    "2025-04-04,M1,turned,rough-round,,,,"
  ],
  orders: ["O1,2025-02-01,ash,1"]
} satisfies Lines;
const at = (asOf: string, changes: Lines = {}) => balance(histories(bookOf({...lines, ...changes}), asOf));

// By hand: ash 5 + 2 bought; A1 finished, A2 discarded, A3 diverted, A4 and B1 in stock, one of A and one of B not listed.
// Maple: 1 bought, 2 listed and in stock, so 1 more than accounted for.
test("balance(histories) says where every square is, by species", () => {
  expect(at("2025-12-31")).toEqual([
    {species: "ash", bought: 7, finished: 1, discarded: 1, diverted: 1, inStock: 2, unaccounted: 2, closes: true},
    {species: "maple", bought: 1, finished: 0, discarded: 0, diverted: 0, inStock: 2, unaccounted: -1, closes: true}
  ]);
});

test("balance counts what was bought and done up to the day only", () => {
  expect(at("2025-04-01")[0]).toMatchObject({bought: 7, finished: 1, discarded: 0, inStock: 4, unaccounted: 2});
  expect(at("2025-02-01")[0]).toMatchObject({bought: 5, finished: 0, inStock: 4, unaccounted: 1});
  expect(at("2025-01-01")).toEqual([]);
});

test("balance counts a shaft damaged on the rack as discarded, and a sold one as finished", () => {
  const events = ["2025-04-01,A1,turned,finished,310,,,", "2025-05-01,A1,discarded,,,,split,"];
  expect(at("2025-12-31", {events})[0]).toMatchObject({finished: 0, discarded: 1, inStock: 4, closes: true});
  const sold = [events[0]!, "2025-05-01,A1,delivered,,,,,O1"];
  expect(at("2025-12-31", {events: sold})[0]).toMatchObject({finished: 1, discarded: 0, inStock: 4, closes: true});
});

test("balance says when it does not close: a piece of a species that no lot has", () => {
  const replayed = histories(bookOf(lines), "2025-12-31");
  const strayed = replayed.pieces.map((piece) => (piece.square === "A4" ? {...piece, species: "maple"} : piece));
  expect(balance({...replayed, pieces: strayed}).map(({closes}) => closes)).toEqual([false, false]);
});

test("balance changes nothing of the histories", () => {
  expect(balance(frozen(histories(bookOf(lines), "2025-12-31")))).toEqual(at("2025-12-31"));
});
