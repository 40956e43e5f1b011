import {readdirSync, readFileSync} from "node:fs";
import {createRequire} from "node:module";
import {dirname, join} from "node:path";
import {CsvError, type Options, parse} from "csv-parse/sync";
import fc from "fast-check";
import {describe, expect, test} from "vitest";
import {delimiters, readGrid} from "../../lib/book/grid.ts";
import {decodeText} from "../../scripts/io/decodeText.ts";

const cellsOf = (text: string, delimiter?: (typeof delimiters)[number]) =>
  readGrid(text, "any.csv", {delimiter}).rows.map(({cells}) => cells);

// Source: csv-spectrum 2.0.0 (npm), twelve CSV files with what they hold as JSON. Where we differ, and why:
// - newlines_crlf: a line end within quotes is CR LF there and LF here, as an owner's note is one text whatever machine wrote it.
// - location_coordinates: its JSON has another telephone number than its CSV; a slip there, so the CSV's own is taken.
describe("csv-spectrum", () => {
  const folder = dirname(createRequire(import.meta.url).resolve("csv-spectrum/package.json"));
  const names = readdirSync(join(folder, "csvs")).map((name) => name.replace(/\.csv$/, ""));
  const held = (name: string): string => {
    const json = readFileSync(join(folder, "json", `${name}.json`), "utf8");
    if (name === "newlines_crlf") return json.replace("\\r\\n", "\\n");
    if (name === "location_coordinates") return json.replace("1234567890", "2095257564");
    return json;
  };

  test("has its twelve files, and the slip", () => {
    expect(names).toHaveLength(12);
    expect(readFileSync(join(folder, "json", "location_coordinates.json"), "utf8")).toContain("1234567890");
    expect(readFileSync(join(folder, "csvs", "location_coordinates.csv"), "utf8")).toContain("2095257564");
  });

  test.each(names)("%s", (name) => {
    const {text} = decodeText(readFileSync(join(folder, "csvs", `${name}.csv`)));
    const [headings, ...rows] = cellsOf(text);
    const records = rows.map((cells) => Object.fromEntries(headings!.map((heading, index) => [heading, cells[index]])));
    expect(records).toEqual([JSON.parse(held(name))].flat());
  });
});

// Source: RFC 4180 (2005), section 2, rules 1 to 7 with its own examples, read in two copies in public repositories that agree (the
// RFC itself could not be opened). We go beyond it: any line end, four delimiters, rows of any length, a quote within a plain cell.
const plain = [
  ["aaa", "bbb", "ccc"],
  ["zzz", "yyy", "xxx"]
];
test.each([
  ["1, each record on a line ended by CR LF", "aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", plain],
  ["2, the last line end may be missing", "aaa,bbb,ccc\r\nzzz,yyy,xxx", plain],
  [
    "3, a line of headings has the format of the others",
    "field_name,field_name,field_name\r\naaa,bbb,ccc\r\nzzz,yyy,xxx\r\n",
    [["field_name", "field_name", "field_name"], ...plain]
  ],
  ["4, spaces are part of a field", "aaa, bbb ,ccc\r\n", [["aaa", " bbb ", "ccc"]]],
  ["5, a field may be quoted", '"aaa","bbb","ccc"\r\nzzz,yyy,xxx', plain],
  [
    "6, line breaks and commas stand within quotes",
    '"aaa","b\r\nbb","c,c"\r\nzzz,yyy,xxx',
    [["aaa", "b\nbb", "c,c"], plain[1]]
  ],
  ["7, a quote within quotes is doubled", '"aaa","b""bb","ccc"', [["aaa", 'b"bb', "ccc"]]]
])("RFC 4180, 2, rule %s", (_, text, rows) => {
  expect(cellsOf(text, ",")).toEqual(rows);
});

// csv-parse 7.0.3 was written apart from the parser that readGrid stands on. It is told of the three line ends and to take rows of any
// length. Two differences are meant and levelled here:
// - a line end within quotes: as written there, LF here;
// - a last row of one empty cell in quotes that no line end follows: a row there, none here.
const theirs = (text: string, delimiter: string, more: Options = {}): string[][] => {
  const lines = {record_delimiter: ["\r\n", "\n", "\r"], relax_column_count: true};
  const rows = parse(text, {delimiter, ...lines, ...more}) as string[][];
  if (!/[\r\n]$/.test(text) && rows.at(-1)?.join("|") === "") rows.pop();
  return rows.map((cells) => cells.map((cell) => cell.replaceAll(/\r\n?/g, "\n")));
};

