import {describe, expect, test} from "vitest";
import {CellReader, isMissing} from "../../lib/book/cells.ts";
import {readRecords} from "../../lib/book/readRecords.ts";
import {files} from "../../lib/book/records.ts";
import {brief, headings, recordsOf} from "./smallBook.ts";

type Habits = Parameters<typeof recordsOf>[2];

const quoted = (cells: readonly string[]) => cells.map((cell) => `"${cell.replaceAll('"', '""')}"`).join(",");

/** lots.csv, one row for each price; lots are numbered 1, 2, … */
function prices(cells: readonly string[], habits: Habits = {}) {
  const rows = cells.map((price, index) => quoted([`${index + 1}`, "2025-01-10", "Fennaby Yard", "ash", "2", price]));
  return recordsOf([headings["lots.csv"], ...rows].join("\n"), "lots.csv", habits);
}

/** orders.csv, one row for each pair of days ordered and wanted. */
function days(cells: readonly (readonly [string, string])[], habits: Habits = {}) {
  const rows = cells.map(([ordered, wanted], index) => quoted([`O${index + 1}`, ordered, wanted, "ash", "1"]));
  return recordsOf(["order,ordered_on,wanted_by,species,quantity", ...rows].join("\n"), "orders.csv", habits);
}

/** squares.csv of one column of lengths, all else sound. */
function lengths(cells: readonly string[], {heading = "length_mm", ...habits}: Habits & {heading?: string} = {}) {
  const rows = cells.map((length, index) => quoted([`${index + 1}`, "A", length, "40", "40", "1600", "12"]));
  const text = [`square,lot,"${heading.replaceAll('"', '""')}",width_mm,thickness_mm,mass_g,mc_pct`, ...rows].join(
    "\n"
  );
  return recordsOf(text, "squares.csv", habits);
}

const priceOf = (read: ReturnType<typeof prices>) => read.records.map(({priceEach}) => priceEach);
const lengthOf = (read: ReturnType<typeof lengths>) => read.records.map(({lengthMm}) => lengthMm);
/** The faults, without notes on how the file was read. */
const faults = ({problems}: {problems: ReturnType<typeof prices>["problems"]}) =>
  problems.filter(({severity}) => severity !== "note");

