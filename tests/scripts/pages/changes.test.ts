import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {htmlText} from "../../../lib/report/html.ts";
import type {Table} from "../../../lib/report/table.ts";
import {tableSection} from "../../../lib/report/tableSection.ts";
import {changes, changeWords, printedNumbers, revisedMonths} from "../../../scripts/pages/changes.ts";

const now = [
  {label: "finished shafts", per100: 66.04, low: 62.7, high: 69.2},
  {label: "thrown out: warp", per100: 7.8},
  {label: "thrown out: knot", per100: 4.0}
];
const earlier = [
  {label: "finished shafts", per100: 66.24},
  {label: "thrown out: warp", per100: 7.8},
  {label: "thrown out: knot", per100: 3.7}
];
const rows = {
  events: {"2026-08": [40, "aaaaaaaaaaaa"] as [number, string], "2026-09": [30, "bbbbbbbbbbbb"] as [number, string]}
};
const kept = {
  format: 1 as const,
  workshop: "W",
  asOf: "2026-09-30",
  version: "0.1.0",
  per100: {"finished shafts": 66.9, "thrown out: warp": 7.8, "thrown out: knot": 3.7},
  rows: {
    events: {"2026-08": [41, "cccccccccccc"] as [number, string], "2026-09": [30, "dddddddddddd"] as [number, string]}
  }
};
const base = {now, earlier, day: "2026-09-30", rows, version: "0.1.0"};

function shown(compared: Parameters<typeof changes>[0]) {
  const tables: Table[] = [];
  const table = (one: Table) => {
    tables.push(one);
    return tableSection(one);
  };
  const {document} = new JSDOM(changes(compared, {table}).map(htmlText).join("")).window;
  return {tables, words: document.querySelector("p")!.textContent, cells: (row: string) => cellsOf(document, row)};
}

function cellsOf(document: Document, head: string): string[] | undefined {
  const row = [...document.querySelectorAll("tbody tr")].find((one) => one.querySelector("th")!.textContent === head);
  return row && [...row.querySelectorAll("td")].map((cell) => cell.textContent!);
}

it("changes() without a report kept says so, and sets today's book of then beside now", () => {
  const {words, cells, tables} = shown(base);
  expect(words).toContain("No report of an earlier month lies in this folder");
  expect(cells("finished shafts")).toEqual(["66.2", "66.0 (62.7 to 69.2)", "−0.2"]);
  expect(cells("thrown out: knot")).toEqual(["3.7", "4.0", "0.3"]);
  expect(cells("thrown out: warp")).toBeUndefined();
  expect(tables.map(({id}) => id)).toEqual(["what-changed"]);
});

it("changes() with a report kept shows what was printed, and the months that the book tells otherwise", () => {
  const {words, cells, tables} = shown({...base, kept});
  expect(words).toContain("its figures are revised below");
  expect(cells("finished shafts")).toEqual(["66.9", "66.2", "66.0 (62.7 to 69.2)", "−0.2"]);
  expect(cells("events")).toEqual(["2026-08", "41", "40"]);
  expect(tables[1]!.rows.map(({month}) => month)).toEqual(["2026-08", "2026-09"]);
});

it("changes() of a book that tells the same, by another version, names the version", () => {
  const {words, tables} = shown({...base, kept: {...kept, rows}, version: "0.2.0"});
  expect(words).toContain("what it said when that report was made");
  expect(words).toContain("made by square-to-shaft 0.1.0, this one by 0.2.0");
  expect(tables).toHaveLength(1);
});

it("changes() keeps a defect whose figure of then was revised, though it has not changed since", () => {
  const revised = {...kept, per100: {...kept.per100, "thrown out: warp": 7.5}};
  expect(shown({...base, kept: revised}).cells("thrown out: warp")).toEqual(["7.5", "7.8", "7.8", "0.0"]);
});

it("changes() still tells of a figure that was printed and is in the book no more", () => {
  const gone = {...kept, per100: {...kept.per100, "thrown out: stain": 3}};
  expect(shown({...base, kept: gone}).cells("thrown out: stain")).toEqual(["3.0", "–", "–", "–"]);
});

it("revisedMonths() names months come, gone and changed, of files on either side", () => {
  expect(
    revisedMonths(
      {lots: {"2026-01": [2, "a"], "2026-02": [1, "b"]}, climate: {}},
      {lots: {"2026-02": [1, "b"]}, orders: {"2026-03": [5, "c"]}}
    )
  ).toEqual([
    {file: "lots", month: "2026-01", rowsThen: 2, rowsNow: 0},
    {file: "orders", month: "2026-03", rowsThen: 0, rowsNow: 5}
  ]);
});

it("changeWords() is the difference of what is printed", () => {
  expect(changeWords(66.04, 66.24, "2026-09-30")).toBe("down 0.2 points on 2026-09-30");
  expect(changeWords(66.26, 66.24, "2026-09-30")).toBe("up 0.1 points on 2026-09-30");
  expect(changeWords(66.21, 66.24, "2026-09-30")).toBe("as on 2026-09-30");
  expect(changeWords(undefined, 66.24, "2026-09-30")).toBeUndefined();
});

it("printedNumbers() rounds as the page does and leaves out what could not be computed", () => {
  expect(printedNumbers([...now, {label: "none", per100: undefined}])).toEqual({
    "finished shafts": 66,
    "thrown out: warp": 7.8,
    "thrown out: knot": 4
  });
});
