import fc from "fast-check";
import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {type LabelWish, labelRows, type ReadyNow} from "../../lib/rack/labelRows.ts";
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
/** S1 waits for a weighing, S2 should be ready three weeks on. */
const known: Record<string, ReadyNow> = {
  S1: {verdict: "never weighed", weigh: true, until: "2025-07-08"},
  S2: {verdict: "not yet", weigh: false, until: "2025-07-20"}
};
const rowsOf = (wish: LabelWish = {}, more: Record<string, ReadyNow> = {}) =>
  labelRows(now, wish, (square) => ({...known, ...more})[square]);
const numbers = (wish: LabelWish = {}, more: Record<string, ReadyNow> = {}) =>
  rowsOf(wish, more).map(({square}) => square);

test("labelRows has what is in stock: to be weighed, ready about a day, or finished", () => {
  expect(rowsOf()).toEqual([
    {square: "S1", species: "ash", stage: "square", state: "weigh", day: "2025-07-01", densityAt12KgM3: 690},
    {square: "S2", species: "maple", stage: "rough-round", state: "about", day: "2025-07-20", densityAt12KgM3: 712.4},
    {square: "S3", species: "ash", stage: "finished", finishedOn: "2025-06-01", densityAt12KgM3: 690}
  ]);
});

test("labelRows keeps to stages, lots, states and named squares in their order, or goes by stage", () => {
  expect(numbers({stages: ["square", "finished"]})).toEqual(["S1", "S3"]);
  expect(numbers({lots: ["L2"]})).toEqual(["S2"]);
  expect(numbers({squares: ["S3", "S1", "S5", "S9"]})).toEqual(["S3", "S1"]);
  expect(numbers({squares: ["S3", "S2", "S1"], byStage: true})).toEqual(["S1", "S2", "S3"]);
  expect(numbers({states: ["weigh"]})).toEqual(["S1"]);
  expect(numbers({states: ["ready"]})).toEqual([]);
  expect(numbers({states: ["ready"]}, {S2: {verdict: "ready", weigh: false}})).toEqual(["S2"]);
});

test("labelRows says ready of nothing but what is, and gives no day that has come as a forecast", () => {
  const stands = (one: ReadyNow) => rowsOf({squares: ["S1"]}, {S1: one}).map(({state, day}) => [state, day])[0];
  expect(stands({verdict: "ready", weigh: false})).toEqual(["ready", "2025-07-01"]);
  expect(stands({verdict: "not yet", weigh: false, until: "2025-07-01"})).toEqual([undefined, undefined]);
  expect(stands({verdict: "not yet", weigh: true, until: "2025-07-01"})).toEqual(["weigh", "2025-07-01"]);
  expect(labelRows(now, {squares: ["S2"]}, () => undefined)[0]).not.toHaveProperty("state");
});

test("labelRows: one label a piece in stock, whatever the pieces; the parts by stage make the whole", () => {
  fc.assert(
    fc.property(anyPieces, (made) => {
      const all = labelRows(makeHistories(made, {asOf: lastMadeDay}), {}, () => undefined);
      expect(all.map(({square}) => square)).toEqual(
        made.filter(({fate}) => fate === "in stock" || fate === "finished").map(({square}) => square)
      );
      const parts = now.settings.stages.flatMap(({name}) =>
        labelRows(makeHistories(made, {asOf: lastMadeDay}), {stages: [name]}, () => undefined)
      );
      expect(parts).toHaveLength(all.length);
    })
  );
});