describe("the decimal mark", () => {
  test("is a point where cells say so, and commas are of thousands", () => {
    expect(priceOf(prices(["12.50", "1,250", "1,250.75", "9"]))).toEqual([12.5, 1250, 1250.75, 9]);
  });

  test("is a comma where cells say so, and points are of thousands", () => {
    expect(priceOf(prices(["12,50", "1.250", "1.250,75", "9"]))).toEqual([12.5, 1250, 1250.75, 9]);
  });

  test("does not matter to thousands in spaces and apostrophes", () => {
    expect(priceOf(prices(["1 250", "1'250", "1\u202f250", "1’250"]))).toEqual([1250, 1250, 1250, 1250]);
  });

  test.each([
    ["0.5", "1.500", 1.5],
    ["0,5", "1.500", 1500],
    ["0,125", "1,500", 1.5],
    ["1.250.000,5", "1,500", 1.5],
    ["1,250,000", "1,500", 1500]
  ])("one cell tells for all: beside %s, %s is %d", (telling, cell, value) => {
    expect(priceOf(prices([cell, telling])).at(0)).toBe(value);
  });

  test("found in one column holds for the file", () => {
    const text = [
      "lot;bought_on;supplier;species;squares_bought;price_each;carriage",
      "1;2025-01-10;Yard;ash;2;1.250;38,50"
    ].join("\n");
    expect(recordsOf(text, "lots.csv").records[0]).toMatchObject({priceEach: 1250, carriage: 38.5});
  });

  test("of a minority is refused, and the right spelling is shown", () => {
    const points = prices(["12.50", "11.75", "12,25"]);
    expect(priceOf(points)).toEqual([12.5, 11.75]);
    expect(points.problems).toMatchObject([
      {
        code: "cell-unreadable",
        severity: "refused",
        cell: "F4",
        value: "12,25",
        wanted: "a number with a decimal point, like 12.5",
        mend: "Write a decimal point: 12.25."
      }
    ]);
    const commas = prices(["12,50", "11,75", "12.25"]);
    expect(priceOf(commas)).toEqual([12.5, 11.75]);
    expect(faults(commas)).toMatchObject([
      {
        cell: "F4",
        value: "12.25",
        wanted: "a number with a decimal comma, like 12,5",
        mend: "Write a decimal comma: 12,25."
      }
    ]);
  });

  test("where nothing tells, a number of two readings is refused with both; others are read", () => {
    const read = prices(["1.655", "12", "1,250"]);
    expect(priceOf(read)).toEqual([12]);
    expect(read.problems).toMatchObject([
      {
        code: "number-ambiguous",
        severity: "refused",
        cell: "F2",
        value: "1.655",
        mend: 'With a decimal point it is 1.655, with a decimal comma 1655. Say which under reading in workshop.json ("decimal": "point" or "comma").'
      },
      {code: "number-ambiguous", cell: "F4", value: "1,250"}
    ]);
    expect(read.problems[1]!.mend).toContain("With a decimal point it is 1250, with a decimal comma 1.25.");
  });

  test("where cells tell both ways, less than 9 to 1, a number of two readings is refused", () => {
    const told = (points: number) => [...Array(points).fill("12.5"), "12,5", "1.655"];
    expect(faults(prices(told(8))).map(({code}) => code)).toEqual(["cell-unreadable", "number-ambiguous"]);
    expect(faults(prices(told(9))).map(({code}) => code)).toEqual(["cell-unreadable"]);
    expect(priceOf(prices(told(9))).at(-1)).toBe(1.655);
  });

  test.each([
    ["point", 1.655, 1250],
    ["comma", 1655, 1.25]
  ] as const)("said in workshop.json (%s) decides", (decimal, first, second) => {
    expect(priceOf(prices(["1.655", "1,250"], {decimal}))).toEqual([first, second]);
  });

  test("said in workshop.json holds against the cells too", () => {
    const read = prices(["12,50", "11,75"], {decimal: "point"});
    expect(read.records).toEqual([]);
    expect(faults(read).map(brief)).toContain("cell-unreadable lots.csv F2");
  });
});

describe("the bounds of a column", () => {
  test("tell which reading is meant: no square is 1.502 mm long, so it is 1502", () => {
    expect(lengthOf(lengths(["1.502"]))).toEqual([1502]);
    expect(lengthOf(lengths(["1,502"]))).toEqual([1502]);
  });

  test("are evidence for the rest of the file", () => {
    const text = [
      "square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct",
      '1,A,1.502,40,40,"1.655",12',
      "2,A,1.498,40,40,1.700,12"
    ].join("\n");
    // 1.655 g lies within the bounds of a mass as 1655 g does; the lengths tell that the point is of thousands.
    expect(recordsOf(text, "squares.csv").records.map(({massG}) => massG)).toEqual([1655, 1700]);
  });

  test("count in the unit of the column: 59.125 in are 59.125 · 25.4 = 1501.775 mm, 59125 in no length", () => {
    expect(lengthOf(lengths(["59.125"], {heading: "Length (in)"}))[0]).toBeCloseTo(1501.775, 9);
  });

  test("leave a whole number to be one: 1.250 squares are 1250", () => {
    const text = `${headings["lots.csv"]}\n1,2025-01-10,Yard,ash,1.250,12`;
    expect(recordsOf(text, "lots.csv").records[0]?.squaresBought).toBe(1250);
  });

  test("are what is named when a number is written as the others but lies outside", () => {
    const read = lengths(["1502.5", "1498.5", "1.502"]);
    expect(lengthOf(read)).toEqual([1502.5, 1498.5]);
    expect(read.problems).toMatchObject([
      {code: "cell-unreadable", severity: "refused", cell: "C4", value: "1.502", wanted: "between 100 and 5000"}
    ]);
    expect(faults(lengths(["1502,5", "1498,5", "1,502"]))).toMatchObject([
      {cell: "C4", value: "1,502", wanted: "between 100 and 5000"}
    ]);
  });

  test("are said in our unit where the column has another", () => {
    // 300 in are 7620 mm.
    expect(faults(lengths(["59", "300"], {heading: "Length (in)"}))).toMatchObject([
      {cell: "C3", value: "300", wanted: "between 100 and 5000 mm"}
    ]);
  });
});

