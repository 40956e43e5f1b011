import {expect, test} from "vitest";
import {readGrid} from "../../lib/book/grid.ts";
import {readRecords} from "../../lib/book/readRecords.ts";
import {files} from "../../lib/book/records.ts";
import {brief, headings, recordsOf} from "./smallBook.ts";

const lots = (...rows: string[]) => recordsOf([headings["lots.csv"], ...rows].join("\n"), "lots.csv");

test("readRecords gives each record with the row it stands in; blank rows count", () => {
  const {records, problems} = lots(
    "A,2025-01-10,Quillmoor Sawpit,ash,2,10",
    "",
    "B,2025-02-10,Fennaby Yard,ash,3,9.50"
  );
  expect(problems).toEqual([]);
  expect(records).toEqual([
    {
      row: 2,
      lot: "A",
      boughtOn: "2025-01-10",
      supplier: "Quillmoor Sawpit",
      species: "ash",
      squaresBought: 2,
      priceEach: 10
    },
    {
      row: 4,
      lot: "B",
      boughtOn: "2025-02-10",
      supplier: "Fennaby Yard",
      species: "ash",
      squaresBought: 3,
      priceEach: 9.5
    }
  ]);
});

test("readRecords finds columns by their headings, in any order", () => {
  const text = "price_each,species,supplier,bought_on,squares_bought,lot\n10,ash,Quillmoor Sawpit,2025-01-10,2,A";
  expect(recordsOf(text, "lots.csv").records[0]).toMatchObject({lot: "A", priceEach: 10, squaresBought: 2});
});

test.each([
  ["12,50", "a number with a decimal point, like 12.5", "Write a decimal point: 12.50."],
  ["1O.5", "a number with a decimal point, like 12.5", "Letter for a digit? Type 10.5."],
  ["l2", "a number with a decimal point, like 12.5", "Letter for a digit? Type 12."],
  ["ten", "a number with a decimal point, like 12.5", "Correct the cell; it should look like 12.50."],
  ["-3", "between 0 and 1000000", "Correct the cell; it should look like 12.50."],
  ["", "filled in", "Fill the cell in, like 12.50."]
])("readRecords refuses the price %j and says how to mend it", (value, wanted, mend) => {
  const {records, problems} = lots(
    "A,2025-01-10,Quillmoor Sawpit,ash,2,10.50",
    "A2,2025-01-10,Quillmoor Sawpit,ash,2,10.25",
    `B,2025-02-10,Fennaby Yard,ash,3,"${value}"`
  );
  expect(records.map(({lot}) => lot)).toEqual(["A", "A2"]);
  expect(problems).toEqual([
    {
      code: "cell-unreadable",
      severity: "refused",
      file: "lots.csv",
      row: 4,
      column: "F",
      cell: "F4",
      heading: "price_each",
      value,
      wanted,
      mend
    }
  ]);
});

test("readRecords names every faulty cell of a row, each once", () => {
  const {records, problems} = lots("A,2026-02-31,,ash,two,10");
  expect(records).toEqual([]);
  expect(problems.map((problem) => [brief(problem), problem.wanted, problem.value])).toEqual([
    ["cell-unreadable lots.csv B2", "a calendar day like 2026-10-31", "2026-02-31"],
    ["cell-unreadable lots.csv C2", "filled in", ""],
    ["cell-unreadable lots.csv E2", "a number with a decimal point, like 12.5", "two"]
  ]);
});

test("readRecords refuses a row with more cells than headings, but not one that ends in empty cells or too early", () => {
  const text = "date,temperature_c,humidity_pct\n2025-01-01,16,55,,\n2025-01-02,16,5,5\n2025-01-03,16";
  const {records, problems} = recordsOf(text, "climate.csv");
  expect(records.map(({row}) => row)).toEqual([2]);
  expect(problems.map(brief)).toEqual([
    "row-ragged climate.csv row 3",
    "cell-unreadable climate.csv C4",
    "row-short climate.csv row 4"
  ]);
  expect(problems[0]).toMatchObject({
    severity: "refused",
    value: "5",
    wanted: "at most 3 cells, one a heading",
    mend: "A stray comma in a note? Put the note in quotation marks."
  });
});

test("readRecords blocks on a missing heading, shows those that are there, and reads no row", () => {
  const {records, problems} = recordsOf("date,warmth,humidity_pct\n2025-01-01,16,55", "climate.csv");
  expect(records).toEqual([]);
  expect(problems.map(brief)).toEqual(["heading-missing climate.csv row 1", "heading-unknown climate.csv B1"]);
  expect(problems[0]).toMatchObject({
    severity: "blocking",
    heading: "temperature_c",
    value: "date, warmth, humidity_pct",
    wanted: "among the headings",
    mend: "Add a column headed temperature_c, or say in workshop.json which of your columns it is."
  });
  expect(problems[1]).toMatchObject({severity: "doubt", heading: "warmth"});
});

