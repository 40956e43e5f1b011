import {expect, test} from "vitest";
import {parseBook} from "../../lib/book/parseBook.ts";
import {brief, frozen, type Lines, read, settingsOf, smallest, texts} from "./smallBook.ts";

const oneLot = (species: string) => `B,2025-02-10,Fennaby Yard,${species},1,9`;
const [a1, a2] = smallest.squares;

test("parseBook reads the smallest book without a fault", () => {
  const {book, problems} = read();
  expect(problems).toEqual([]);
  expect(book?.lots.map(({lot, row}) => [lot, row])).toEqual([["A", 2]]);
  expect(book?.squares.map(({square, row}) => [square, row])).toEqual([
    ["A1", 2],
    ["A2", 3]
  ]);
  expect(book?.orders.map(({order, row}) => [order, row])).toEqual([["O1", 2]]);
  expect([book?.events, book?.climate]).toEqual([[], []]);
});

test("parseBook reads climate.csv where there is one", () => {
  expect(read({climate: ["2025-01-11,16,55"]}).book?.climate).toEqual([
    {row: 2, date: "2025-01-11", temperatureC: 16, humidityPct: 55}
  ]);
});

test.each<[string, Lines, string[]]>([
  [
    "two lots with one number",
    {lots: [...smallest.lots, "A,2025-02-10,Fennaby Yard,ash,2,9"]},
    ["number-twice lots.csv A3"]
  ],
  ["two squares with one number", {squares: [a1, a2, "A1,A,1500,40,40,1700,12"]}, ["number-twice squares.csv A4"]],
  ["two orders with one number", {orders: [...smallest.orders, "O1,2025-03-01,ash,2"]}, ["number-twice orders.csv A3"]],
  [
    "a square of a lot that is not there",
    {squares: [a1, a2, "Z1,Z,1500,40,40,1680,12"]},
    ["lot-unknown squares.csv B4"]
  ],
  [
    "a square of a lot that was refused",
    {lots: [...smallest.lots, "B,2025-02-10,,ash,1,9"], squares: [a1, a2, "B1,B,1500,40,40,1680,12"]},
    ["cell-unreadable lots.csv C3", "lot-refused squares.csv B4"]
  ],
  ["a lot of an unknown species", {lots: [...smallest.lots, oneLot("oak")]}, ["species-unknown lots.csv D3"]],
  [
    "a lot of a species named like a built-in property",
    {lots: [...smallest.lots, oneLot("constructor")], squares: [a1, a2, "B1,B,1500,40,40,1680,12"]},
    ["species-unknown lots.csv D3", "lot-refused squares.csv B4"]
  ],
  ["an order of an unknown species", {orders: ["O1,2025-02-01,oak,1"]}, ["species-unknown orders.csv C2"]],
  [
    "an event of a square that is not there",
    {events: ["2025-04-01,A9,turned,rough-round,,,,"]},
    ["square-unknown events.csv B2"]
  ],
  ["an event at an unknown stage", {events: ["2025-04-01,A1,turned,round,,,,"]}, ["stage-unknown events.csv D2"]],
  ["a turning without its stage", {events: ["2025-04-01,A1,turned,,,,,"]}, ["stage-missing events.csv D2"]],
  ["a discard without its defect", {events: ["2025-04-01,A1,discarded,,,,,"]}, ["defect-missing events.csv G2"]],
  ["an unknown defect", {events: ["2025-04-01,A1,discarded,,,,worm,"]}, ["defect-unknown events.csv G2"]],
  ["an allotment without its order", {events: ["2025-04-01,A1,allotted,,,,,"]}, ["order-missing events.csv H2"]],
  [
    "an event for an order that is not there",
    {events: ["2025-04-01,A1,delivered,,,,,O9"]},
    ["order-unknown events.csv H2"]
  ]
])("parseBook refuses %s", (_, lines, expected) => {
  const {book, problems} = read({events: ["2025-12-31,A2,weighed,,,,,"], ...lines});
  const refused = problems.filter(({severity}) => severity === "refused");
  expect(refused.map(brief)).toEqual(expected);
  expect(book).toBeDefined();
  for (const problem of refused) {
    expect(problem.row).toBeGreaterThan(1);
    expect(problem.value).toBeDefined();
    expect(problem.wanted).not.toBe("");
    expect(problem.mend).toMatch(/\.$/);
  }
});

