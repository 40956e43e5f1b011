import {expect, test} from "vitest";
import {parseBook} from "../../lib/book/parseBook.ts";
import {brief, type Lines, read, settingsOf, smallest, texts} from "./smallBook.ts";

// Through parseBook, which hands on what soundRows finds; the other checks across rows are in parseBook.test.ts.
const [a1, a2] = smallest.squares;

const codes = (lines: Lines, today?: string) =>
  parseBook(texts(lines), settingsOf(), {today}).problems.map((problem) => `${problem.severity} ${brief(problem)}`);

test("soundRows says of what falls with another row which row that is, and reads it once that row is mended", () => {
  const lines = {
    squares: [a1, "A2,A,1500,40,40,16o3,12"],
    orders: ["O1,2025-02-31,ash,1"],
    events: ["2025-03-01,A2,weighed,,1600", "2025-03-01,A1,weighed,,1600,,,O1"]
  };
  const {problems} = read(lines);
  const said = problems.filter(({code}) => code.endsWith("-refused")).map(({code, row, wanted}) => [code, row, wanted]);
  expect(said).toEqual([
    ["square-refused", 2, "a sound square; row 3 of squares.csv, where it stands, was refused"],
    ["order-refused", 3, "a sound order; row 2 of orders.csv, where it stands, was refused"]
  ]);
  expect(codes({...lines, squares: [a1, a2], orders: smallest.orders})).toEqual([]);
});

test("soundRows refuses what happened after today, and nothing where no today is given", () => {
  const lines = {
    squares: [a1, a2],
    events: ["2026-02-01,A1,weighed,,1600", "2026-02-02,A1,weighed,,1590"],
    climate: ["2062-02-01,16,55"]
  };
  expect(codes(lines, "2026-02-01")).toEqual([
    "refused date-future events.csv A3",
    "refused date-future climate.csv A2"
  ]);
  expect(codes(lines)).toEqual([]);
  expect(codes({orders: ["O1,2026-02-02,ash,1"]}, "2026-02-01")).toEqual(["refused date-future orders.csv B2"]);
  expect(codes({lots: ["A,2026-02-02,Quillmoor Sawpit,ash,2,10"]}, "2026-02-01")[0]).toBe(
    "refused date-future lots.csv B2"
  );
});

test("soundRows refuses an event written twice, cell for cell, and no other that is alike", () => {
  const once = "2025-03-01,A1,weighed,,1600";
  expect(codes({events: [once, "2025-03-01,A1,weighed,,1600,12", once]})).toEqual(["refused row-twice events.csv C4"]);
});

test("soundRows takes one advice a species and day, of a known species and a past day, whose ranges rise", () => {
  const sound = "2025-02-01,ash,2025-06-01,2026-05-31,50,40,60,12,5,20,50,30,70";
  const advice = (...changes: [from: string, to: string][]) =>
    codes({advice: [sound, changes.reduce((text, [from, to]) => text.replace(from, to), sound)]}, "2025-12-31");
  const other: [string, string] = ["2025-02-01", "2025-03-01"];
  expect(advice(other)).toEqual([]);
  expect(advice(["ash", "maple"])).toEqual([]);
  expect(advice()).toEqual(["refused row-twice advice.csv A3"]);
  expect(advice(other, ["ash", "aash"])).toEqual(["refused species-unknown advice.csv B3"]);
  expect(advice(["2025-02-01", "2026-02-01"])).toEqual(["refused date-future advice.csv A3"]);
  expect(advice(other, ["2026-05-31", "2025-05-31"])).toEqual(["refused range-turned advice.csv C3"]);
  expect(advice(other, [",40,60", ",60,40"])).toEqual(["refused range-turned advice.csv F3"]);
  expect(advice(other, [",5,20", ",20,5"])).toEqual(["refused range-turned advice.csv I3"]);
  expect(advice(other, [",30,70", ",70,30"])).toEqual(["refused range-turned advice.csv L3"]);
  expect(advice(other, [",50,30,70", ",,,"])).toEqual([]);
});

test("soundRows refuses a length in another unit than the others", () => {
  expect(codes({squares: [a1, a2, "A3,A,1500,40,40,1690,12", "A4,A,150,40,40,168,12"]})).toContain(
    "refused unit-jump squares.csv C5"
  );
});

// 40 % on either side of 1120 · 0.56/(1 − 0.265·0.6·0.56) = 688.5 kg/m³ is 413 to 964; in 2.4 litres at 12 %: 991 g and 2313 g.
test.each([
  [985, ["doubt density-unlikely squares.csv F3"]],
  [1000, []],
  [2300, []],
  [2320, ["doubt density-unlikely squares.csv F3"]]
])("soundRows, of an ash square of %d g in 2.4 litres: %j", (massG, expected) => {
  expect(codes({squares: [a1, `A2,A,1500,40,40,${massG},12`]})).toEqual(expected);
});