test("readRecords does without an optional heading", () => {
  expect(lots("A,2025-01-10,Quillmoor Sawpit,ash,2,10").records[0]).not.toHaveProperty("carriage", expect.anything());
});

test("readRecords blocks on a heading given twice", () => {
  const text = "date,temperature_c,humidity_pct,temperature_c\n2025-01-01,16,55,17";
  const {records, problems} = recordsOf(text, "climate.csv");
  expect(records).toEqual([]);
  expect(problems).toMatchObject([
    {
      code: "heading-twice",
      severity: "blocking",
      cell: "D1",
      heading: "temperature_c",
      value: "temperature_c in column B and temperature_c in column D"
    }
  ]);
});

test("readRecords reads on past a column that the book does not use", () => {
  const text = "date,temperature_c,humidity_pct,window\n2025-01-01,16,55,open";
  const {records, problems} = recordsOf(text, "climate.csv");
  expect(records).toEqual([{row: 2, date: "2025-01-01", temperatureC: 16, humidityPct: 55}]);
  expect(problems.map(brief)).toEqual(["heading-unknown climate.csv D1"]);
});

test("readRecords says of a file with headings only that it is empty", () => {
  const {records, problems} = lots();
  expect(records).toEqual([]);
  expect(problems).toMatchObject([{code: "file-empty", severity: "doubt", file: "lots.csv"}]);
});

test("readRecords blocks on a quote that is never closed", () => {
  const {records, problems} = lots('A,2025-01-10,"Quillmoor Sawpit,ash,2,10', "B,2025-02-10,Fennaby Yard,ash,3,9");
  expect(records).toEqual([]);
  expect(problems.map(brief)).toEqual(["quote-open lots.csv row 2"]);
});

test("readRecords keeps the cells as they were written, so that a refused row can be given back whole", () => {
  const {source} = lots("A, 2026-02-31,Quillmoor Sawpit ,ash,2,10");
  expect(source.rows).toEqual([{row: 2, cells: ["A", " 2026-02-31", "Quillmoor Sawpit ", "ash", "2", "10"]}]);
});

test("readRecords reads numbers of squares as text: 007 is not 7", () => {
  const text = `${headings["squares.csv"]}\n007,A,1500,40,40,1680,12`;
  expect(recordsOf(text, "squares.csv").records[0]?.square).toBe("007");
});

test.each([
  [
    "no column of masses",
    "square,lot,length_mm,width_mm,thickness_mm,density_kgm3,mc_pct",
    "A1,A,1500,40,,690,12",
    "E2"
  ],
  [
    "a blank mass",
    "square,lot,mass_g,length_mm,width_mm,thickness_mm,density_kgm3,mc_pct",
    "A1,A,,1500,40,,690,12",
    "F2"
  ]
])("readRecords names the missing size alone, not the mass that would follow from it: %s", (_, heads, row, cell) => {
  const {problems} = recordsOf(`${heads}\n${row}`, "squares.csv");
  expect(problems.filter(({severity}) => severity === "refused").map((one) => one.cell)).toEqual([cell]);
});

test("readRecords names faults of the headings beside what was noted of the rows, such as mended ones", () => {
  const grid = readGrid("date,temperature_c,window\n2025-01-01,16,open", "climate.csv");
  grid.problems.push({code: "rows-mended", severity: "note", file: "climate.csv", wanted: "read with one", mend: ""});
  const {records, problems} = readRecords(grid, files["climate.csv"]);
  expect(records).toEqual([]);
  expect(problems.map(brief)).toEqual([
    "rows-mended climate.csv",
    "heading-missing climate.csv row 1",
    "heading-unknown climate.csv C1"
  ]);
});

test("readRecords finds a row of a text short, and a row of a sheet never, as that ends with its last filled cell", () => {
  const cells = (text: string) => text.split(",");
  const rows = [
    {row: 1, cells: cells("date,temperature_c,humidity_pct,note")},
    {row: 2, cells: cells("2025-01-01,16,55")}
  ];
  const brieflyOf = (more: object) =>
    readRecords({file: "climate", rows, problems: [], ...more}, files["climate.csv"]).problems.map(brief);
  expect(brieflyOf({delimiter: ","})).toEqual(["row-short climate row 2"]);
  expect(brieflyOf({exact: true})).toEqual([]);
});

test.each([
  ["length (in)", "1500", "In mm already? The unit of its column is “in”."],
  ["length_mm", "59", "Inches? Then it is 1498.6 mm; say the unit in the heading if the whole column is in inches."],
  ["length (in)", "x", "Correct the cell; the unit of its column is “in”."]
])("readRecords knows the likeliest cure, under %s of %s", (heading, cell, mend) => {
  const text = `${headings["squares.csv"].replace("length_mm", heading)}\nA1,A,${cell},40,40,1680,12`;
  expect(recordsOf(text, "squares.csv").problems[0]).toMatchObject({code: "cell-unreadable", cell: "C2", mend});
});
