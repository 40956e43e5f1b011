import {expect, test} from "vitest";
import {bookCounts} from "../../lib/book/bookCounts.ts";
import {type CountFile, countsFile, countTables, parseCounts} from "../../lib/book/countFiles.ts";
import {histories} from "../../lib/book/histories.ts";
import {problemSentence} from "../../lib/book/problem.ts";
import {csvText} from "../../lib/report/csvText.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {bookOf, settingsOf} from "./smallBook.ts";

type Texts = Partial<Record<CountFile | typeof countsFile, string>>;

function textsOf(counts: ReturnType<typeof bookCounts>): Texts {
  const {tables, json} = countTables(counts);
  return {
    ...Object.fromEntries(Object.entries(tables).map(([file, lines]) => [file, csvText(lines)])),
    [countsFile]: json
  };
}

const day = "2026-10-31";
const small = bookCounts(
  histories(
    bookOf({
      events: ["2025-03-01,A1,turned,finished", "2025-03-02,A1,allotted,,,,,O1", "2025-03-01,A2,discarded,,,,knot"]
    }),
    day
  )
);

test("counts come back from their files as they were", () => {
  const counts = bookCounts(histories(readBook("sample-data").book!, day));
  expect(parseCounts(textsOf(counts))).toEqual({counts, problems: []});
  expect(parseCounts(textsOf(small))).toEqual({counts: small, problems: []});
});

test("what became of the rows comes back too, and must be a list that can be", () => {
  const files = [{file: "events.csv", rows: 12, setAside: 3}];
  const counts = {...small, books: [{entered: "2026-10-30", files}]};
  expect(parseCounts(textsOf(counts))).toEqual({counts, problems: []});
  for (const [books, found] of [
    ["3", "3"],
    [[{entered: "2026-10-30", files: [{file: "events.csv", rows: 2, setAside: 3}]}], "setAside"],
    [[{entered: "2026-10-30", files: [{file: "events.csv", rows: 2}]}], "rows"],
    [[{entered: "2026-11-01", files: []}], "2026-11-01"],
    [[{entered: "30.10.2026", files: []}], "30.10.2026"]
  ] as const) {
    const texts = textsOf(small);
    const json = JSON.stringify({...JSON.parse(texts[countsFile]!), books});
    const {problems} = parseCounts({...texts, [countsFile]: json});
    expect(problemSentence(problems[0]!)).toMatch(
      /^counts\.json: books must be a list of books, each with the last day/
    );
    expect(problems[0]!.value).toContain(found);
  }
});

