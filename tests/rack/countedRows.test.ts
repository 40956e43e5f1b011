import fc from "fast-check";
import {expect, test} from "vitest";
import type {Grid} from "../../lib/book/grid.ts";
import {problemSentence} from "../../lib/book/problem.ts";
import {countedRows, countGrid, squareFinder} from "../../lib/rack/countedRows.ts";
import {brief, settingsOf} from "../book/smallBook.ts";

const squares = ["A0001", "A0002", "A0003", "L031-07", "Ö-9"];

/** The list of a text: [row, number, stage, note] of each, and what was found wrong. */
function listOf(text: string, settings = settingsOf()) {
  const {rows, problems} = countedRows(countGrid(text, "counted.csv"), squares, settings);
  return {
    rows: rows.map(({row, square, stage, note}) => [row, square, stage, note].filter((one) => one !== undefined)),
    problems
  };
}

test("countedRows reads a scanner's one column without a heading", () => {
  expect(listOf("A0001\nA0002\n")).toEqual({
    rows: [
      [1, "A0001"],
      [2, "A0002"]
    ],
    problems: []
  });
});

test("countedRows reads headings in any case, semicolons, a byte order mark, blank lines, spaces and a title", () => {
  const {rows, problems} = listOf(
    "\ufeffStock of October;;\r\n\r\n STAGE ;Square No; Remarks\r\nrough round;  A0001 ;\r\n;;\r\n;l031 07;by the door\r\n"
  );
  expect(rows).toEqual([
    [4, "A0001", "rough-round"],
    [6, "l031 07", "by the door"]
  ]);
  expect(problems.map(brief)).toEqual(["rows-not-data counted.csv"]);
  expect(problemSentence(problems[0]!)).toContain("row 1, “Stock of October”");
});

test.each([
  [
    "a stage by its first name without headings",
    "A0001;square\nA0002;square\n",
    [
      [1, "A0001", "square"],
      [2, "A0002", "square"]
    ]
  ],
  [
    "the number in the second column, without headings",
    "1,A0001,proud-round\n2,A0002,\n",
    [
      [1, "A0001", "proud-round", "1"],
      [2, "A0002", "2"]
    ]
  ],
  [
    "a running number headed No beside it",
    "No,Piece\n1,A0003\n2,A0001\n",
    [
      [2, "A0003"],
      [3, "A0001"]
    ]
  ],
  ["a heading of the owner's own over a column", "Stab\nA0001\n", [[2, "A0001"]]],
  ["a heading missing over the numbers", ",stage\nA0001,finished\n", [[2, "A0001", "finished"]]],
  [
    "headings repeated further down",
    "square\nA0001\nsquare\nA0002\n",
    [
      [2, "A0001"],
      [4, "A0002"]
    ]
  ],
  [
    "numbers above the headings, as after sorting",
    "A0001,\nsquare,stage\nA0002,finished\n",
    [
      [1, "A0001"],
      [3, "A0002", "finished"]
    ]
  ],
  [
    "more cells than headings",
    "square\nA0001\nA0002,late,found\n",
    [
      [2, "A0001"],
      [3, "A0002"]
    ]
  ],
  [
    "number and stage, or number and note, in one cell",
    "A0001 proud-round\nA0002 by the door\n",
    [
      [1, "A0001", "proud-round"],
      [2, "A0002", "by the door"]
    ]
  ],
  [
    "several numbers in one cell",
    "A0001 A0002 l031 07\n",
    [
      [1, "A0001"],
      [1, "A0002"],
      [1, "l031 07"]
    ]
  ],
  [
    "a number with a stray control character",
    "square\nA00\u000001\n\u0002A0002\n",
    [
      [2, "A0001"],
      [3, "A0002"]
    ]
  ],
  ["titles and totals, which it names", "square\nA0001\nTotal\n", [[2, "A0001"]]],
  [
    "dashes and spaces where the book has none",
    "A-0001\nA 0002\n",
    [
      [1, "A-0001"],
      [2, "A 0002"]
    ]
  ],
  [
    "the last line without an end, old line ends",
    "square\rA0001\rA0002",
    [
      [2, "A0001"],
      [3, "A0002"]
    ]
  ],
  [
    "notes with a comma in a list with semicolons",
    "A0001;by the door, left\nA0002;\n",
    [
      [1, "A0001", "by the door, left"],
      [2, "A0002"]
    ]
  ],
  ["quotes", '"square","note"\n"A0001","said ""no"", twice"\n', [[2, "A0001", 'said "no", twice']]]
])("countedRows reads %s", (_, text, rows) => expect(listOf(text).rows).toEqual(rows));

