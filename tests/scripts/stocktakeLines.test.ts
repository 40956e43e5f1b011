import {expect, test} from "vitest";
import type {Stocktake} from "../../lib/rack/stocktake.ts";
import {stocktakeLines} from "../../scripts/stocktakeLines.ts";

const place = {species: "ash", lot: "A", stage: "finished", since: "2025-06-01"};
const nothing: Stocktake = {
  on: "2025-07-01",
  part: {},
  found: [],
  missing: [],
  otherStage: [],
  unexpected: [],
  beside: [],
  twice: [],
  byStage: [],
  agreement: {found: 0, of: 0}
};
const files = {events: "events.csv", squares: "squares.csv", lots: "lots.csv"};
const lines = (some: Partial<Stocktake>) => stocktakeLines({...nothing, ...some}, "finished", files);
const line = (some: Partial<Stocktake>) => lines(some).at(-1);
const seen = {square: "A1", rows: [3], notes: []};

test("stocktakeLines begins with the totals, the part and the agreement, with those beyond the book beside it", () => {
  expect(
    lines({
      part: {stages: ["finished"], lots: ["A"]},
      found: [{...seen, ...place, stageNoted: false}],
      missing: [{square: "A2", ...place}],
      byStage: [{species: "ash", stage: "finished", book: 2, found: 1, otherStage: 0, missing: 1}],
      agreement: {found: 1, of: 2}
    }).slice(0, 5)
  ).toEqual([
    "Stocktake of 2025-07-01, only pieces at finished, of lot A: the book has 2 pieces in stock. Found 1, at another stage 0, missing 1.",
    "Agreement: 1 of 2 are there as the book says, 50.0 %, and 0 numbers on the list that the book does not have in stock. A stage was noted for 0 of those found; of the others the list says only that they are there.",
    "",
    "ash, finished  in the book 2, found 1, at another stage 0, missing 1",
    ""
  ]);
  expect(lines({})[1]).toBe(
    "The book has no piece in stock there, so there is no rate of agreement; 0 numbers on the list that the book does not have in stock."
  );
  expect(lines({beside: [{...seen, ...place}]})[2]).toBe("Of other parts: 1 piece beside the part that was counted.");
});