test("texts that look like formulas, have an apostrophe before them, quotes or line ends come back as they were", () => {
  const names = ["=1+1", "'=1+1", "''=1+1", "@x", "-5", "'-5", "+a", "'a", 'a "b",\nc', "'"];
  const settings = settingsOf({
    species: Object.fromEntries(names.map((name) => [name, {wood: "red-maple", windowKgM3: {low: 600, high: 700}}]))
  });
  const counts = {
    ...small,
    settings,
    lots: names.map((lot, i) => ({...small.lots[0]!, lot, supplier: names.at(-1 - i)!, species: lot})),
    orders: names.map((order) => ({...small.orders[0]!, order, species: order, note: order})),
    spells: names.map((lot) => ({lot, stage: "square", from: 20_200, side: "inside" as const, squares: 2})),
    densities: names.map((lot) => ({lot, densityKgM3: 700.1, squares: 2}))
  };
  const texts = textsOf(counts);
  expect(parseCounts(texts)).toEqual({counts, problems: []});
  // No cell of a file begins as a formula does.
  expect(texts["orders.csv"]!.split(/[,\n]/).filter((cell) => /^"?[=@+]/.test(cell))).toEqual([]);
});

test("the form of the files: RFC 4180, days as text, blanks where nothing is known", () => {
  expect(textsOf(small)["spells.csv"]).toBe(
    [
      "\ufefflot,stage,from,to,outcome,side,squares",
      "A,square,2025-01-10,2025-03-01,discarded: knot,inside,1",
      "A,square,2025-01-10,2025-03-01,passed,inside,1",
      "A,rough-round,2025-03-01,2025-03-01,passed,inside,1",
      "A,second-round,2025-03-01,2025-03-01,passed,inside,1",
      "A,proud-round,2025-03-01,2025-03-01,passed,inside,1",
      "A,finished,2025-03-01,,allotted,inside,1",
      ""
    ].join("\r\n")
  );
  expect(textsOf(small)["densities.csv"]).toBe("\ufefflot,density_kgm3,squares\r\nA,700,2\r\n");
});

const changed = (file: keyof Texts, from: string | RegExp, to: string): Texts => {
  const texts = textsOf(small);
  expect(texts[file]!.search(from)).toBeGreaterThan(-1);
  return {...texts, [file]: texts[file]!.replace(from, to)};
};

// Each with the words that make its sentence its own.
test.each<[why: string, texts: Texts, said: RegExp]>([
  [
    "a file that is not there",
    {...textsOf(small), "spells.csv": undefined as never},
    /^spells\.csv: must be in the folder/
  ],
  ["no counts.json", {...textsOf(small), "counts.json": undefined as never}, /^counts\.json: must be in the folder/],
  ["counts.json that is no JSON", changed("counts.json", "{", ""), /^counts\.json: must be valid JSON, got/],
  ["another form", changed("counts.json", '"format": 1', '"format": 2'), /format must be 1, got “2”/],
  ["no day", changed("counts.json", "2026-10-31", "31.10.2026"), /asOf must be a calendar day like 2026-10-31, got/],
  [
    "a setting of the wrong kind",
    changed("counts.json", '"restDays": 60', '"restDays": -1'),
    /settings\.stages\.0\.restDays must be 0 or more, got “-1”\. Correct counts\.json/
  ],
  ["a column that is missing", changed("spells.csv", ",squares", ",number"), /spells\.csv.*squares must be/],
  [
    "a number that is none",
    changed("spells.csv", "inside,1\r\n", "inside,x\r\n"),
    /spells\.csv row 2 \(G2\): squares must be a number with a decimal point, like 12\.5, got “x”/
  ],
  [
    "half a square",
    changed("densities.csv", ",2\r\n", ",1.5\r\n"),
    /densities\.csv row 2 \(C2\): squares must be a whole number, got “1.5”/
  ],
  [
    "a day that is none",
    changed("spells.csv", "2025-01-10", "2025-02-30"),
    /spells\.csv row 2 \(C2\): from must be a calendar day/
  ],
  [
    "a lot twice",
    changed("lots.csv", /(A,.*\r\n)/, "$1$1"),
    /lots\.csv row 3 \(A3\): lot must be given once; row 2 has it, got “A”/
  ],
  [
    "an order twice",
    changed("orders.csv", /(O1,.*\r\n)/, "$1$1"),
    /orders\.csv row 3 \(A3\): order must be given once; row 2 has it/
  ],
  [
    "an unknown species",
    changed("lots.csv", "ash", "oash"),
    /species must be a species of counts\.json: ash, maple, got “oash”. Did you mean ash\?/
  ],
  [
    "a purchase after the day",
    changed("lots.csv", "2025-01-10", "2027-01-10"),
    /bought_on must be no later than 2026-10-31/
  ],
  [
    "an order after the day",
    changed("orders.csv", "2025-02-01", "2027-02-01"),
    /ordered_on must be no later than 2026-10-31/
  ],
  [
    "an unknown lot",
    changed("spells.csv", "\nA,", "\nB,"),
    /spells\.csv row 2 \(A2\): lot must be a lot of lots\.csv, got “B”/
  ],
  [
    "an unknown lot of densities",
    changed("densities.csv", "\nA,", "\nB,"),
    /densities\.csv row 2 \(A2\): lot must be a lot of lots\.csv, got “B”/
  ],
  [
    "an unknown stage",
    changed("spells.csv", "rough-round", "rough"),
    /stage must be a stage of counts\.json: square, rough-round.*got “rough”/
  ],
  [
    "a day before the purchase",
    changed("spells.csv", "2025-01-10", "2025-01-09"),
    /from must be on or after 2025-01-10, when the lot was bought/
  ],
  [
    "a day after the day",
    changed("spells.csv", ",2025-03-01,discarded", ",2027-03-01,discarded"),
    /to must be no later than 2026-10-31/
  ],
  [
    "days the wrong way round",
    changed("spells.csv", "A,rough-round,2025-03-01,2025-03-01", "A,rough-round,2025-03-01,2025-02-01"),
    /to must be on or after 2025-03-01, when they got there/
  ],
  [
    "an unknown way to leave",
    changed("spells.csv", "passed", "sold"),
    /outcome must be passed, diverted, discarded: and a defect/
  ],
  [
    "an unknown defect",
    changed("spells.csv", "discarded: knot", "discarded: gnat"),
    /outcome must be “discarded: ” and a defect of counts\.json: knot/
  ],
  [
    "squares that left on no day",
    changed("spells.csv", "2025-03-01,passed", ",passed"),
    /to must be filled in, as they have left/
  ],
  [
    "squares that are there and left",
    changed("spells.csv", "2025-03-01,,allotted", "2025-03-01,2025-03-02,allotted"),
    /to must be blank, as they are still there/
  ],
  [
    "shafts that passed",
    changed("spells.csv", ",,allotted", ",2025-03-02,passed"),
    /outcome must be another at finished, the last stage/
  ],
  [
    "squares that were delivered",
    changed("spells.csv", "passed", "delivered"),
    /outcome must be another at square: only what is finished, the last stage, is delivered/
  ],
  [
    "squares that do not add up",
    changed("densities.csv", ",2\r\n", ",3\r\n"),
    /lot must be a lot of as many squares by density as by stage, got “3 in densities\.csv, 2 at square in spells\.csv”/
  ]
])("%s: no counts, and a sentence that says where", (_, texts, said) => {
  const {counts, problems} = parseCounts(texts);
  expect(counts).toBeUndefined();
  expect(problems.map(problemSentence).join("\n")).toMatch(new RegExp(said, "m"));
});