describe("units within cells", () => {
  test("go before the column's", () => {
    // 59 in · 25.4 = 1498.6; 4 ft 11 in are 59 in.
    const read = lengths(["1500", "150 cm", "1.5 m", '59"', "4' 11\"", "4 ft 11 in"]);
    expect(faults(read)).toEqual([]);
    const [a, b, c, ...inches] = lengthOf(read);
    expect([a, b, c]).toEqual([1500, 1500, 1500]);
    for (const length of inches) expect(length).toBeCloseTo(1498.6, 9);
  });

  test("of another dimension are refused", () => {
    const read = lengths(["1500 g"]);
    expect(read.records).toEqual([]);
    expect(read.problems.map(brief)).toEqual(["cell-unreadable squares.csv C2"]);
  });

  test("a currency before or behind a price is read over", () => {
    expect(priceOf(prices(["£12.50", "12.50 £", "GBP 12.50"]))).toEqual([12.5, 12.5, 12.5]);
  });
});

describe("a cell that is no number says how it may have come about", () => {
  test.each([
    ["1O.5", "Letter for a digit? Type 10.5."],
    ["l2.5", "Letter for a digit? Type 12.5."],
    ["twelve", "Correct the cell; it should look like 12.50."],
    ["12.5.", "Correct the cell; it should look like 12.50."],
    ["12 50", "Correct the cell; it should look like 12.50."],
    ["1e3", "Correct the cell; it should look like 12.50."],
    ["NaN", "Correct the cell; it should look like 12.50."],
    ["Infinity", "Correct the cell; it should look like 12.50."],
    ["0x10", "Correct the cell; it should look like 12.50."],
    ["=E2*2", "Correct the cell; it should look like 12.50."]
  ])("%j", (cell, mend) => {
    const read = prices([cell]);
    expect(read.records).toEqual([]);
    expect(read.problems).toMatchObject([{code: "cell-unreadable", severity: "refused", value: cell, mend}]);
  });

  test("a damaged cell of millions of digits is refused without delay", () => {
    const started = performance.now();
    expect(prices(["1".repeat(2_000_000), "1.".repeat(1_000_000)]).records).toEqual([]);
    expect(performance.now() - started).toBeLessThan(2000);
  });
});