test("parseBook says of a number given twice which row has it", () => {
  const problem = read({squares: [a1, "", a2, a2]}).problems.find(({code}) => code === "number-twice");
  expect(problem).toMatchObject({
    cell: "A5",
    heading: "square",
    value: "A2",
    wanted: "a number of its own",
    mend: "Row 4 has this number. Take out the row entered twice, or correct its number."
  });
});

test("parseBook names the words that it knows where one is unknown", () => {
  const {problems} = read({events: ["2025-04-01,A1,discarded,,,,warpd,"]});
  expect(problems).toMatchObject([
    {code: "defect-unknown", value: "warpd", wanted: expect.stringContaining("warp"), heading: "defect"}
  ]);
});

// 1680 g in 2.4 litres are 700 kg/m³; a digit too many makes 7000, one too few 70. No ash or maple is outside 250 to 1250:
// common practice, no source.
test.each([
  ["16800", "such that the density at 12 % is 250 to 1250 kg/m³ (it is 7000)"],
  ["168", "such that the density at 12 % is 250 to 1250 kg/m³ (it is 70)"]
])("parseBook refuses a square of %s g, as no timber is so dense", (massG, wanted) => {
  const {book, problems} = read({squares: [a1, `A2,A,1500,40,40,${massG},12`]});
  expect(problems.find(({code}) => code === "density-impossible")).toMatchObject({
    severity: "refused",
    cell: "F3",
    value: massG,
    wanted
  });
  expect(book?.squares.map(({square}) => square)).toEqual(["A1"]);
});

test("parseBook doubts a lot that lists fewer or more squares than it says", () => {
  const short = read({squares: [a1]}).problems.find(({code}) => code === "lot-short");
  expect(short).toMatchObject({severity: "doubt", file: "lots.csv", row: 2, value: "2 bought, 1 listed"});
  const over = read({squares: [a1, a2, "A3,A,1500,40,40,1680,12"]}).problems.find(({code}) => code === "lot-over");
  expect(over).toMatchObject({severity: "doubt", file: "lots.csv", row: 2, value: "2 bought, 3 listed"});
});

test.each(["lots.csv", "squares.csv", "orders.csv", "events.csv"] as const)(
  "parseBook gives no book without %s",
  (file) => {
    const {[file]: _, ...others} = texts();
    const {book, problems} = parseBook(others, settingsOf());
    expect(book).toBeUndefined();
    expect(problems).toContainEqual({
      code: "file-missing",
      severity: "blocking",
      file,
      wanted: "in the book's folder, or a sheet of its workbook",
      mend: expect.stringContaining(`Add ${file}, with its headings at least, or a sheet “${file.slice(0, -4)}”`)
    });
  }
);

test("parseBook gives no book without a sound purchase", () => {
  for (const lots of [[], ["A,2026-02-31,Quillmoor Sawpit,ash,2,10"]]) {
    const {book, problems} = read({lots});
    expect(book).toBeUndefined();
    expect(problems.at(-1)).toMatchObject({code: "file-empty", severity: "blocking", file: "lots.csv"});
  }
});

test("parseBook gives no book when a column is missing or a quote is open", () => {
  const sound = texts();
  const headless = {...sound, "squares.csv": sound["squares.csv"].replace("mass_g", "heft")};
  expect(parseBook(headless, settingsOf()).book).toBeUndefined();
  const open = {...sound, "squares.csv": sound["squares.csv"].replace("A2,", '"A2,')};
  const {book, problems} = parseBook(open, settingsOf());
  expect(book).toBeUndefined();
  expect(problems.map(brief)).toContain("quote-open squares.csv row 3");
});

