import fc from "fast-check";
import {expect, test} from "vitest";
import {isBlank, readGrid} from "../../lib/book/grid.ts";

const rowsOf = (text: string) =>
  readGrid(text, "lots.csv")
    .rows.filter(({cells}) => !isBlank(cells))
    .map(({row, cells}) => [row, ...cells]);

test("readGrid(text) gives headings trimmed and cells untouched, under the row a spreadsheet shows", () => {
  expect(readGrid("lot, species \nA, ash\n007,1.50\n", "lots.csv")).toEqual({
    headings: ["lot", "species"],
    rows: [
      {row: 2, cells: ["A", " ash"]},
      {row: 3, cells: ["007", "1.50"]}
    ],
    problems: []
  });
});

test("readGrid counts blank rows and rows of empty cells, though it leaves them out", () => {
  expect(rowsOf("a,b\n\n1,2\n,\n  , \n3,4\n\n\n")).toEqual([
    [3, "1", "2"],
    [6, "3", "4"]
  ]);
});

// RFC 4180 (2005), section 2, rules 5 to 7, from memory: commas, line breaks and doubled quotes within quotes.
test("readGrid takes commas, doubled quotes and line ends within quotes as text", () => {
  expect(rowsOf('a,b\n"one, two","a ""pin"" knot"\n"first\nsecond",x\n3,4')).toEqual([
    [2, "one, two", 'a "pin" knot'],
    [3, "first\nsecond", "x"],
    [4, "3", "4"]
  ]);
});

test("readGrid takes a quotation mark within a cell as a mark for inches", () => {
  expect(rowsOf('a,b\n12" from the butt,2\n')).toEqual([[2, '12" from the butt', "2"]]);
});

test("readGrid passes over a byte order mark", () => {
  expect(readGrid("\ufefflot,species\nA,ash", "lots.csv").headings).toEqual(["lot", "species"]);
});

test.each([
  ["CR LF", "a,b\r\n1,2\r\n3,4\r\n"],
  ["CR", "a,b\r1,2\r3,4\r"],
  ["CR LF after the headings, then LF", "a,b\r\n1,2\n3,4\n"],
  ["LF after the headings, then CR LF", "a,b\n1,2\r\n3,4\r\n"]
])("readGrid reads lines ended by %s", (_, text) => {
  expect(rowsOf(text)).toEqual([
    [2, "1", "2"],
    [3, "3", "4"]
  ]);
});

test.each([
  ["never closed", 'a,b\n1,2\n\n"3,4\n5,6\n7,8', 4],
  ["never closed, in the headings", 'a,"b\n1,2', 1],
  ["closed before its cell ends", 'a,b\n1,2\n"x" y,3\n4,5\n"z",6\n', 3]
])("readGrid returns no rows when a quote is %s, as it would swallow the next ones", (_, text, row) => {
  const {rows, problems} = readGrid(text, "lots.csv");
  expect(rows).toEqual([]);
  expect(problems).toEqual([
    {
      code: "quote-open",
      severity: "blocking",
      file: "lots.csv",
      row,
      wanted: "closed by a second quotation mark wherever one is opened",
      mend: `Look in row ${row} for a lone quotation mark (inches?) and double it or take it out.`
    }
  ]);
});

test('readGrid("") has neither headings nor rows', () => {
  expect(readGrid("", "lots.csv")).toEqual({headings: [], rows: [], problems: []});
});

test("readGrid gives back what RFC 4180 quoting wrote, whatever the text", () => {
  const cell = fc.string({unit: fc.constantFrom("a", "1", ",", '"', "\n", " ", "é", ";")}).map((text) => `x${text}`);
  const lines = fc.array(fc.tuple(cell, cell), {minLength: 1, maxLength: 5});
  fc.assert(
    fc.property(lines, fc.constantFrom("\n", "\r\n"), (written, end) => {
      const quoted = written.map((cells) => cells.map((text) => `"${text.replaceAll('"', '""')}"`).join(","));
      expect(rowsOf(["a,b", ...quoted].join(end))).toEqual(written.map((cells, index) => [index + 2, ...cells]));
    })
  );
});