describe("the order of day and month", () => {
  const wanted = (read: ReturnType<typeof days>) => read.records.map(({wantedBy}) => wantedBy);
  const ordered = (read: ReturnType<typeof days>) => read.records.map(({orderedOn}) => orderedOn);

  test("is found from a day beyond the 12th", () => {
    expect(
      ordered(
        days([
          ["03/04/2025", ""],
          ["31/10/2025", ""]
        ])
      )
    ).toEqual(["2025-04-03", "2025-10-31"]);
    expect(
      ordered(
        days([
          ["03/04/2025", ""],
          ["10/31/2025", ""]
        ])
      )
    ).toEqual(["2025-03-04", "2025-10-31"]);
  });

  test("is found for each column by itself", () => {
    const read = days([
      ["31/10/2025", "12/24/2025"],
      ["03/04/2025", "05/06/2025"]
    ]);
    expect(faults(read)).toEqual([]);
    expect(ordered(read)).toEqual(["2025-10-31", "2025-04-03"]);
    expect(wanted(read)).toEqual(["2025-12-24", "2025-05-06"]);
  });

  test("is the file's where a column does not tell", () => {
    const read = days([
      ["31/10/2025", "01/12/2025"],
      ["03/04/2025", "05/06/2025"]
    ]);
    expect(wanted(read)).toEqual(["2025-12-01", "2025-06-05"]);
  });

  test("that nothing tells: each day is refused with both readings, and the setting that decides is named", () => {
    const read = days([
      ["03/04/2025", ""],
      ["05/06/2025", ""],
      ["07/07/2025", ""]
    ]);
    // 7 July is 7 July either way.
    expect(ordered(read)).toEqual(["2025-07-07"]);
    expect(read.problems).toMatchObject([
      {
        code: "date-ambiguous",
        severity: "refused",
        cell: "B2",
        value: "03/04/2025",
        wanted: "a day that can be read in one way only",
        mend: 'Day first it is 2025-04-03, month first 2025-03-04. Say which under reading in workshop.json ("dates": "day-first" or "month-first"), or write 2025-09-20.'
      },
      {code: "date-ambiguous", cell: "B3"}
    ]);
  });

  test("said in workshop.json decides", () => {
    const cells = [["03/04/2025", ""]] as const;
    expect(ordered(days(cells, {dates: "day-first"}))).toEqual(["2025-04-03"]);
    expect(ordered(days(cells, {dates: "month-first"}))).toEqual(["2025-03-04"]);
  });

  test("of a minority is refused, with the day that it would be", () => {
    const read = days([
      ["31/10/2025", ""],
      ["30/10/2025", ""],
      ["10/29/2025", ""]
    ]);
    expect(ordered(read)).toEqual(["2025-10-31", "2025-10-30"]);
    expect(faults(read)).toMatchObject([
      {
        code: "cell-unreadable",
        severity: "refused",
        cell: "B4",
        value: "10/29/2025",
        wanted: "a calendar day like 2026-10-31",
        mend: "The others of this column have the day first; this one would be 2025-10-29. Write it like the others, or like 2025-09-20."
      }
    ]);
  });

  test("does not matter to a year first, a month's name, or points", () => {
    const read = days([
      ["2025-04-03", "3 Apr 2025"],
      ["2025/4/3", "03.04.2025"]
    ]);
    expect(read.problems.filter(({code}) => code !== "read-as")).toEqual([]);
    expect([...ordered(read), ...wanted(read)]).toEqual(["2025-04-03", "2025-04-03", "2025-04-03", "2025-04-03"]);
  });

  test.each(["31/02/2025", "2025-02-29", "31.04.2025", "yesterday", "2025", "May 2025", "0/0/0"])(
    "a day that no calendar has, %j, is refused",
    (cell) => {
      const read = days([[cell, ""]]);
      expect(read.records).toEqual([]);
      expect(read.problems).toMatchObject([
        {code: "cell-unreadable", cell: "B2", mend: "Correct the day; it should look like 2025-09-20."}
      ]);
    }
  );

  test("a serial number is a day from 1900, or from 1904 where workshop.json says so", () => {
    // 45000 is 2023-03-15: 44927 is 2023-01-01 (from memory), and 31 + 28 + 14 = 73 days later is 15 March.
    // From 1904 the same number is 1462 days later (ECMA-376 part 1, 18.17.4.1, from memory): four years with one 29 February
    // are 1461 days, to 2027-03-15, and one more.
    expect(ordered(days([["45000", ""]]))).toEqual(["2023-03-15"]);
    expect(ordered(days([["45000", ""]], {serialsFrom: 1904}))).toEqual(["2027-03-16"]);
  });
});