test("soundRows points at the moisture where a decimal point missing in it explains a strange density", () => {
  const {problems} = parseBook(texts({squares: [a1, "A2,A,1500,40,40,1680,131"]}), settingsOf());
  expect(problems.map(brief)).toEqual(["density-unlikely squares.csv G3"]);
  expect(problems[0]!.mend).toMatch(/^With a moisture of 13\.1 % it would be 69\d: a decimal point missing\?/);
  // A mass of a tenth is none the better for it.
  expect(codes({squares: [a1, "A2,A,1500,40,40,168,131"]})).toContain("refused density-impossible squares.csv F3");
});

test("soundRows doubts a noted density that is more than 3 % off mass over volume, and keeps the mass", () => {
  const files = texts();
  const noted = (densityKgM3: number) => ({
    ...files,
    "squares.csv": files["squares.csv"]
      .replace("mc_pct", "mc_pct,density_kgm3")
      .replaceAll(",1680,12", `,1680,12,${densityKgM3}`)
  });
  expect(parseBook(noted(720), settingsOf()).problems).toEqual([]);
  const {book, problems} = parseBook(noted(722), settingsOf());
  expect(problems.map(brief)).toEqual(["density-differs squares.csv H2", "density-differs squares.csv H3"]);
  expect(book?.squares[0]?.massG).toBe(1680);
});

test("soundRows takes the mass from the density where it is blank: 700 kg/m³ of 2.4 litres are 1680 g", () => {
  const files = texts();
  const squares = files["squares.csv"].replace("mc_pct", "mc_pct,density_kgm3").replaceAll(",1680,12", ",,12,700");
  const {book, problems} = parseBook({...files, "squares.csv": squares}, settingsOf());
  expect(problems).toEqual([]);
  expect(book?.squares.map(({massG}) => massG)).toEqual([1680, 1680]);
});

test("soundRows takes a supplier spelt in two ways for one, under the first spelling, and says so", () => {
  const lots = [...smallest.lots, "B,2025-02-10,quillmoor  sawpit,ash,1,9"];
  const {book, problems} = read({lots, squares: [a1, a2, "B1,B,1500,40,40,1680,12"]});
  expect(problems.map(brief)).toEqual(["supplier-spelling lots.csv C3"]);
  expect(book?.lots.map(({supplier}) => supplier)).toEqual(["Quillmoor Sawpit", "Quillmoor Sawpit"]);
});

test("soundRows finds species, stages and defects whatever their case and dashes", () => {
  const {book, problems} = read({
    lots: ["A,2025-01-10,Quillmoor Sawpit,Ash,2,10"],
    orders: ["O1,2025-02-01,ASH,1"],
    events: ["2025-03-15,A1,turned,Rough Round,1100", "2025-04-15,A1,discarded,,,,Tear out"]
  });
  expect(problems).toEqual([]);
  expect([book?.lots[0]?.species, book?.orders[0]?.species]).toEqual(["ash", "ash"]);
  expect(book?.events.map(({stage, defect}) => stage ?? defect)).toEqual(["rough-round", "tear-out"]);
});

test("soundRows doubts an order promised for a day before it came in", () => {
  const orders =
    "order,ordered_on,species,quantity,wanted_by\nO1,2025-02-01,ash,1,2025-02-01\nO2,2025-02-01,ash,1,2025-01-31\n";
  expect(parseBook({...texts(), "orders.csv": orders}, settingsOf()).problems.map(brief)).toEqual([
    "before-order orders.csv E3"
  ]);
});

test("soundRows doubts a square measured before it was bought", () => {
  const squares = `measured_on,${texts()["squares.csv"].replace("A1,", "2025-01-10,A1,").replace("A2,", "2025-01-09,A2,")}`;
  expect(parseBook({...texts(), "squares.csv": squares}, settingsOf()).problems.map(brief)).toEqual([
    "before-purchase squares.csv A3"
  ]);
});

test("soundRows refuses an amount in another currency than the book's", () => {
  const lots = ["A,2025-01-10,Quillmoor Sawpit,ash,2,£10", "B,2025-01-11,Quillmoor Sawpit,ash,2,$12.50"];
  expect(read({lots}).problems[0]).toMatchObject({
    code: "cell-unreadable",
    cell: "F3",
    wanted: "an amount in £, the currency of workshop.json",
    mend: "Correct the amount, or set money.currency in workshop.json to yours."
  });
});
