import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {type Fault, faultList} from "../../lib/report/faultList.ts";
import {htmlText} from "../../lib/report/html.ts";

const fault = (row: number): Fault => ({
  severity: "refused",
  file: "squares.csv",
  row,
  cell: `H${row}`,
  heading: "mass_g",
  value: "6,5o",
  wanted: "a number",
  mend: "Type the mass in grams."
});

function entries(faults: readonly Fault[]): string[] {
  const {document} = new JSDOM(htmlText(faultList(faults))).window;
  return [...document.querySelectorAll("li")].map((node) => node.textContent!.replace(/\s+/g, " ").trim());
}

it("faultList(faults) says what must be, how to mend it, where it is and what follows", () => {
  expect(entries([fault(14)])).toEqual([
    "mass_g must be a number. Type the mass in grams. squares.csv: H14 (found “6,5o”) · row set aside, counted nowhere"
  ]);
});

it("faultList(faults) makes one entry of one fault in many rows, and counts what it does not name", () => {
  const rows = Array.from({length: 9}, (_, i) => fault(i + 2));
  expect(entries(rows)).toHaveLength(1);
  expect(entries(rows)[0]).toMatch(/H2 .*H7 \(found “6,5o”\) and 3 more like them ·/);
  expect(entries(rows.slice(0, 7))[0]).toContain("and 1 more like it");
  expect(entries(rows.slice(0, 6))[0]).not.toContain("more");
});

it("faultList(faults) tells each of one kind of fault with its own mend, where the mends differ", () => {
  const codes = [1603, 1710, 1603].map((mass, i) => ({
    ...fault(i + 2),
    code: "cell-unreadable",
    mend: `Type ${mass}.`
  }));
  const nested = entries(codes);
  expect(nested).toHaveLength(3);
  expect(nested[0]).toMatch(/^mass_g in 3 rows, each to be mended in its own way:/);
  expect(nested.slice(1)).toEqual([
    "H2 (found “6,5o”), H4 (found “6,5o”): mass_g must be a number. Type 1603.",
    "H3 (found “6,5o”): mass_g must be a number. Type 1710."
  ]);
  const many = Array.from({length: 9}, (_, i) => ({...codes[0]!, row: i, cell: `H${i}`, mend: `Type ${i}.`}));
  expect(entries(many)[0]).toContain("squares.csv: 3 more of this kind ·");
});

it("faultList(faults) tells notes and what is in no row one by one", () => {
  const {row: _, cell: __, heading: ___, value: ____, ...whole} = fault(1);
  const notes = ["one row", "two rows"].map(
    (many): Fault => ({
      ...whole,
      code: "rows-mended",
      severity: "note",
      wanted: `read with ${many} as mended`,
      mend: ""
    })
  );
  expect(entries(notes)).toEqual([
    "squares.csv is read with one row as mended. squares.csv · read so",
    "squares.csv is read with two rows as mended. squares.csv · read so"
  ]);
});

it("faultList(faults) keeps other columns, files and consequences apart, in the order given", () => {
  const others: Fault[] = [
    fault(2),
    {...fault(3), severity: "doubt"},
    {...fault(4), heading: "mc_pct"},
    {...fault(5), file: "lots.csv"}
  ];
  expect(entries(others)).toHaveLength(4);
  expect(entries(others)[1]).toContain("row used; worth a look");
});

it("faultList(faults) names the file where there is no row, and the row where there is no column", () => {
  const {row: _, cell: __, heading: ___, value: ____, ...whole} = fault(1);
  expect(entries([{...whole, severity: "blocking", wanted: "there"}])[0]).toBe(
    "squares.csv must be there. Type the mass in grams. squares.csv · no report until it is mended"
  );
  expect(entries([{...whole, row: 9}])[0]).toMatch(/^The row must be a number.*squares\.csv: row 9 ·/);
});

it("faultList([]) says that nothing is to mend", () => {
  expect(htmlText(faultList([]))).toBe("<p>Nothing to mend: every row was read and used.</p>\n");
});
