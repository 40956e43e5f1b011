import {mkdtempSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {parse} from "csv-parse/sync";
import {expect, test} from "vitest";
import type {ProposedEvent} from "../../../lib/rack/proposedEvents.ts";
import {proposedCsv, writeProposed} from "../../../scripts/io/proposedCsv.ts";
import {headings} from "../../book/smallBook.ts";

const rows: ProposedEvent[] = [
  {square: "A1", event: "delivered", stage: "finished", order: "O;1", note: "Why, and what"},
  {square: "=1+1", event: "turned", stage: "rough-round", note: "Why"}
];
const ours = headings["events.csv"].split(",");
const form = (names: string[], delimiter: "," | ";" = ",") => ({
  headings: names,
  columns: Object.fromEntries(names.map((name, index) => [name, index])),
  delimiter
});
/** What another reader of CSV finds. */
const read = (text: string, delimiter: string) => parse(text, {bom: true, delimiter}) as string[][];

test("proposedCsv keeps the book's headings, their order and what stands between, days left blank", () => {
  const source = {
    headings: ["Anmerkung", "Wer", "Tag", "Stab", "Was", "Stand", "Auftrag"],
    columns: {note: 0, date: 2, square: 3, event: 4, stage: 5, order: 6},
    delimiter: ";" as const
  };
  const {text, lacking, guarded} = proposedCsv(rows, source);
  expect(read(text, ";")).toEqual([
    source.headings,
    ["Why, and what", "", "", "A1", "delivered", "finished", "O;1"],
    ["Why", "", "", "'=1+1", "turned", "rough-round", ""]
  ]);
  expect(lacking).toEqual([]);
  expect(guarded).toEqual(["=1+1"]);
});

test("proposedCsv puts a column that the book lacks behind its own, and says so", () => {
  const {text, lacking} = proposedCsv(rows, form(ours));
  expect(lacking).toEqual(["note"]);
  expect(read(text, ",")[0]).toEqual([...ours, "note"]);
  expect(read(text, ",")[1]!.at(-1)).toBe("Why, and what");
});

test("proposedCsv lets no spreadsheet take a cell for a formula, and leaves numbers alone", () => {
  const {text} = proposedCsv(
    ["@x", "+x", "-x", "\tx", "-5", "+1,5", "0007"].map((square) => ({square, note: "Why"})),
    form(["square", "note"])
  );
  expect(
    read(text, ",")
      .slice(1)
      .map(([square]) => square)
  ).toEqual(["'@x", "'+x", "'-x", "'\tx", "-5", "+1,5", "0007"]);
});

test("writeProposed keeps what is not the same as it would write: a cell filled in, a row struck", () => {
  const folder = mkdtempSync(join(tmpdir(), "proposed-"));
  const said: string[] = [];
  const write = (text: string | undefined) => writeProposed(folder, text, (line) => said.push(line));
  const first = proposedCsv(rows, form([...ours, "note"])).text;
  const path = join(folder, "proposed-events.csv");
  expect(write(first)).toBe(path);
  expect(write(first)).toBe(path);
  expect([readFileSync(path, "utf8"), said]).toEqual([first, []]);
  const edits = [
    first.replace("\r\n,A1,", "\r\n2025-06-03,A1,"),
    first.replace("delivered,", "discarded,"),
    first.split("\r\n").toSpliced(1, 1).join("\r\n")
  ];
  for (const [i, edited] of edits.entries()) {
    writeFileSync(path, edited);
    write(first);
    const kept = join(folder, `proposed-events-edited${i === 0 ? "" : `-${i + 1}`}.csv`);
    expect(said.at(-1)).toBe(`The events proposed before are not the same and are kept in ${kept}.`);
    expect([readFileSync(kept, "utf8"), readFileSync(path, "utf8")]).toEqual([edited, first]);
  }
  writeFileSync(path, edits[0]!);
  expect(write(undefined)).toBeUndefined();
  expect(readdirSync(folder)).toHaveLength(4);
});

test("proposedCsv names every cell that it guards, an order's too", () => {
  const order = {square: "A1", event: "delivered", stage: "finished", order: "=7", note: "Why"} as const;
  expect(proposedCsv([order], form([...ours, "note"])).guarded).toEqual(["=7"]);
});
