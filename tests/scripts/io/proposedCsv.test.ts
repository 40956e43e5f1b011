import {mkdtempSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {parse} from "csv-parse/sync";
import {expect, test} from "vitest";
import type {ProposedEvent} from "../../../lib/rack/proposedEvents.ts";
import {proposedCsv, writeProposed} from "../../../scripts/io/proposedCsv.ts";
import {headings, settingsOf} from "../../book/smallBook.ts";

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

test("writeProposed writes anew what nobody filled in, and keeps what somebody did", () => {
  const folder = mkdtempSync(join(tmpdir(), "proposed-"));
  const said: string[] = [];
  const write = (text: string | undefined) => writeProposed(folder, text, settingsOf(), (line) => said.push(line));
  const first = proposedCsv(rows, form([...ours, "note"])).text;
  const other = proposedCsv(rows.slice(1), form([...ours, "note"])).text;
  const path = join(folder, "proposed-events.csv");
  expect(write(first)).toBe(path);
  expect(write(other)).toBe(path);
  expect([readFileSync(path, "utf8"), said]).toEqual([other, []]);
  const filled = first.replace("\r\n,A1,", "\r\n2025-06-03,A1,");
  writeFileSync(path, filled);
  write(other);
  const kept = join(folder, "proposed-events-edited.csv");
  expect(said).toEqual([`Events proposed before had been filled in and are kept in ${kept}.`]);
  expect([readFileSync(kept, "utf8"), readFileSync(path, "utf8")]).toEqual([filled, other]);
  expect(write(undefined)).toBeUndefined();
  expect(readdirSync(folder)).toEqual(["proposed-events-edited.csv"]);
});