test("parseBook reads the same from a file that a spreadsheet saved with a byte order mark and CR LF", () => {
  const saved = Object.fromEntries(
    Object.entries(texts()).map(([name, text]) => [name, `\ufeff${text.replaceAll("\n", "\r\n")}`])
  );
  expect(parseBook(saved, settingsOf())).toEqual(read());
});

test("parseBook keeps the cells of every file as they were written", () => {
  const {book} = read({squares: [a1, "A2, A ,1500,40,40,1680,12"]});
  expect(book?.sources["squares.csv"]?.rows[1]).toEqual({
    row: 3,
    cells: ["A2", " A ", "1500", "40", "40", "1680", "12"]
  });
  expect(book?.squares[1]?.lot).toBe("A");
});

test("parseBook changes neither texts nor settings", () => {
  const lines = {events: ["2025-04-01,A1,discarded,,,,warp,", "2025-04-01,A9,discarded,,,,warp,"]};
  const given = texts(lines);
  expect(parseBook(frozen(given), frozen(settingsOf()))).toEqual(read(lines));
});

test("parseBook's faults stay short however long a name is", () => {
  const lot = "L".repeat(100_000);
  const supplier = (blanks: number) => `Low${" ".repeat(blanks)}Fold`;
  const lots = [`${lot},2025-01-10,${supplier(50_000)},ash,2,10`, `B,2025-01-10,${supplier(1)},ash,1,10`];
  const {problems} = read({lots, squares: [`S,${lot},1500,40,40,9,12`]});
  expect(problems.map(brief)).toEqual([
    "supplier-spelling lots.csv C3",
    "density-impossible squares.csv F2",
    "lot-short lots.csv E2",
    "lot-short lots.csv E3"
  ]);
  expect(Math.max(...problems.map((problem) => JSON.stringify(problem).length))).toBeLessThan(700);
  const unknown = read({squares: [`S,${lot}x,1500,40,40,1680,12`]}).problems.find(({code}) => code === "lot-unknown");
  expect(unknown?.value).toHaveLength(81);
});

test("parseBook says nothing of rows that hang on a file that cannot be read", () => {
  const {problems} = parseBook({...texts(), "lots.csv": "lot,bought_on\nA,2025-01-10\n"}, settingsOf());
  expect(new Set(problems.map(({file}) => file))).toEqual(new Set(["lots.csv"]));
});

test("parseBook merges what is said for all and for one kind of record, column by column", () => {
  const settings = settingsOf({reading: {all: {units: {mass_g: "oz"}}, squares: {units: {length_mm: "in"}}}});
  const squares = texts()["squares.csv"].replace("mass_g", "weight").replace("length_mm", "length");
  const sound = squares.replaceAll(",1500,", ",59.0551,").replaceAll(",1680,", ",59.2602,");
  const {book, problems} = parseBook({...texts(), "squares.csv": sound}, settings);
  expect(problems.filter(({file, severity}) => file === "squares.csv" && severity !== "note")).toEqual([]);
  // 59.0551 in are 1500.0 mm, 59.2602 oz are 1680.0 g: by the exact inch and ounce.
  expect(book?.squares[0]?.lengthMm).toBeCloseTo(1500, 2);
  expect(book?.squares[0]?.massG).toBeCloseTo(1680, 1);
});

test("parseBook lists more than a hundred thousand faults without running out of room", () => {
  const rows = Array.from({length: 60_000}, () => "x");
  expect(
    parseBook({...texts(), "events.csv": `date,square,event\n${rows.join("\n")}`}, settingsOf()).problems.length
  ).toBeGreaterThan(120_000);
});

test("parseBook takes a record above the headings for a record, not for a title", () => {
  const orders = "O0,2025-02-01,ash,1\norder,ordered_on,species,quantity\nO1,2025-02-01,ash,1\n";
  expect(parseBook({...texts(), "orders.csv": orders}, settingsOf()).problems.map(brief)).toEqual([
    "row-above orders.csv row 1"
  ]);
});