const lineEnd = fc.constantFrom("\n", "\r\n", "\r");
const written = (cells: readonly {text: string; quoted: boolean}[], delimiter: string) =>
  cells
    .map(({text, quoted}) =>
      quoted || /["\r\n]/.test(text) || text.includes(delimiter) ? `"${text.replaceAll('"', '""')}"` : text
    )
    .join(delimiter);

test.each(delimiters)("readGrid and csv-parse read the same tables with %j between the cells", (delimiter) => {
  const text = fc.string({
    unit: fc.constantFrom("a", "7", "é", "𝛑", " ", '"', ",", ";", "\t", "|", "\n", "\r\n", "\r")
  });
  const table = fc.array(fc.array(fc.record({text, quoted: fc.boolean()}), {minLength: 1, maxLength: 5}), {
    maxLength: 6
  });
  fc.assert(
    fc.property(table, lineEnd, fc.boolean(), (rows, end, ended) => {
      const lines = rows.map((cells) => written(cells, delimiter));
      const file = `${lines.join(end)}${ended && lines.length > 0 ? end : ""}`;
      const {problems} = readGrid(file, "any.csv", {delimiter});
      expect(problems).toEqual([]);
      expect(cellsOf(file, delimiter)).toEqual(theirs(file, delimiter));
    }),
    {numRuns: 500}
  );
});

// Texts that no program wrote. What csv-parse takes, readGrid reads alike. Where a quote is never closed, or closed before its cell ends,
// both refuse. A quote within a plain cell is refused there, unless told otherwise, and is text here (12" from the butt), as it swallows nothing.
test.each(delimiters)("readGrid and csv-parse agree on texts of quotes, line ends and %j at random", (delimiter) => {
  const text = fc.string({unit: fc.constantFrom("a", "b", '"', '"', delimiter, "\n", "\r\n"), maxLength: 14});
  const seen = {read: 0, text: 0, refused: 0};
  fc.assert(
    fc.property(text, (file) => {
      const {rows, problems} = readGrid(file, "any.csv", {delimiter});
      try {
        expect(rows.map(({cells}) => cells)).toEqual(theirs(file, delimiter));
        expect(problems).toEqual([]);
        seen.read++;
      } catch (error) {
        if (!(error instanceof CsvError)) throw error;
        if (error.code === "INVALID_OPENING_QUOTE") {
          if (problems.length === 0)
            expect(rows.map(({cells}) => cells)).toEqual(theirs(file, delimiter, {relax_quotes: true}));
          seen.text++;
          return;
        }
        expect(["CSV_QUOTE_NOT_CLOSED", "CSV_INVALID_CLOSING_QUOTE"]).toContain(error.code);
        expect(rows).toEqual([]);
        expect(problems.map(({code, severity}) => `${severity} ${code}`)).toEqual(["blocking quote-open"]);
        seen.refused++;
      }
    }),
    {numRuns: 2000}
  );
  for (const count of Object.values(seen)) expect(count).toBeGreaterThan(100);
});

test("readGrid takes a quote within a plain cell for text, csv-parse only when told to", () => {
  const file = 'a,12" butt\n1,2\n';
  expect(() => theirs(file, ",")).toThrow("Invalid Opening Quote");
  expect(cellsOf(file, ",")).toEqual(parse(file, {relax_quotes: true}));
});

test("readGrid passes over spaces behind a closing quote, where csv-parse stops", () => {
  const file = '"a" ,b\n1,2\n';
  expect(() => theirs(file, ",")).toThrow("Invalid Closing Quote");
  expect(cellsOf(file, ",")).toEqual([
    ["a", "b"],
    ["1", "2"]
  ]);
});

test.each(delimiters)("readGrid finds %j by the headings, whatever the cells hold of the others", (delimiter) => {
  const headings = ["square", "lot", "note"];
  const text = fc.string({unit: fc.constantFrom("a", "1", " ", '"', ",", ";", "\t", "|", "\n")});
  const row = fc.array(fc.record({text, quoted: fc.boolean()}), {minLength: 3, maxLength: 3});
  fc.assert(
    fc.property(fc.array(row, {maxLength: 6}), (rows) => {
      const file = [headings.join(delimiter), ...rows.map((cells) => written(cells, delimiter))].join("\n");
      const grid = readGrid(`${file}\n`, "any.csv", {known: (cell) => headings.includes(cell)});
      expect(grid.delimiter).toBe(delimiter);
      expect(grid.rows.map(({cells}) => cells)).toEqual(theirs(`${file}\n`, delimiter));
    })
  );
});
