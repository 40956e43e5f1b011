import {expect, test} from "vitest";
import {type Problem, problemSentence} from "../../lib/book/problem.ts";
import {readRecords} from "../../lib/book/readRecords.ts";
import {files} from "../../lib/book/records.ts";
import {headings, recordsOf} from "./smallBook.ts";

type Habits = Parameters<typeof recordsOf>[2];

/** How a file was read, without the sentence's beginning and end; undefined when nothing is said. */
function how({problems}: {problems: readonly Problem[]}): string | undefined {
  const notes = problems.filter(({code}) => code === "read-as");
  expect(notes.length).toBeLessThan(2);
  return notes[0]?.wanted;
}

const orders = (rows: readonly string[], habits: Habits = {}, between = ",") =>
  how(
    recordsOf(
      [["order", "ordered_on", "wanted_by", "species", "quantity", "price_each"].join(between), ...rows].join("\n"),
      "orders.csv",
      habits
    )
  );

test("a file in the plain form: nothing is said", () => {
  expect(orders(["O1,2025-02-01,,ash,1,140.50"])).toBeUndefined();
  expect(orders(["O1,2025-02-01,,ash,1,140"])).toBeUndefined();
  expect(orders([])).toBeUndefined();
});

test.each([
  [";", "semicolons"],
  ["\t", "tabs"],
  ["|", "bars"]
])("what stands between the cells, where it is no comma: %j", (between, name) => {
  const row = ["O1", "2025-02-01", "", "ash", "1", "140"].join(between);
  expect(orders([row], {}, between)).toBe(`read with ${name} between the cells`);
});

test("decimal commas, found or said", () => {
  expect(orders(["O1;2025-02-01;;ash;1;140,50"], {}, ";")).toBe(
    "read with semicolons between the cells; decimal commas"
  );
  expect(orders(["O1,2025-02-01,,ash,1,140"], {decimal: "comma"})).toBe(
    "read with decimal commas, as workshop.json says"
  );
  expect(orders(["O1,2025-02-01,,ash,1,140"], {decimal: "point"})).toBeUndefined();
});

test("the order of dates, found or said; both where two columns differ", () => {
  expect(orders(["O1,31/01/2025,,ash,1,140"])).toBe("read with dates with the day first");
  expect(orders(["O1,01/31/2025,,ash,1,140"])).toBe("read with dates with the month first");
  expect(orders(["O1,01/02/2025,,ash,1,140"], {dates: "month-first"})).toBe(
    "read with dates with the month first, as workshop.json says"
  );
  expect(orders(["O1,31/01/2025,12/24/2025,ash,1,140"])).toBe(
    "read with dates with the day first; dates with the month first"
  );
});

test("dates that can be read in one way only say nothing of an order", () => {
  expect(orders(["O1,31 Jan 2025,,ash,1,140"])).toBeUndefined();
  expect(orders(["O1,2025/01/31,,ash,1,140"])).toBeUndefined();
});

test("units turned, and headings that are not ours", () => {
  const text = "Square No,Lot,Length (in),Width (mm),Thickness_mm,Weight (oz),MC %\n1,A,59,40,40,58,12";
  expect(how(recordsOf(text, "squares.csv"))).toBe(
    "read with Length (in) turned from in into mm; Weight (oz) turned from oz into g; “Square No” for square, “Length (in)” for length_mm, “Width (mm)” for width_mm, “Weight (oz)” for mass_g, “MC %” for mc_pct"
  );
});

test("a unit that workshop.json says; a heading that it says is no news", () => {
  const text = "date,Grad,humidity_pct\n2025-01-01,50,55";
  const read = recordsOf(text, "climate.csv", {headings: {temperature_c: "Grad"}, units: {temperature_c: "°F"}});
  // (50 − 32) · 5/9 = 10.
  expect(read.records[0]?.temperatureC).toBe(10);
  expect(how(read)).toBe("read with Grad turned from °F into °C");
});

test("a heading that differs from ours in case and spaces only is ours", () => {
  expect(how(recordsOf("DATE,Temperature C,humidity-pct\n2025-01-01,16,55", "climate.csv"))).toBeUndefined();
});

test("how the file was opened comes first", () => {
  const rows = [headings["climate.csv"], "2025-01-01,16,55"].map((line, index) => ({
    row: index + 1,
    cells: line.split(",")
  }));
  const grid = {file: "climate.csv", rows, delimiter: ";" as const, how: ["windows-1252 letters"], problems: []};
  expect(how(readRecords(grid, files["climate.csv"]))).toBe(
    "read with windows-1252 letters; semicolons between the cells"
  );
});

test("of a workbook neither delimiter nor decimal mark is said", () => {
  const rows = [headings["climate.csv"], "2025-01-01,16.5,55"].map((line, index) => ({
    row: index + 1,
    cells: line.split(",")
  }));
  const grid = {file: "stock.xlsx, sheet Climate", rows, exact: true, problems: []};
  const read = readRecords(grid, files["climate.csv"], {decimal: "comma"});
  expect(read.records[0]?.temperatureC).toBe(16.5);
  expect(how(read)).toBeUndefined();
});

test("it is a note, and says what to do if that is wrong", () => {
  const {problems} = recordsOf("date;temperature_c;humidity_pct\n2025-01-31;16,5;55", "climate.csv");
  expect(problems.map(({severity}) => severity)).toEqual(["note"]);
  expect(problemSentence(problems[0]!)).toBe(
    "climate.csv: is read with semicolons between the cells; decimal commas. If that is wrong, say what is right under reading in workshop.json."
  );
});

test("of a file that cannot be read nothing is said of how it was", () => {
  expect(how(recordsOf("date;warmth;humidity_pct\n2025-01-31;16,5;55", "climate.csv"))).toBeUndefined();
});
