import {describe, expect, test} from "vitest";
import {notData} from "../../lib/book/footers.ts";
import {brief, headings, recordsOf} from "./smallBook.ts";

const lots = (...rows: string[]) => recordsOf([headings["lots.csv"], ...rows].join("\n"), "lots.csv");
const squares = (...rows: string[]) => recordsOf([headings["squares.csv"], ...rows].join("\n"), "squares.csv");
const climate = (...rows: string[]) => recordsOf([headings["climate.csv"], ...rows].join("\n"), "climate.csv");

const lot = "A,2025-01-10,Quillmoor Sawpit,ash,2,10";
const square = "A1,A,1500,40,40,1680,12";
const reading = "2025-01-01,16,55";

/** What a row between two sound ones, or below one, is taken for; undefined when it is refused. */
function taken(read: ReturnType<typeof lots | typeof squares | typeof climate>, row: number) {
  const why = read.source.notData.find((one) => one.row === row)?.why;
  const refused = read.problems.some((one) => one.severity === "refused" && one.row === row);
  // Nothing is lost: a row that is no record is one or the other, never both or neither.
  expect(refused).toBe(why === undefined);
  expect(read.source.rows.some((one) => one.row === row)).toBe(refused);
  return why;
}
const below = (row: string) => taken(lots(lot, row), 3);
const between = (row: string) => taken(lots(lot, row, lot.replace("A", "B")), 3);

describe("a total", () => {
  test.each([
    "Total,,,,34,425",
    "TOTAL,,,,34,425.50",
    "Total:,,,,34,",
    "Totals,,,,34,£425.50",
    "Grand total,,,,34,425",
    "Sub-total,,,,34,425",
    "Subtotal,,,,34,425",
    "Sum,,,,34,-",
    "Average,,,,17,12.5",
    "Count,,,,2,",
    "Summe,,,,34,425",
    "Total 2025,,,,34,425",
    "Total squares,,,,34,",
    ",,,Total,34,425",
    ",,,,Total,425",
    "Total,,,ash,34,425",
    "Total,,,,#REF!,425",
    "Total,,,,34 squares,425"
  ])("%j is one, below the records and between them", (row) => {
    expect(below(row)).toBe("a total");
    expect(between(row)).toBe("a total");
  });

  test.each(["Average,16.2,55", "Mean,16.2,55", "Max,21,70", "Min,9,40", "Mittelwert,16.2,55"])(
    "in a column of days: %j",
    (row) => {
      expect(taken(climate(reading, row), 3)).toBe("a total");
    }
  );

  test("of squares, where all is averaged but the lot", () => {
    expect(taken(squares(square, "Average,,1501,40.2,39.9,1655,12.4"), 3)).toBe("a total");
  });

  test("without its word is one below the records: two lone sums", () => {
    expect(below(",,,,34,425.50")).toBe("a total");
    expect(below(",,,,,£ 425.50")).toBe("a total");
  });

  test("without its word is none between records: a row may have lost its other cells", () => {
    expect(between(",,,,34,425.50")).toBeUndefined();
  });
});

describe("no total, but a row to be mended", () => {
  test.each([
    ["half typed", "B,2025-02-10,,,,"],
    ["half typed, only its lot", "B,,,,,"],
    ["with a day and figures", ",2025-02-10,,,34,425"],
    ["of a lot that is a number, half typed", "12,,,,34,"],
    ["whole but for a slip", "B,2025-02-10,Fennaby Yard,ash,two,10"],
    ["of a lot called Total", "Total,2025-02-10,Fennaby Yard,ash,two,10"],
    ["of a word that begins like a total", "Maximilian,,,,34,425"],
    ["of a word that begins like a sum", "Summer lot,,,,34,425"]
  ])("%s: %j", (_, row) => {
    expect(below(row)).toBeUndefined();
    expect(between(row)).toBeUndefined();
  });

  const bySupplier = (...rows: string[]) =>
    recordsOf(["supplier,lot,bought_on,species,squares_bought,price_each", ...rows].join("\n"), "lots.csv");
  const first = "Quillmoor Sawpit,A,2025-01-10,ash,2,10";

  test.each([
    "Total Timber,B,,,,",
    "Total Timber,B,2025-02-10,,,",
    "Total Timber,,,ash,20,12",
    "Total Timber,B,2025-02-10,ash,twenty,12"
  ])("half typed, of a supplier called Total Timber: %j", (row) => {
    expect(taken(bySupplier(first, row), 3)).toBeUndefined();
    expect(taken(bySupplier(first, row, first.replace(",A,", ",C,")), 3)).toBeUndefined();
  });

  test("the lone name of that supplier between records", () => {
    expect(taken(bySupplier(first, "Total Timber,,,,,", first.replace(",A,", ",C,")), 3)).toBeUndefined();
  });

  test("a sound row of that supplier is a record", () => {
    const {records, source} = bySupplier("Total Timber,B,2025-02-10,ash,20,12");
    expect(records).toMatchObject([{supplier: "Total Timber", squaresBought: 20}]);
    expect(source.notData).toEqual([]);
  });

  test("a square called Max with a slip in its mass", () => {
    expect(taken(squares(square, "Max,7,1500,40,40,16OO,12"), 3)).toBeUndefined();
  });
});

