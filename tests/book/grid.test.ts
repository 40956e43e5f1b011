import fc from "fast-check";
import {expect, test} from "vitest";
import {isBlank, readGrid} from "../../lib/book/grid.ts";

const rowsOf = (text: string) =>
  readGrid(text, "lots.csv")
    .rows.filter(({cells}) => !isBlank(cells))
    .map(({row, cells}) => [row, ...cells]);
/** The same below the first row. */
const below = (text: string) => rowsOf(text).slice(1);

test("readGrid(text) gives every row, its cells untouched, under the row a spreadsheet shows", () => {
  expect(readGrid("lot, species \nA, ash\n\n007,1.50\n", "lots.csv")).toEqual({
    file: "lots.csv",
    delimiter: ",",
    rows: [
      {row: 1, cells: ["lot", " species "]},
      {row: 2, cells: ["A", " ash"]},
      {row: 3, cells: [""]},
      {row: 4, cells: ["007", "1.50"]}
    ],
    problems: []
  });
});

test("isBlank finds blank rows and rows of empty cells; the others keep their numbers", () => {
  expect(below("a,b\n\n1,2\n,\n  , \n3,4\n\n\n")).toEqual([
    [3, "1", "2"],
    [6, "3", "4"]
  ]);
});

// RFC 4180 (2005), section 2, rules 5 to 7, from memory: commas, line breaks and doubled quotes within quotes.
test("readGrid takes commas, doubled quotes and line ends within quotes as text", () => {
  expect(below('a,b\n"one, two","a ""pin"" knot"\n"first\nsecond",x\n3,4')).toEqual([
    [2, "one, two", 'a "pin" knot'],
    [3, "first\nsecond", "x"],
    [4, "3", "4"]
  ]);
});

test("readGrid takes a quotation mark within a cell as a mark for inches", () => {
  expect(below('a,b\n12" from the butt,2\n')).toEqual([[2, '12" from the butt', "2"]]);
});

test("readGrid passes over a byte order mark", () => {
  expect(rowsOf("\ufefflot,species\nA,ash")[0]).toEqual([1, "lot", "species"]);
});

test.each([
  ["CR LF", "a,b\r\n1,2\r\n3,4\r\n"],
  ["CR", "a,b\r1,2\r3,4\r"],
  ["CR LF after the headings, then LF", "a,b\r\n1,2\n3,4\n"],
  ["LF after the headings, then CR LF", "a,b\n1,2\r\n3,4\r\n"]
])("readGrid reads lines ended by %s", (_, text) => {
  expect(below(text)).toEqual([
    [2, "1", "2"],
    [3, "3", "4"]
  ]);
});

test.each([
  ["never closed", 'a,b\n1,2\n\n"3,4\n5,6\n7,8', 4, 4],
  ["never closed, in the headings", 'a,"b\n1,2', 1, 1],
  ["never closed, after a cell of two lines", 'a,b\n"x\ny",2\n3,"4\n', 3, 4],
  ["never closed, after a line sep=", 'sep=,\na,b\n3,"4\n', 2, 3],
  ["closed before its cell ends", 'a,b\n1,2\n"x" y,3\n4,5\n"z",6\n', 3, 3]
])("readGrid returns no rows when a quote is %s, as it would swallow the next ones", (_, text, row, line) => {
  const {rows, problems} = readGrid(text, "lots.csv");
  expect(rows).toEqual([]);
  expect(problems).toEqual([
    {
      code: "quote-open",
      severity: "blocking",
      file: "lots.csv",
      row,
      wanted: `closed by a second quotation mark wherever one is opened; the one opened in line ${line} of the text is not`,
      mend: `Look in row ${row} for a lone quotation mark (inches?) and double it or take it out.`
    }
  ]);
});

test('readGrid("") has no rows', () => {
  expect(readGrid("", "lots.csv")).toMatchObject({rows: [], problems: []});
});

const known = (cell: string) => ["lot", "species", "price"].includes(cell.trim());

test.each([
  ["commas", "lot,species,price\nA,ash,1", ","],
  ["semicolons", "lot;species;price\nA;ash;12,50", ";"],
  ["semicolons and more commas", "lot;species;price\nA;ash, white, air-dried, fine;12,50", ";"],
  ["tabs", "lot\tspecies\tprice\nA\tash\t1", "\t"],
  ["bars", "lot|species|price\nA|ash|1", "|"],
  ["semicolons below a title with commas", "Stock, all of it, 2026\n\nlot;species;price\nA;ash;1", ";"],
  ["commas, with semicolons in quotes", '"lot","species","price"\n"A;b;c;d","ash","1;2;3"', ","]
])("readGrid finds out that a text is divided by %s", (_, text, delimiter) => {
  expect(readGrid(text, "lots.csv", {known}).delimiter).toBe(delimiter);
});

test("readGrid goes by the first line where it knows no heading", () => {
  expect(readGrid("Los;Holz\nA;Esche, weiß", "lots.csv").delimiter).toBe(";");
});

test("readGrid obeys a line sep= and does not count it, as a spreadsheet does", () => {
  expect(rowsOf("sep=;\nlot;note\nA;1,5")).toEqual([
    [1, "lot", "note"],
    [2, "A", "1,5"]
  ]);
  expect(readGrid('"sep=|"\r\na|b', "lots.csv").delimiter).toBe("|");
});

test("readGrid divides by what it is told", () => {
  expect(readGrid("a,b;c\n1,2;3", "lots.csv", {delimiter: ";"}).rows[0]?.cells).toEqual(["a,b", "c"]);
});

test("readGrid gives back what RFC 4180 quoting wrote, whatever the text", () => {
  const cell = fc.string({unit: fc.constantFrom("a", "1", ",", '"', "\n", " ", "é", ";")}).map((text) => `x${text}`);
  const lines = fc.array(fc.tuple(cell, cell), {minLength: 1, maxLength: 5});
  fc.assert(
    fc.property(lines, fc.constantFrom("\n", "\r\n"), (written, end) => {
      const quoted = written.map((cells) => cells.map((text) => `"${text.replaceAll('"', '""')}"`).join(","));
      expect(below(["a,b", ...quoted].join(end))).toEqual(written.map((cells, index) => [index + 2, ...cells]));
    })
  );
});