test.each<[string, Partial<Stocktake>]>([
  [
    "Missing: A1: the book has it as ash at finished since 2025-06-01, allotted to O1. Proposed: delivered to that order.",
    {missing: [{square: "A1", ...place, allottedTo: "O1"}]}
  ],
  [
    "Missing: A1: the book has it as ash at finished since 2025-06-01, free. It may have been delivered without a word, discarded, or overlooked. Proposed: a row without its event.",
    {missing: [{square: "A1", ...place}]}
  ],
  [
    "Missing: A1: the book has it as ash at square since 2025-06-01; perhaps AI on the list. Correct the list. Nothing is proposed.",
    {missing: [{square: "A1", ...place, stage: "square", perhaps: ["AI"]}]}
  ],
  [
    "Missing: A1: the book has it as ash at finished since 2025-06-01. The book has more of it on 2025-08-01, after the count: overlooked? Nothing is proposed.",
    {missing: [{square: "A1", ...place, seenOn: "2025-08-01"}]}
  ],
  [
    "Missing: A1: the book has it as ash at square since 2025-06-01. It may have been discarded, put to other use, or overlooked. Proposed: discarded, its defect to be filled in.",
    {missing: [{square: "A1", ...place, stage: "square"}]}
  ],
  [
    "Missing: A1: the book has it as ash at square since 2025-06-01. Row 12 of events.csv has its number and was set aside: mend it. Nothing is proposed.",
    {missing: [{square: "A1", ...place, stage: "square", refusedRow: 12}]}
  ],
  [
    "Missing: A1: the book has it as ash at finished since 2025-06-01. The book has something of it on the day of the count: before or after it? Nothing is proposed.",
    {missing: [{square: "A1", ...place, onTheDay: true}]}
  ],
  [
    "Unexpected: A1 (row 3): by the book delivered on 2025-07-01, on the day of the count: before or after it? If after, all is well; else look at row 12 of events.csv.",
    {unexpected: [{...seen, why: "delivered", day: "2025-07-01", eventRow: 12}]}
  ],
  [
    "At another stage: A1 (row 3): seen at square; the book has it as ash at finished since 2025-06-01. The book has it turned on the day of the count: before or after it? If after, all is well. Nothing is proposed.",
    {
      otherStage: [{...seen, ...place, seen: "square", inPart: true, passes: [], eventRows: [4], onTheDay: true}]
    }
  ],
  ["Unexpected: ... and 1 more.", {unexpected: Array.from({length: 201}, () => ({...seen, why: "unknown" as const}))}],
  [
    "Unexpected: A1 (row 3): the book has no such number. Did you mean A7, which is missing? Correct the number, or enter the square in squares.csv.",
    {unexpected: [{...seen, why: "unknown", near: "A7", nearMissing: true}]}
  ],
  [
    "Unexpected: A1 (row 3, “by the door”): by the book discarded on 2025-05-01. Look at row 12 of events.csv: if it is there, take that row out; else correct the number.",
    {unexpected: [{...seen, notes: ["by the door"], why: "discarded", day: "2025-05-01", eventRow: 12}]}
  ],
  [
    "Unexpected: A1 (row 3): its lot B was bought on 2025-08-01, after the count. Look at the day in lots.csv, or correct the number.",
    {unexpected: [{...seen, why: "bought later", day: "2025-08-01", lot: "B"}]}
  ],
  [
    "Unexpected: A1 (row 3): it stands in row 9 of squares.csv, which was set aside. Mend that row.",
    {unexpected: [{...seen, why: "set aside", squareRow: 9}]}
  ],
  [
    "At another stage: A1 (row 3): seen at finished; the book has it as ash at proud-round since 2025-06-01. Proposed: turned to finished.",
    {
      otherStage: [
        {...seen, ...place, stage: "proud-round", seen: "finished", inPart: true, passes: ["finished"], eventRows: []}
      ]
    }
  ],
  [
    "At another stage: A1 (row 3): seen at square; the book has it as ash at finished since 2025-06-01. No event can take a turning back: look at rows 4, 8 of events.csv, or at the piece again.",
    {otherStage: [{...seen, ...place, seen: "square", inPart: true, passes: [], eventRows: [4, 8]}]}
  ],
  [
    "At another stage: A1 (row 3): seen at finished; the book has it as ash at square since 2025-06-01. The book has it turned on 2025-08-01, after the count: look at that day in events.csv. Nothing is proposed.",
    {
      otherStage: [
        {
          ...seen,
          ...place,
          stage: "square",
          seen: "finished",
          inPart: true,
          passes: ["finished"],
          eventRows: [],
          enteredOn: "2025-08-01"
        }
      ]
    }
  ],
  [
    "Beside the part: A1 (row 3): the book has it as ash at finished since 2025-06-01; not judged.",
    {beside: [{...seen, ...place}]}
  ],
  [
    "Twice on the list: A1 in rows 3, 5; it counts once. They give different stages (square, finished): none was taken.",
    {twice: [{square: "A1", rows: [3, 5], stages: ["square", "finished"]}]}
  ]
])("stocktakeLines: %s", (sentence, some) => expect(line(some)).toBe(sentence));

test("stocktakeLines warns first of all where more than half are missing", () => {
  const missing = [{square: "A1", ...place}];
  expect(lines({missing, agreement: {found: 0, of: 1}})[0]).toMatch(
    /^Warning: 1 of 1 piece missing, more than half\. Is it the right list/
  );
  expect(lines({missing, agreement: {found: 1, of: 2}})[0]).toMatch(/^Stocktake of/);
});

test("stocktakeLines shows a hostile number and does not obey it", () => {
  const text = line({unexpected: [{...seen, square: "\u001b[2J\u202eA\n1\u061c", why: "unknown"}]})!;
  expect(text).toMatch(/^Unexpected: \ufffd\[2J\ufffdA 1\ufffd \(row 3\)/);
});
