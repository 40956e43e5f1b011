import {readFileSync} from "node:fs";
import fc from "fast-check";
import {expect, test} from "vitest";
import type {Field} from "../../lib/book/field.ts";
import {fields} from "../../lib/book/field.ts";
import {type FileName, fileNames, files, type RecordKind} from "../../lib/book/records.ts";
import {plainly, rowByRow, told} from "./plainFiles.ts";

const numbers = [
  "12",
  "12.5",
  "12.50",
  "0",
  "1650",
  "1.655",
  "12,5",
  "1,655",
  "-4",
  "+3",
  ".5",
  "5.",
  "1e3",
  "0x10",
  "007",
  "16o3",
  " 12 ",
  "12 mm",
  "1/2",
  "9".repeat(16),
  "99999999",
  "12.3456",
  "∞",
  "#REF!",
  "£12.50",
  "12½"
];
const days = [
  "2025-03-14",
  "2025-02-29",
  "2024-02-29",
  "1899-12-31",
  "2025-13-01",
  "14/03/2025",
  "03/04/2025",
  "14.3.2025",
  "14 Mar 2025",
  "2025-3-4",
  "45000",
  "2031-01-01",
  "2025-03-14T10:00",
  "25-01-14",
  " 2025-03-14"
];
const texts = [
  "L031",
  "A0001",
  "ash",
  "Ash",
  "turned",
  "Turned",
  "weighed",
  "discarded",
  "kiln",
  "white",
  "Low Fold Sawmill",
  "Märchen",
  "日本",
  " spaced ",
  "a,b",
  'say ""so""',
  "two\nlines",
  "two\r\nlines",
  "tab\there",
  "\u0000",
  "\u007f",
  "\ufffd",
  "-",
  "?",
  "n/a",
  "none",
  "#N/A",
  "Err:502",
  "total",
  "Total",
  "---",
  "example: write over this row",
  "x".repeat(250),
  "=1+2",
  "constructor",
  "__proto__",
  "\u00a0",
  "é",
  "e\u0301"
];

function cellOf({kind, enum: words = []}: Field): fc.Arbitrary<string> {
  const own =
    kind === "date"
      ? days
      : kind === "number" || kind === "integer"
        ? numbers
        : kind === "word"
          ? [...words, ...texts]
          : texts;
  const likely =
    kind === "date"
      ? fc.integer({min: 0, max: 400}).map((n) => new Date(Date.UTC(2025, 0, 1 + n)).toISOString().slice(0, 10))
      : kind === "number" || kind === "integer"
        ? fc.integer({min: 100, max: 2500}).map(String)
        : fc.constantFrom(...(words.length > 0 ? words : ["L001", "L002", "A0001", "A0002", "ash", "O-1"]));
  return fc.oneof(
    {weight: 12, arbitrary: likely},
    {weight: 1, arbitrary: fc.constantFrom(...own)},
    {weight: 1, arbitrary: fc.constant("")}
  );
}

/** A cell as a file has it: in quotes where it must be, and now and then where it need not. */
const written = (cell: string, wantsQuotes: boolean) => (wantsQuotes || /[",\n\r]/.test(cell) ? `"${cell}"` : cell);

const anyFile = fc.constantFrom(...fileNames).chain((file) => {
  const wanted = fields((files[file] as RecordKind).schema).map(([, field]) => field);
  const columns = fc.tuple(fc.shuffledSubarray(wanted, {minLength: wanted.length}), fc.nat(3)).map(([all, left]) => {
    const optional = all.filter((field) => field.optional).slice(0, left);
    return all.filter((field) => !optional.includes(field));
  });
  return columns.chain((own) => {
    const row = fc.tuple(...own.map((field) => fc.tuple(cellOf(field), fc.boolean(), fc.nat(9))));
    const line = fc.oneof(
      {weight: 20, arbitrary: row.map((cells) => cells.map(([cell, , n]) => written(cell, n === 0)).join(","))},
      {
        weight: 1,
        arbitrary: fc.constantFrom(
          "",
          ",,,",
          "a note of three words",
          own.map(({heading}) => heading).join(","),
          "x,y",
          '"open',
          'in"side',
          "total,,12"
        )
      },
      {weight: 1, arbitrary: row.map((cells) => `${cells.map(([cell]) => written(cell, false)).join(",")},,extra`)}
    );
    return fc.record({
      file: fc.constant(file),
      lines: fc.array(line, {maxLength: 12}),
      head: fc.constant(own.map(({heading}) => heading).join(",")),
      end: fc.constantFrom("\n", "\n", "\n", "\r\n"),
      isEnded: fc.boolean(),
      mark: fc.boolean(),
      chunk: fc.integer({min: 1, max: 300})
    });
  });
});

let [plain, asked] = [0, 0];

test("readPlain reads of hostile files what readRecords reads, to the last record and problem", () => {
  fc.assert(
    fc.property(anyFile, ({file, lines, head, end, isEnded, mark, chunk}) => {
      const text = `${mark ? "\ufeff" : ""}${[head, ...lines].join(end)}${isEnded ? end : ""}`;
      const bytes = new TextEncoder().encode(text);
      asked++;
      const got = plainly(bytes, file, chunk);
      if (!got) return;
      plain++;
      expect(told(got)).toEqual(told(rowByRow(bytes, file)));
    }),
    {numRuns: 3000}
  );
});

test("most of these files are plain enough to be read so: the test before asks something", () => {
  expect(plain / asked).toBeGreaterThan(0.6);
});

test.each(["lots.csv", "squares.csv", "orders.csv", "events.csv", "climate.csv", "advice.csv"] as const)(
  "readPlain reads of the sample's %s what readRecords reads, a few odd rows among them",
  (file: FileName) => {
    const bytes = readFileSync(`sample-data/${file}`);
    const got = plainly(bytes, file, 65_536)!;
    expect(told(got)).toEqual(told(rowByRow(bytes, file)));
  }
);

test.each(["\r", "\r\n", "\n\r", "", '\n""', "\n\n", "\n,"])(
  "readPlain reads a file that ends in %j as readRecords reads it",
  (end) => {
    const bytes = new TextEncoder().encode(`date,square,event\n2025-01-01,A1,weighed\n2025-01-02,A2,weighed${end}`);
    expect(told(plainly(bytes, "events.csv", 7)!)).toEqual(told(rowByRow(bytes, "events.csv")));
  }
);

test("some rows are read again from their bytes, in order, those that are no data left out", () => {
  const bytes = new TextEncoder().encode(
    'date,square,event,note\n2025-01-01,A1,weighed,\n\n2025-01-02,"A,2",weighed,"two\nlines"\n2025-01-03,A3,weighed,x\n'
  );
  const {source} = plainly(bytes, "events.csv")!;
  expect(source.count).toBe(3);
  expect(source.some!(new Set([5, 4, 3, 9]))).toEqual([
    {row: 4, cells: ["2025-01-02", "A,2", "weighed", "two\nlines"]},
    {row: 5, cells: ["2025-01-03", "A3", "weighed", "x"]}
  ]);
  expect(source.rows.map(({row}) => row)).toEqual([2, 4, 5]);
});
