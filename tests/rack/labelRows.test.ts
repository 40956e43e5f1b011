import fc from "fast-check";
import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {labelRows, restEndsOn} from "../../lib/rack/labelRows.ts";
import {anyPieces, lastMadeDay, makeHistories, makePiece} from "../pieces.ts";

const day = (text: string) => dayNumber(text);
const boughtOn = day("2025-01-10");
const pieces = [
  makePiece({square: "S1", boughtOn}),
  makePiece({square: "S2", boughtOn, turned: [day("2025-06-20")], lot: "L2", species: "maple", density: 712.4}),
  makePiece({square: "S3", boughtOn, turned: ["03", "04", "05", "06"].map((month) => day(`2025-${month}-01`))}),
  makePiece({square: "S4", boughtOn, turned: [1, 2, 3, 4].map((more) => boughtOn + more), deliveredOn: boughtOn + 9}),
  makePiece({square: "S5", boughtOn, discarded: boughtOn + 3}),
  makePiece({square: "S6", boughtOn, diverted: boughtOn + 3})
];
const now = makeHistories(pieces, {asOf: day("2025-07-01")});
const numbers = (wish = {}, readyOn?: Parameters<typeof labelRows>[2]) =>
  labelRows(now, wish, readyOn).map(({square}) => square);

test("labelRows has what is in stock, with the day its least rest ends: 60 days as bought, 30 after the first pass", () => {
  expect(labelRows(now)).toEqual([
    {square: "S1", species: "ash", stage: "square", readyOn: "2025-03-11", densityAt12KgM3: 690},
    {square: "S2", species: "maple", stage: "rough-round", readyOn: "2025-07-20", densityAt12KgM3: 712.4},
    {square: "S3", species: "ash", stage: "finished", finishedOn: "2025-06-01", densityAt12KgM3: 690}
  ]);
});

test("labelRows keeps to stages, lots, named squares in their order, and those that may be turned", () => {
  expect(numbers({stages: ["square", "finished"]})).toEqual(["S1", "S3"]);
  expect(numbers({lots: ["L2"]})).toEqual(["S2"]);
  expect(numbers({squares: ["S3", "S1", "S5", "S9"]})).toEqual(["S3", "S1"]);
  expect(numbers({ready: true})).toEqual(["S1"]);
});

test("labelRows takes another day than the least rest's, and none where nothing is known", () => {
  const readyOn = ({square}: {square: string}) => (square === "S2" ? now.asOf : undefined);
  expect(labelRows(now, {}, readyOn).map((row) => row.readyOn)).toEqual([undefined, "2025-07-01", undefined]);
  expect(numbers({ready: true}, readyOn)).toEqual(["S2"]);
});

test("restEndsOn is the day it came to its stage and its least rest more; none for a shaft", () => {
  expect(restEndsOn(now, pieces[0]!)).toBe(boughtOn + 60);
  expect(restEndsOn(now, pieces[2]!)).toBeUndefined();
});

test("labelRows: one label a piece in stock, whatever the pieces; the parts by stage make the whole", () => {
  fc.assert(
    fc.property(anyPieces, (made) => {
      const all = labelRows(makeHistories(made, {asOf: lastMadeDay}));
      expect(all.map(({square}) => square)).toEqual(
        made.filter(({fate}) => fate === "in stock" || fate === "finished").map(({square}) => square)
      );
      const parts = now.settings.stages.flatMap(({name}) =>
        labelRows(makeHistories(made, {asOf: lastMadeDay}), {stages: [name]})
      );
      expect(parts).toHaveLength(all.length);
    })
  );
});
