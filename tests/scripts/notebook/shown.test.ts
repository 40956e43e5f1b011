import * as Plot from "@observablehq/plot";
import {expect, test} from "vitest";
import {consoleText} from "../../../scripts/notebook/consoleText.ts";
import {shown} from "../../../scripts/notebook/shown.ts";
import {tableOf} from "../../../scripts/notebook/tableOf.ts";
import {densityDots} from "../../browser/demoFigures.ts";

test("a number in its unit is rounded by the one formatter", () => {
  expect(shown(0.7315, {unit: "fraction"})).toEqual({kind: "text", text: "73.2\u00a0%"});
  expect(shown(-1250, {unit: "money whole"}, "£")).toEqual({kind: "text", text: "−£1\u202f250"});
  expect(shown(undefined, {unit: "g"})).toEqual({kind: "text", text: "–"});
});

test("a number without a unit keeps six digits", () => {
  expect([1234567, 0.00012345678, -2.5, Number.NaN].map((value) => (shown(value, {}) as {text: string}).text)).toEqual([
    "1\u202f234\u202f567",
    "0.000123457",
    "−2.5",
    "NaN"
  ]);
});

test("a unit that is none, or one for what is no number, is refused", () => {
  expect(() => shown(1, {unit: "furlong" as "g"})).toThrow(
    'show: unit must be a unit of numbers, such as fraction, count or kg/m³, got "furlong".'
  );
  expect(() => shown(1, {unit: "text"})).toThrow("show: unit must be");
  expect(() => shown("a", {unit: "g"})).toThrow('show: value must be a number where a unit is given, got "a".');
  expect(() => shown([1, 2], {table: {caption: "x"}})).toThrow("show: value must be an array of flat rows");
});

test("each kind of value is known: text, figure, plot, rows; all else is printed", () => {
  const kinds = [
    "a",
    densityDots,
    {marks: [Plot.ruleY([0])]},
    [{a: 1}],
    [],
    [1],
    {a: 1},
    [{a: {b: 1}}],
    null,
    true
  ].map((value) => shown(value, {}).kind);
  expect(kinds).toEqual([
    "text",
    "figure",
    "plot",
    "table",
    "printed",
    "printed",
    "printed",
    "printed",
    "printed",
    "printed"
  ]);
  expect(shown([1, "a"], {})).toEqual({kind: "printed", text: "[ 1, 'a' ]"});
});

test("tableOf(rows) reads unit, heading and interval off the names", () => {
  const rows = [
    {
      lot: "L1",
      massG: 300.4,
      yieldFraction: 0.5,
      yieldLow: 0.4,
      yieldHigh: 0.6,
      pieces: 2,
      boughtOn: "2026-01-02",
      dry: true
    }
  ];
  expect(tableOf(rows)).toEqual({
    caption: "1 row",
    columns: [
      {key: "lot", heading: "Lot", unit: "text"},
      {key: "massG", heading: "Mass", unit: "g"},
      {key: "yieldFraction", heading: "Yield", unit: "fraction", low: "yieldLow", high: "yieldHigh"},
      {key: "pieces", heading: "Pieces", unit: "count"},
      {key: "boughtOn", heading: "Bought on", unit: "date"},
      {key: "dry", heading: "Dry", unit: "text"}
    ],
    rows: [{...rows[0], dry: "yes"}]
  });
});

test.each([
  ["densityAt12KgM3", "Density at 12", "kg/m³"],
  ["mc_pct", "Mc", "percent"],
  ["length_mm", "Length", "mm"],
  ["restDays", "Rest", "days"],
  ["temperatureC", "Temperature", "°C"],
  ["defectPer100", "Defect", "per 100"],
  ["p", "P", "number"]
])("tableOf(rows) takes %s for “%s” in %s", (key, heading, unit) => {
  expect(tableOf([{[key]: 1.5}])!.columns).toEqual([{key, heading, unit}]);
});

test("tableOf(rows, {columns}) keeps the order wished, and says which columns there are when one is not", () => {
  const rows = [{a: 1, b: 2.5}, {c: "x"}];
  expect(tableOf(rows, {caption: "C", note: "N", columns: [{key: "b", heading: "Bee", unit: "mm"}, "c"]})).toEqual({
    caption: "C",
    note: "N",
    columns: [
      {key: "b", heading: "Bee", unit: "mm"},
      {key: "c", heading: "C", unit: "text"}
    ],
    rows
  });
  expect(() => tableOf(rows, {columns: ["d"]})).toThrow('show: columns must be keys of the rows (a, b, c), got "d".');
  expect(tableOf([], {columns: ["d"]})).toMatchObject({rows: [], columns: [{key: "d"}]});
  expect(tableOf([])).toBeUndefined();
});

test("tableOf(rows) shows 200 rows at most and says how many there are", () => {
  const table = tableOf(Array.from({length: 201}, (_, i) => ({i})))!;
  expect([table.rows.length, table.note]).toEqual([200, "The first 200 of 201 rows."]);
});

test("tableOf(frame) reads columns and values; an index that only counts is left out", () => {
  const frame = {
    columns: ["supplier", "massG"],
    values: [
      ["A", 1],
      ["B", Number.NaN]
    ],
    index: [0, 1]
  };
  expect(tableOf(frame)).toMatchObject({
    columns: [
      {key: "supplier", unit: "text"},
      {key: "massG", unit: "g"}
    ],
    rows: [
      {supplier: "A", massG: 1},
      {supplier: "B", massG: undefined}
    ]
  });
  expect(tableOf({...frame, index: ["x", "y"]})!.rows[0]).toEqual({index: "x", supplier: "A", massG: 1});
});

test("tableOf(series) is one column", () => {
  expect(tableOf({columns: ["pieces"], values: [1, 2], index: [0, 1]})).toMatchObject({
    columns: [{key: "pieces", heading: "Pieces", unit: "count"}],
    rows: [{pieces: 1}, {pieces: 2}]
  });
});

test("consoleText(value) is plain text, with the numbers under each other", () => {
  const rows = [
    {lot: "L1", massG: 5, yieldFraction: 0.5, yieldLow: 0.4, yieldHigh: 0.6},
    {lot: "L10", massG: 12}
  ];
  expect(consoleText(rows, {table: {caption: "Lots"}})).toBe(
    [
      "Lots",
      "Lot  Mass (g)            Yield (%)",
      "L1          5  50.0 (40.0 to 60.0)",
      "L10        12                    –"
    ].join("\n")
  );
  expect(consoleText(0.5, {unit: "fraction"})).toBe("50.0\u00a0%");
  expect(consoleText(densityDots, {}).split("\n")[0]).toBe(densityDots.title);
});
