import {createHash} from "node:crypto";
import {appendFileSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, test} from "vitest";
import {files} from "../../../lib/book/records.ts";
import {readPlainFile} from "../../../scripts/io/readPlainFile.ts";
import {UserError} from "../../../scripts/io/writeReport.ts";

const events = files["events.csv"];

function fileOf(text: string): string {
  const path = join(mkdtempSync(join(tmpdir(), "plain-")), "events.csv");
  writeFileSync(path, text);
  return path;
}

const head = "date,square,event\n";
const row = (i: number) => `2025-03-14,A${String(i).padStart(6, "0")},weighed\n`;
/** Larger than what is read at a time: rows of 27 bytes. */
const large = head + Array.from({length: 30_000}, (_, i) => row(i)).join("");

test("readPlainFile: rows and digest of a file of several pieces; its bytes are read again, forwards and backwards", () => {
  const path = fileOf(large);
  const {plain, sha256} = readPlainFile(path, events)!;
  expect(sha256).toBe(createHash("sha256").update(readFileSync(path)).digest("hex"));
  expect(plain).toMatchObject({file: "events.csv", size: large.length});
  const {starts, rows} = plain.table;
  expect(rows).toBe(30_000);
  for (const i of [0, 1, 29_999, 12_345, 12_346, 7])
    expect(plain.decode(plain.bytes(starts[i]!, starts[i + 1]!))).toBe(row(i));
  expect(plain.decode(plain.bytes(0, plain.size))).toBe(large);
});

test.each([
  ["other headings", "Datum;Stück\n2025-03-14;A1\n"],
  ["a quote left open", `${head}2025-03-14,"A1,weighed\n`],
  ["nothing", ""]
])("readPlainFile: %s is not plain", (_, text) => expect(readPlainFile(fileOf(text), events)).toBeUndefined());

test("readPlainFile: a file that is changed is not read again", () => {
  const [longer, later] = [fileOf(large), fileOf(large)];
  const [one, other] = [longer, later].map((path) => readPlainFile(path, events)!.plain);
  appendFileSync(longer, row(30_000));
  utimesSync(later, new Date("2020-01-01"), new Date("2020-01-01"));
  const wanted = "events.csv was changed while it was read. Save it, close it, and run the command again.";
  expect(() => one!.bytes(0, 10)).toThrow(new UserError(wanted));
  expect(() => other!.bytes(0, 10)).toThrow(new UserError(wanted));
});

test("readPlainFile: a file that is gone when its rows are asked for again is told as that", () => {
  const path = fileOf(large);
  const {plain} = readPlainFile(path, events)!;
  rmSync(path);
  expect(() => plain.bytes(0, 10)).toThrow(
    new UserError("events.csv was read and is gone now (ENOENT). Put it back, and run the command again.")
  );
});

test("readPlainFile: a file that grows while it is read is not half taken", () => {
  const path = fileOf(large);
  const growing = {
    ...events,
    get schema() {
      appendFileSync(path, row(30_000));
      return events.schema;
    }
  };
  expect(() => readPlainFile(path, growing)).toThrow(/^events\.csv was changed while it was read\./);
});

test("readPlainFile: a file that is not there is the system's error", () => {
  expect(() => readPlainFile(join(tmpdir(), "no", "events.csv"), events)).toThrow(/ENOENT/);
});