describe("cells with nothing to say", () => {
  test.each(["", " ", "-", "–", "—", "?", "n/a", "N/A", "na", "N.A.", "nil", "None", " - ", "\u00a0"])(
    "%j is blank",
    (cell) => {
      expect(isMissing(cell)).toBe(true);
      expect(days([["2025-01-01", cell]]).records).toEqual([
        {row: 2, order: "O1", orderedOn: "2025-01-01", species: "ash", quantity: 1}
      ]);
    }
  );

  test.each(["0", "no", "--", ".", "x", "nothing", "N"])("%j is not blank", (cell) => {
    expect(isMissing(cell)).toBe(false);
  });

  test("a cell filled up with blanks is blank, however wide its column was", () => {
    expect(isMissing(" ".repeat(200))).toBe(true);
    const text = `date,temperature_c,humidity_pct,note\n2025-01-01,16,55,${" ".repeat(80)}`;
    expect(recordsOf(text, "climate.csv")).toMatchObject({records: [{temperatureC: 16}], problems: []});
  });

  test("a blank is never zero: it is missing where it must be filled", () => {
    expect(prices(["-"])).toMatchObject({
      records: [],
      problems: [{code: "cell-unreadable", cell: "F2", value: "-", wanted: "filled in"}]
    });
    expect(priceOf(prices(["0"]))).toEqual([0]);
  });
});

describe("a spreadsheet's error", () => {
  // English: ECMA-376 part 1, 18.17.3 error values, from memory. The others are what spreadsheets in German, Spanish, French and
  // Portuguese show, and Err:502 what one shows for a bad argument; from memory as well.
  const errors = [
    "#N/A",
    "#REF!",
    "#VALUE!",
    "#DIV/0!",
    "#NAME?",
    "#NUM!",
    "#NULL!",
    "#ref!",
    "#ERROR!",
    "####",
    "##########",
    "#NV",
    "#BEZUG!",
    "#ÜBERLAUF!",
    "#¡REF!",
    "#¿NOMBRE?",
    "#VALEUR!",
    "#N/D",
    "Err:502",
    " #REF! "
  ];
  test.each(errors)("%j is refused in a column of numbers, of days and of names; a note keeps it", (cell) => {
    const text = [
      "lot,bought_on,supplier,species,squares_bought,price_each,note",
      `1,2025-01-10,Yard,ash,2,${cell},`,
      `2,${cell},Yard,ash,2,12,`,
      `3,2025-01-10,${cell},ash,2,12,`,
      `4,2025-01-10,Yard,ash,2,12,${cell}`
    ].join("\n");
    const {records, problems} = recordsOf(text, "lots.csv");
    expect(records.map(({lot, note}) => [lot, note])).toEqual([["4", cell.trim()]]);
    expect(problems.map(brief)).toEqual(["F2", "B3", "C4"].map((place) => `cell-error lots.csv ${place}`));
    expect(problems[0]).toMatchObject({
      severity: "refused",
      wanted: "a value, not a spreadsheet's error",
      mend: "The spreadsheet could not work this cell out. Type the value itself, like 12.50."
    });
  });

  test.each(["#12", "#A4", "#", "Err", "wet!", "#1!"])("%j is none: a name may look so", (cell) => {
    const text = `${headings["lots.csv"]}\n${cell},2025-01-10,Yard,ash,2,12`;
    expect(recordsOf(text, "lots.csv").records.map(({lot}) => lot)).toEqual([cell]);
  });
});

describe("words", () => {
  const events = (words: readonly string[], habits: Habits = {}) =>
    recordsOf(
      ["date,square,event,stage", ...words.map((word) => `2025-06-02,A1,${word},rough-round`)].join("\n"),
      "events.csv",
      habits
    );

  test("are read whatever their case, spaces and accents", () => {
    expect(events(["Turned", "TURNED", " turned ", "tùrned"]).records.map(({event}) => event)).toEqual(
      Array(4).fill("turned")
    );
  });

  test("of the owner's own are read as ours, beside ours", () => {
    const {records, problems} = events(["gedreht", "GEDREHT", "Auf Maß gedreht", "weighed"], {
      words: {event: {Gedreht: "turned", "auf maß gedreht": "turned"}}
    });
    expect(problems).toEqual([]);
    expect(records.map(({event}) => event)).toEqual(["turned", "turned", "turned", "weighed"]);
  });

  test("of the owner's own may stand for a name: a species", () => {
    const text = `${headings["lots.csv"]}\n1,2025-01-10,Yard,Esche,2,12\n2,2025-01-10,Yard,Ahorn,2,12`;
    const {records} = recordsOf(text, "lots.csv", {words: {species: {esche: "ash"}}});
    expect(records.map(({species}) => species)).toEqual(["ash", "Ahorn"]);
  });

  test("are of their own column only", () => {
    const {records} = events(["weighed"], {words: {event: {"rough-round": "turned"}}});
    expect(records).toMatchObject([{event: "weighed", stage: "rough-round"}]);
  });

  test.each(["turn", "constructor", "__proto__", "turned turned"])("that are none of ours are refused: %j", (word) => {
    const {records, problems} = events([word]);
    expect(records).toEqual([]);
    expect(problems).toMatchObject([
      {
        code: "cell-unreadable",
        cell: "C2",
        value: word,
        wanted: "one of turned, weighed, discarded, diverted, allotted, delivered"
      }
    ]);
  });
});

