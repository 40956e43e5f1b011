import {createHash} from "node:crypto";
import {readFileSync} from "node:fs";
import fc from "fast-check";
import {expect, test} from "vitest";
import {bookCounts, countRows} from "../../lib/book/bookCounts.ts";
import {columnCounts, lastColumnDay} from "../../lib/book/columnCounts.ts";
import {dayNumber} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {type BookParsed, parseBook} from "../../lib/book/parseBook.ts";
import {noDay} from "../../lib/book/plainTable.ts";
import {type FileName, fileNames} from "../../lib/book/records.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
import {Settings} from "../../lib/book/settings.ts";
import {decodeUtf8 as decode} from "../../scripts/io/decodeText.ts";
import {lastDay, readBook} from "../../scripts/io/readBook.ts";
import {readBookCounts} from "../../scripts/io/readBookCounts.ts";
import {leftOut} from "../../scripts/leftOut.ts";
import {allResults} from "../../scripts/results/allResults.ts";
import {plainFile} from "./plainFiles.ts";

type Bytes = Partial<Record<FileName, Uint8Array>>;

/** What is found in a book by columns and row by row: faults, counts and results as data. */
function bothWays(bytes: Bytes, settings: Settings, asOf?: string) {
  const plain = Object.entries(bytes).map(([file, own]) => [file, plainFile(own, file as FileName)!]);
  const columns = parseBook(Object.fromEntries(plain), settings, {today: "2026-12-31", asColumns: true});
  const texts = Object.fromEntries(Object.entries(bytes).map(([file, own]) => [file, decode(own)!]));
  const rows = parseBook(texts, settings, {today: "2026-12-31"});
  if (!columns.book || !columns.columns || !rows.book) return {columns: columns.problems, rows: rows.problems};
  const day = asOf ?? lastDay(rows.book);
  const found = columnCounts(columns.book, columns.columns, day);
  const replayed = histories(rows.book, day);
  const counts = bookCounts(replayed);
  const problems = [...columns.problems, ...found.problems];
  const all = [...rows.problems, ...replayed.problems];
  return {
    columns: {day, problems, counts: countRows(found.counts), ...told({...columns, problems})},
    rows: {day, problems: all, counts, ...told({...rows, problems: all})},
    found,
    replayed: replayed.problems,
    counts
  };
}

/** What a check tells beside the faults. */
const told = (parsed: BookParsed) => ({accounts: rowAccounts(parsed), left: leftOut(parsed)});

const sample = Object.fromEntries(fileNames.map((file) => [file, readFileSync(`sample-data/${file}`)])) as Bytes;
const found = readBook("sample-data");
const {settings} = found.book!;

test.each([undefined, "2024-03-31"])(
  "columnCounts(the sample book as of %s): the counts and faults of the book read row by row",
  (asOf) => {
    const both = bothWays(sample, settings, asOf);
    expect(both.columns).toEqual(both.rows);
  }
);

test("columnCounts(the sample book): every result is the same to the last digit", () => {
  const both = bothWays(sample, settings);
  const plain = (results: ReturnType<typeof allResults>) => JSON.stringify({...results, season: results.season.plan});
  expect(digest(plain(allResults(both.found!.counts)))).toBe(digest(plain(allResults(both.counts!))));
});

const digest = (text: string) => createHash("sha256").update(text).digest("hex");
test("readBookCounts(the sample book): as of its last day, by columns, what bookCounts makes of its histories", () => {
  const read = readBookCounts("sample-data");
  const replayed = histories(found.book!, "2026-10-31");
  expect(countRows(read.counts!)).toEqual(bookCounts(replayed));
  expect(read.problems).toEqual([...found.problems, ...replayed.problems]);
});

test("lastColumnDay: the last day of the sound events and of the squares, none where there is none", () => {
  const days = Int32Array.from(["2025-03-01", "2025-06-01", "2025-04-01"], dayNumber);
  const [events, none] = [
    {days, sound: Int32Array.of(0, 2)},
    {days, sound: new Int32Array(0)}
  ];
  const measuredOn = Int32Array.of(noDay, dayNumber("2025-03-15"));
  expect(lastColumnDay({events, squares: {measuredOn}})).toBe("2025-04-01");
  expect(lastColumnDay({events: none, squares: {measuredOn}})).toBe("2025-03-15");
  expect(lastColumnDay({events: none, squares: {measuredOn: Int32Array.of(noDay)}})).toBeUndefined();
});

const stages = ["square", "rough-round", "second-round", "proud-round", "finished", "Rough-Round", "sanded"];
const line = fc
  .record({
    day: fc.integer({min: 0, max: 40}),
    square: fc.oneof(
      fc.constantFrom("A1", "A2", "A3", "A4", "A5", "A6", "A9"),
      fc.integer({min: 1, max: 12}).map((n) => `B${n}`)
    ),
    event: fc.constantFrom("turned", "weighed", "discarded", "diverted", "allotted", "delivered", "Weighed"),
    stage: fc.option(fc.constantFrom(...stages)),
    mass: fc.option(fc.constantFrom("1200", "1150", "900", "300", "40", "16o3", "1,100")),
    diameter: fc.option(fc.constantFrom("37", "36.5", "29", "1.4")),
    defect: fc.option(fc.constantFrom("knot", "warp", "Warp", "worm")),
    order: fc.option(fc.constantFrom("O-1", "O-2", "O-9")),
    copies: fc.constantFrom(1, 1, 1, 1, 2)
  })
  .map(({day, square, event, stage, mass, diameter, defect, order, copies}) => {
    const date = new Date(Date.UTC(2025, 2, 1 + day)).toISOString().slice(0, 10);
    const cell = (text: string | null) => (text?.includes(",") ? `"${text}"` : (text ?? ""));
    const fitting = {
      stage: stage ?? (event === "turned" ? "rough-round" : null),
      defect: defect ?? (event === "discarded" ? "knot" : null),
      order: order ?? (event === "allotted" ? "O-1" : null)
    };
    const row = [
      date,
      square,
      event,
      cell(fitting.stage),
      cell(mass),
      cell(diameter),
      cell(fitting.defect),
      cell(fitting.order)
    ];
    return Array.from({length: copies}, () => row.join(","));
  });

