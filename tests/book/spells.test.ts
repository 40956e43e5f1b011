import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {byLot, defectOf, discardCause, groupBy, purchaseSpells, stageSpells} from "../../lib/book/spells.ts";
import {bookOf, frozen} from "./smallBook.ts";

const square = (number: string, lot: string) => `${number},${lot},1500,40,40,1680,12`;
// Bought on 10 January; days since then: 10 is 20 January, 20 is 30 January, 50 is 1 March.
const {pieces, asOf} = frozen(
  histories(
    bookOf({
      lots: ["A,2025-01-10,Quillmoor Sawpit,ash,3,10", "B,2025-01-10,Fennaby Yard,ash,2,10"],
      squares: [square("A1", "A"), square("B1", "B"), square("A2", "A"), square("B2", "B"), square("A3", "A")],
      events: [
        "2025-01-20,A1,turned,rough-round,,,,",
        "2025-01-30,A1,turned,finished,,,,",
        "2025-01-20,A2,discarded,,,,warp,",
        "2025-01-30,B1,diverted,,,,,",
        "2025-01-20,B2,turned,rough-round,,,,"
      ]
    }),
    "2025-03-01"
  )
);

// In the order of the pieces: A1, B1, A2, B2, A3.
test('stageSpells(pieces, "square", asOf) is how long each was a square and how it left', () => {
  expect(stageSpells(pieces, "square", asOf)).toEqual([
    {exit: 10, cause: "passed"},
    {exit: 20, cause: "diverted"},
    {exit: 10, cause: "discarded: warp"},
    {exit: 10, cause: "passed"},
    {exit: 50}
  ]);
});

test("stageSpells leaves out pieces that never were at the stage, and starts the clock there", () => {
  expect(stageSpells(pieces, "rough-round", asOf)).toEqual([{exit: 10, cause: "passed"}, {exit: 40}]);
  expect(stageSpells(pieces, "no stage", asOf)).toEqual([]);
});

test("stageSpells counts a skipped stage as passed at once", () => {
  expect(stageSpells(pieces, "second-round", asOf)).toEqual([{exit: 0, cause: "passed"}]);
});

test("stageSpells since a day lets pieces enter late, and leaves out those gone by then", () => {
  expect(stageSpells(pieces, "square", asOf, dayNumber("2025-01-25"))).toEqual([
    {entry: 15, exit: 20, cause: "diverted"},
    {entry: 15, exit: 50}
  ]);
  expect(stageSpells(pieces, "square", asOf, dayNumber("2025-01-10"))).toEqual(stageSpells(pieces, "square", asOf));
});

test("purchaseSpells(pieces, asOf) runs from the purchase to the fate", () => {
  expect(purchaseSpells(pieces, asOf)).toEqual([
    {exit: 20, cause: "finished"},
    {exit: 20, cause: "diverted"},
    {exit: 10, cause: "discarded: warp"},
    {exit: 50},
    {exit: 50}
  ]);
  expect(purchaseSpells(pieces, asOf, dayNumber("2025-01-30"))).toEqual([
    {entry: 20, exit: 50},
    {entry: 20, exit: 50}
  ]);
});

test("defectOf turns discardCause round, and knows no defect for another cause", () => {
  for (const defect of ["warp", "passed", "discarded: x", ""]) expect(defectOf(discardCause(defect))).toBe(defect);
  for (const cause of ["passed", "finished", "diverted"]) expect(defectOf(cause)).toBeUndefined();
});

test("groupBy keeps the order in which keys and rows come", () => {
  expect([...groupBy(["pear", "apple", "plum", "fig"], (word) => word[0]!)]).toEqual([
    ["p", ["pear", "plum"]],
    ["a", ["apple"]],
    ["f", ["fig"]]
  ]);
});

test("byLot puts the pieces of each lot together", () => {
  expect(byLot(pieces).map((lot) => lot.map(({square}) => square))).toEqual([
    ["A1", "A2", "A3"],
    ["B1", "B2"]
  ]);
});