test("a character that was lost when the file was saved is a doubt, and the row is used", () => {
  const text = `${headings["lots.csv"]}\n1,2025-01-10,M\ufffdhle,ash,2,12`;
  const {records, problems} = recordsOf(text, "lots.csv");
  expect(records.map(({supplier}) => supplier)).toEqual(["M\ufffdhle"]);
  expect(problems).toMatchObject([{code: "cell-damaged", severity: "doubt", cell: "C2", value: "M\ufffdhle"}]);
});

describe("cells of a workbook", () => {
  const rows = (cells: readonly string[]) => [
    {row: 1, cells: headings["lots.csv"].split(",")},
    ...cells.map((price, index) => ({
      row: index + 2,
      cells: [`${index + 1}`, "2025-01-10", "Yard", "ash", "2", price]
    }))
  ];
  const book = (cells: readonly string[], habits: Habits = {}) =>
    readRecords(
      {file: "stock.xlsx, sheet Lots", rows: rows(cells), exact: true, problems: []},
      files["lots.csv"],
      habits
    );

  test("have decimal points, whatever the owner sees and says", () => {
    expect(book(["1.655"]).records[0]?.priceEach).toBe(1.655);
    expect(book(["1.655"], {decimal: "comma"}).records[0]?.priceEach).toBe(1.655);
  });

  test("that are text are read by their own evidence, or by workshop.json", () => {
    const texts = (prices: readonly string[], habits: Habits = {}) => {
      const own = rows(prices).map((row) => ({...row, texts: [5]}));
      const grid = {file: "stock.xlsx, sheet Lots", rows: own, exact: true, problems: []};
      return readRecords(grid, files["lots.csv"], habits);
    };
    expect(texts(["12,5", "1.250"]).records.map(({priceEach}) => priceEach)).toEqual([12.5, 1250]);
    expect(texts(["1,250"]).problems.map(brief)).toEqual(["number-ambiguous stock.xlsx, sheet Lots F2"]);
    expect(texts(["1,250"], {decimal: "comma"}).records[0]?.priceEach).toBe(1.25);
  });
});

test("CellReader tells what it found: the mark of the file, the order of each column of days", () => {
  const field = (heading: string, kind: "number" | "date") => ({
    heading,
    kind,
    description: "",
    example: "",
    minimum: 0,
    maximum: 1e6
  });
  const places = [
    {key: "a", index: 0, heading: "a", field: field("a", "number")},
    {key: "b", index: 1, heading: "b", field: field("b", "date")},
    {key: "c", index: 2, heading: "c", field: field("c", "date")}
  ];
  const rows = [
    {row: 2, cells: ["12,5", "31/10/2025", "01/02/2025"]},
    {row: 3, cells: ["1.655", "30/10/2025"]}
  ];
  const {decimal, dates} = new CellReader(rows, places).forms;
  expect(decimal).toEqual({habit: "comma", counts: {point: 0, comma: 1}, clear: true});
  // Column b tells by itself; column c has no telling day, so it has the evidence of the file.
  const dayFirst = {habit: "day-first", counts: {"day-first": 2, "month-first": 0}, clear: true};
  expect(dates.get(1)).toEqual(dayFirst);
  expect(dates.get(2)).toEqual(dayFirst);
});