test("countedRows passes over a stage that is none, with the nearest, and still counts the piece", () => {
  const {rows, problems} = listOf("square,stage\nA0001,finishd\n");
  expect(rows).toEqual([[2, "A0001"]]);
  expect(problems.map(problemSentence)).toEqual([
    "counted.csv row 2: stage must be one of square, rough-round, second-round, proud-round, finished, got “finishd”. Did you mean finished? The square counts as seen, its stage as not noted."
  ]);
});

test("countedRows takes the column headed square before one with more numbers of the book, and says what it read", () => {
  const text = "no;square;place;stage\n1;7;loft;finished\n2;9;loft;\n3;99;loft;\n";
  const {rows, problems, columns} = countedRows(countGrid(text, "c.csv"), ["1", "2", "3", "7"], settingsOf());
  expect(rows.map(({square}) => square)).toEqual(["7", "9", "99"]);
  expect(columns).toEqual({square: "“square”", stage: "“stage”", unread: ["“no”", "“place”"]});
  expect(problems.map(({severity}) => severity)).toEqual(["doubt"]);
  expect(problemSentence(problems[0]!)).toContain("“no” holds numbers of the book too, in row 2, row 3, row 4");
  expect(countedRows(countGrid("A0001,,attic\n", "c.csv"), squares, settingsOf()).columns).toEqual({
    square: "column 1",
    note: "column 3",
    unread: []
  });
});

test("countedRows does not take a count for a square: “2 pieces”", () => {
  const rowsOf = (text: string) => countedRows(countGrid(text, "c.csv"), ["1", "2"], settingsOf()).rows;
  expect(rowsOf("1\n2 pieces\n").map(({square}) => square)).toEqual(["1", "2 pieces"]);
  expect(rowsOf("1 2\n2 finished\n").map(({square, stage}) => [square, stage])).toEqual([
    ["1", undefined],
    ["2", undefined],
    ["2", "finished"]
  ]);
});

test("countedRows takes the owner's headings and words for events.csv, and ours beside them", () => {
  const settings = settingsOf({
    reading: {events: {headings: {square: "Stab", stage: "Stand"}, words: {stage: {fertig: "finished"}}}}
  });
  expect(listOf("Stab;Stand\nA0001;Fertig\n", settings).rows).toEqual([[2, "A0001", "finished"]]);
  expect(listOf("square;stage\nA0001;finished\n", settings).rows).toEqual([[2, "A0001", "finished"]]);
});

test("countedRows refuses a row without a number and names it", () => {
  const {rows, problems} = listOf("square,stage\nA0001,\n,finished\nA0002,\n");
  expect(rows).toEqual([
    [2, "A0001"],
    [4, "A0002"]
  ]);
  expect(problems.map(({severity, row}) => [severity, row])).toEqual([["refused", 3]]);
});

