import fc from "fast-check";
import {expect, test} from "vitest";
import {dayReadings} from "../../lib/book/dates.ts";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import {type Evidence, resolve, weigh} from "../../lib/book/evidence.ts";

type Mark = "point" | "comma";
const marks = ["point", "comma"] as const;
type Cell = Partial<Record<Mark, number>>;

const points = (n: number): Cell[] => Array.from({length: n}, () => ({point: 12.5}));
const commas = (n: number): Cell[] => Array.from({length: n}, () => ({comma: 12.5}));

test("weigh counts the cells that can be read one way only", () => {
  const cells: Cell[] = [{point: 1.5}, {comma: 2.5}, {point: 0}, {point: 3, comma: 3}, {point: 1.234, comma: 1234}, {}];
  expect(weigh(cells, marks)).toEqual({habit: "point", counts: {point: 2, comma: 1}, clear: false});
});

test("weigh takes anything that can be gone through once", () => {
  expect(weigh(new Set<Cell>([{comma: 1.5}]), marks)).toEqual({
    habit: "comma",
    counts: {point: 0, comma: 1},
    clear: true
  });
});

test.each<[string, Cell[], Evidence<Mark>]>([
  ["no cells", [], {counts: {point: 0, comma: 0}, clear: false}],
  ["no evidence", [{point: 3, comma: 3}, {}], {counts: {point: 0, comma: 0}, clear: false}],
  ["a tie", [...points(4), ...commas(4)], {counts: {point: 4, comma: 4}, clear: false}],
  ["one cell", points(1), {habit: "point", counts: {point: 1, comma: 0}, clear: true}],
  ["8 of 9", [...points(8), ...commas(1)], {habit: "point", counts: {point: 8, comma: 1}, clear: false}],
  ["9 of 10", [...points(9), ...commas(1)], {habit: "point", counts: {point: 9, comma: 1}, clear: true}],
  ["9 of 10 for the second", [...commas(9), ...points(1)], {habit: "comma", counts: {point: 1, comma: 9}, clear: true}],
  ["17 of 19", [...commas(17), ...points(2)], {habit: "comma", counts: {point: 2, comma: 17}, clear: false}],
  ["18 of 20", [...commas(18), ...points(2)], {habit: "comma", counts: {point: 2, comma: 18}, clear: true}]
])("weigh: %s", (_, cells, evidence) => expect(weigh(cells, marks)).toEqual(evidence));

const clear: Evidence<Mark> = {habit: "comma", counts: {point: 0, comma: 5}, clear: true};
const mixed: Evidence<Mark> = {habit: "comma", counts: {point: 2, comma: 5}, clear: false};
const tied: Evidence<Mark> = {counts: {point: 2, comma: 2}, clear: false};
const pointed: Evidence<Mark> = {habit: "point", counts: {point: 5, comma: 0}, clear: true};

test.each<[string, Cell, Evidence<Mark>, ReturnType<typeof resolve<Mark, number>>]>([
  ["no reading", {}, clear, undefined],
  ["the file's habit", {comma: 1.5}, clear, {value: 1.5}],
  ["the file's habit, unclear", {comma: 1.5}, mixed, {value: 1.5}],
  ["the other habit", {point: 1.5}, clear, {other: 1.5}],
  ["the other habit, unclear", {point: 1.5}, mixed, {other: 1.5}],
  ["the other habit, turned round", {comma: 1.5}, pointed, {other: 1.5}],
  ["one reading, no habit", {point: 1.5}, tied, {value: 1.5}],
  ["the other one reading, no habit", {comma: 1.5}, tied, {value: 1.5}],
  ["nought is a reading", {point: 0}, pointed, {value: 0}],
  ["equal readings", {point: 3, comma: 3}, clear, {value: 3}],
  ["equal readings, unclear", {point: 3, comma: 3}, mixed, {value: 3}],
  ["differing readings", {point: 1.234, comma: 1234}, clear, {value: 1234}],
  ["differing readings, turned round", {point: 1.234, comma: 1234}, pointed, {value: 1.234}],
  ["differing readings, unclear", {comma: 1234, point: 1.234}, mixed, {ambiguous: [1.234, 1234]}],
  ["differing readings, no habit", {comma: 1234, point: 1.234}, tied, {ambiguous: [1.234, 1234]}]
])("resolve: %s", (_, cell, evidence, result) => expect(resolve(cell, evidence, marks)).toEqual(result));

const value = fc.integer({min: 0, max: 2});
const cells = fc.array(fc.record({point: value, comma: value}, {requiredKeys: []}));

test("neither the order of the cells nor that of the habits changes the evidence", () => {
  fc.assert(
    fc.property(cells, (list) => {
      const evidence = weigh(list, marks);
      expect(weigh(list.toReversed(), marks)).toEqual(evidence);
      expect(weigh(list, ["comma", "point"])).toEqual(evidence);
    })
  );
});

test("resolve never invents: what it says is a reading of the cell, and a choice between two only on clear evidence", () => {
  fc.assert(
    fc.property(cells, (list) => {
      const evidence = weigh(list, marks);
      for (const cell of list) {
        const said = resolve(cell, evidence, marks);
        const readings = Object.values(cell);
        if (said === undefined) expect(readings).toEqual([]);
        else if ("ambiguous" in said) expect(said.ambiguous).toEqual([cell.point, cell.comma]);
        else expect(readings).toContain("value" in said ? said.value : said.other);
        if (new Set(readings).size === 2) expect(said !== undefined && "value" in said).toBe(evidence.clear);
      }
    })
  );
});

// Dates as Node's Intl (Unicode CLDR) writes them: those of the 13th and later give the order away, and so settle all the others.
test.each(["en-GB", "en-US"])("a year of numeric dates as %s writes them is read without a fault", (locale) => {
  const orders = ["day-first", "month-first"] as const;
  const format = new Intl.DateTimeFormat(locale, {day: "numeric", month: "numeric", year: "numeric", timeZone: "UTC"});
  const from = dayNumber("2027-01-01");
  const days = Array.from({length: 365}, (_, index) => dayText(from + index));
  const readings = days.map((day) => dayReadings(format.format(new Date(day))));
  const evidence = weigh(readings, orders);
  expect(evidence.counts).toEqual(
    locale === "en-GB" ? {"day-first": 365 - 144, "month-first": 0} : {"day-first": 0, "month-first": 365 - 144} // 12 × 12 readable both ways
  );
  expect(readings.map((cell) => resolve(cell, evidence, orders))).toEqual(days.map((day) => ({value: day})));
});