describe("a note", () => {
  test.each(["Weighed on the new scale", ",,,See the other book for 2024", "* prices without carriage"])(
    "below the records is one: %j",
    (row) => {
      expect(below(row)).toBe("a note");
    }
  );

  test("of several lines below the records is one each", () => {
    const {source, problems} = lots(lot, "", "Prices are without carriage", "Kiln dried is marked so");
    expect(source.notData).toEqual([
      {row: 3, why: "blank"},
      {row: 4, why: "a note"},
      {row: 5, why: "a note"}
    ]);
    expect(problems).toMatchObject([
      {
        code: "rows-not-data",
        severity: "note",
        wanted: "taken to have rows that are no data: row 4 (a note), row 5 (a note)"
      }
    ]);
  });

  test("alone between records is a row to be mended", () => {
    expect(between("Weighed on the new scale")).toBeUndefined();
  });

  test.each(["B", "Fennaby Yard", "Weighed on the new scale,2025-02-10"])(
    "is not one word or two, nor has it anything beside it: %j",
    (row) => {
      expect(below(row)).toBeUndefined();
    }
  );
});

describe("other rows that are no data", () => {
  test.each(["---,---,---,---,---,---", "=====", "______,,,***", "..."])("a ruled line: %j", (row) => {
    expect(below(row)).toBe("a ruled line");
    expect(between(row)).toBe("a ruled line");
  });

  test.each(["-,-,-,-,-,-", "--", "x---"])("no ruled line: %j", (row) => {
    expect(between(row)).toBeUndefined();
  });

  test("the headings repeated, as on a new page, whatever their case", () => {
    expect(between(headings["lots.csv"])).toBe("the headings again");
    expect(between(headings["lots.csv"].toUpperCase())).toBe("the headings again");
    expect(between("lot,bought on,,,,")).toBe("the headings again");
  });

  test("one heading alone, or in another column, is not the headings again", () => {
    expect(between("lot,,,,,")).toBeUndefined();
    expect(between("bought_on,lot,,,,")).toBeUndefined();
  });

  test("blank rows and rows above the headings are counted too", () => {
    const text = `Purchases of 2025\n\n${headings["lots.csv"]}\n${lot}\n,,,,,\n`;
    expect(recordsOf(text, "lots.csv").source.notData).toEqual([
      {row: 1, why: "above the headings"},
      {row: 2, why: "blank"},
      {row: 5, why: "blank"}
    ]);
  });
});

test("a row that can be read as a record is one, whatever stands in it", () => {
  const {records, source} = lots(lot, "Total,2025-01-10,Sum of it all,ash,34,425");
  expect(records.map((one) => one.lot)).toEqual(["A", "Total"]);
  expect(source.notData).toEqual([]);
});

test("what was taken for no data is said in a note that names six rows and counts the rest", () => {
  const {problems} = lots(lot, ...Array.from({length: 8}, () => "Total,,,,34,425"));
  expect(problems.map(brief)).toEqual(["rows-not-data lots.csv"]);
  expect(problems[0]!.wanted).toBe(
    "taken to have rows that are no data: row 3 (a total), row 4 (a total), row 5 (a total), row 6 (a total), row 7 (a total), row 8 (a total) and 2 more"
  );
});

test("notData of a row of nothing is blank; of a damaged cell it is undefined, however the cell begins, without delay", () => {
  const about = {headings: ["lot"], places: [], below: true};
  expect(notData({row: 2, cells: ["", " ", "\t"]}, about)).toBe("blank");
  expect(notData({row: 2, cells: []}, about)).toBe("blank");
  const started = performance.now();
  expect(notData({row: 2, cells: [`total ${"x ".repeat(1_000_000)}`]}, about)).toBeUndefined();
  expect(performance.now() - started).toBeLessThan(1000);
});