test.each([
  [
    "",
    "counted.csv: must be filled with the numbers of the squares seen. Write the number of each square seen into it, one a line."
  ],
  ["square\nZ1\nZ2\n", "none of its columns holds a number of the book. Look whether this is the right list"],
  ["A0001,A0002,A0003\n", "counted.csv row 1: must be one column of square numbers"],
  ["square\nA0001,A0002\n", "Write one number a line"],
  ["\n \n;;\n", "counted.csv: must be filled with the numbers of the squares seen"],
  ["weight;height\n12;13\n14;15\n", "counted.csv row 1: must be a list with a column of square numbers"],
  ['square\n"A0001\nA0002\n', "closed by a second quotation mark"]
])("countedRows uses nothing of %j and says why", (text, sentence) => {
  const {rows, problems} = listOf(text);
  expect(rows).toEqual([]);
  expect(problems.filter(({severity}) => severity === "blocking").map(problemSentence)).toEqual([
    expect.stringContaining(sentence)
  ]);
});

test("countedRows reads the cells of a sheet", () => {
  const grid: Grid = {
    file: "count.xlsx, sheet Rack",
    exact: true,
    problems: [],
    rows: [
      {row: 1, cells: ["Piece", "Stage"]},
      {row: 2, cells: ["A0001", "finished"]},
      {row: 3, cells: []},
      {row: 4, cells: ["7"]}
    ]
  };
  expect(countedRows(grid, squares, settingsOf()).rows).toEqual([
    {row: 2, square: "A0001", stage: "finished"},
    {row: 4, square: "7"}
  ]);
});

test("squareFinder finds a number but for case, accents, spaces and dashes, and none where two are alike", () => {
  const find = squareFinder(["A-1", "a 1", "Ö-9", "B2"]);
  expect([find("A-1"), find("a-1"), find(" b2 "), find("o 9"), find("B3")]).toEqual([
    "A-1",
    undefined,
    "B2",
    "Ö-9",
    undefined
  ]);
});

test("countedRows loses no line, whatever it is: each is counted, named or blank", () => {
  const cell = fc.oneof(
    fc.constantFrom("A0001", "a0002", "square", "stage", "finished", "-", "Total", "", " "),
    fc.string({maxLength: 8})
  );
  const clean = cell.map((text) => text.replaceAll(/["\n\r,;|\t]/g, "").replace(/^sep=/i, ""));
  const table = fc.array(fc.array(clean, {minLength: 1, maxLength: 3}), {maxLength: 8});
  fc.assert(
    fc.property(table, (lines) => {
      const grid: Grid = {
        file: "counted.csv",
        problems: [],
        delimiter: ",",
        rows: lines.map((cells, index) => ({row: index + 1, cells}))
      };
      const {rows, problems} = countedRows(grid, squares, settingsOf());
      if (problems.some(({severity}) => severity === "blocking")) return;
      const told = problems.map(problemSentence).join("\n");
      for (const {row, cells} of grid.rows) {
        const numbers = cells.filter((one) => squareFinder(squares)(one) !== undefined);
        if (numbers.length > 0 && !rows.some((one) => one.row === row)) {
          // A row with a number of the book that was not counted must be named.
          expect(told, JSON.stringify(lines)).toContain(`row ${row}`);
        }
      }
    }),
    {
      numRuns: 300,
      examples: [
        [
          [
            ["", "square", ""],
            ["finished", "A0001", ""],
            ["A0001", "square"]
          ]
        ]
      ]
    }
  );
});

test("squareFinder takes dashes and spaces for nothing only where one number can be meant", () => {
  const find = squareFinder(["L03-107", "L031-07", "A1336"]);
  expect([find("L03107"), find("L03 107"), find("a-1336"), find("A 13-36")]).toEqual([
    undefined,
    "L03-107",
    "A1336",
    "A1336"
  ]);
});

test("squareFinder finds digits whose zeros in front a spreadsheet dropped, where only one number can be meant", () => {
  const find = squareFinder(["0007", "012", "0012", "A01"]);
  expect([find("7"), find("07"), find("0012"), find("12"), find("A1"), find("")]).toEqual([
    "0007",
    "0007",
    "0012",
    undefined,
    undefined,
    undefined
  ]);
});