/** A life that goes as it should: stage by stage, lighter each time, and in the end thrown out, kept, promised or delivered; some are promised twice. */
const life = fc
  .record({
    square: fc.integer({min: 1, max: 60}).map((n) => `B${n}`),
    days: fc.array(fc.integer({min: 0, max: 5}), {minLength: 8, maxLength: 8}),
    reached: fc.constantFrom(0, 1, 2, 3, 4, 4, 4, 4),
    end: fc.constantFrom("", "discarded", "diverted", "allotted", "delivered", "moved"),
    order: fc.constantFrom("O-1", "O-2"),
    isWeighed: fc.boolean()
  })
  .map(({square, days, reached, end, order, isWeighed}) => {
    let day = 0;
    const next = () => {
      day += days[0]! + 1;
      days.push(days.shift()!);
      return new Date(Date.UTC(2025, 2, day)).toISOString().slice(0, 10);
    };
    const masses = [1640, 1150, 900, 620, 320];
    const rows: string[] = [];
    for (let at = 1; at <= reached; at++) {
      if (isWeighed) rows.push(`${next()},${square},weighed,${stages[at - 1]},${masses[at - 1]},,,`);
      rows.push(`${next()},${square},turned,${stages[at]},${masses[at]},29,,`);
    }
    if (end === "discarded") rows.push(`${next()},${square},discarded,,,,warp,`);
    if (end === "diverted" && reached < 4) rows.push(`${next()},${square},diverted,,,,,`);
    if (end === "allotted" && reached === 4) rows.push(`${next()},${square},allotted,,,,,${order}`);
    if (end === "moved" && reached === 4)
      rows.push(`${next()},${square},allotted,,,,,O-1`, `${next()},${square},allotted,,,,,O-2`);
    if (end === "delivered" && reached === 4) {
      if (isWeighed) rows.push(`${next()},${square},allotted,,,,,${order}`);
      rows.push(`${next()},${square},delivered,,,,,${isWeighed ? "" : order}`);
    }
    return {square, rows};
  });

const fixed = {
  "lots.csv":
    "lot,bought_on,supplier,species,squares_bought,price_each\nL1,2025-01-05,Low Fold Sawmill,ash,4,10\nL2,2025-03-10,Quillmoor Sawpit,maple,2,12\nL3,2025-02-28,Quillmoor Sawpit,ash,60,12\n",
  "squares.csv": `square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct\n${[
    ...["A1,L1", "A2,L1", "A3,L1", "A4,L1", "A5,L2", "A6,L2"],
    ...Array.from({length: 60}, (_, i) => `B${i + 1},L3`)
  ]
    .map((one) => `${one},1500,40,40,1656,12`)
    .join("\n")}\n`,
  "orders.csv": "order,ordered_on,species,quantity\nO-1,2025-02-01,ash,1\nO-2,2025-03-20,maple,2\n"
};
const byDay = (a: string, b: string) =>
  a.slice(0, 10) < b.slice(0, 10) ? -1 : a.slice(0, 10) > b.slice(0, 10) ? 1 : 0;
const orders = {
  "day by day": (rows: string[]) => rows.sort(byDay),
  "newest first": (rows: string[]) => rows.sort(byDay).reverse(),
  "in any order": (rows: string[]) => rows
};

test("columnCounts(books of lives and hostile events): the counts and faults of the book read row by row", () => {
  const codes = new Set<string>();
  let [squares, doubtful] = [0, 0];
  fc.assert(
    fc.property(
      fc.uniqueArray(life, {minLength: 10, maxLength: 40, size: "max", selector: ({square}) => square}),
      fc.array(line, {maxLength: 60, size: "max"}),
      fc.constantFrom(...Object.values(orders)),
      fc.constantFrom(undefined, "2025-03-25"),
      (lives, lines, order, asOf) => {
        const rows = order([...lives.flatMap((one) => one.rows), ...lines.flat()]);
        const text = ["date,square,event,stage,mass_g,diameter_mm,defect,order", ...rows].join("\n");
        const bytes = Object.entries({...fixed, "events.csv": text}).map(([file, own]) => [
          file,
          new TextEncoder().encode(own)
        ]);
        const both = bothWays(Object.fromEntries(bytes), Settings.parse({}), asOf);
        expect(both.columns).toEqual(both.rows);
        for (const {code} of both.replayed ?? []) codes.add(code);
        squares += new Set(rows.map((row) => row.split(",")[1])).size;
        doubtful += both.found?.doubtful ?? 0;
      }
    ),
    {numRuns: 250}
  );
  // Whatever can be told of a piece was told of some; of most pieces nothing was, and they were counted from the columns.
  expect([...codes].sort()).toEqual(toldOfPieces);
  expect(doubtful).toBeGreaterThan(0);
  expect(doubtful / squares).toBeLessThan(0.4);
});

const toldOfPieces = [
  "after-end",
  "allotted-elsewhere",
  "before-purchase",
  "mass-fell",
  "mass-grew",
  "not-finished",
  "order-overfilled",
  "stage-backwards",
  "stage-differs",
  "stage-skipped"
];
