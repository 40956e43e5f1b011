import {createHash} from "node:crypto";
import {readFileSync} from "node:fs";
import fc from "fast-check";
import {expect, test} from "vitest";
import {bookCounts, countRows} from "../../lib/book/bookCounts.ts";
import {columnCounts, lastEventDay} from "../../lib/book/columnCounts.ts";
import {dayNumber} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import type {PlainFile} from "../../lib/book/readPlain.ts";
import {type FileName, fileNames, files} from "../../lib/book/records.ts";
import {Settings} from "../../lib/book/settings.ts";
import {decodeUtf8 as decode} from "../../scripts/io/decodeText.ts";
import {lastDay, readBook} from "../../scripts/io/readBook.ts";
import {readBookCounts} from "../../scripts/io/readBookCounts.ts";
import {allResults} from "../../scripts/results/allResults.ts";
import {plainTable} from "./plainFiles.ts";

type Bytes = Partial<Record<FileName, Uint8Array>>;

/** What is found in a book by columns and row by row: faults, counts and results as data. */
function bothWays(bytes: Bytes, settings: Settings, asOf?: string) {
  const plain = Object.entries(bytes).map(([file, own]): [string, PlainFile] => {
    const table = plainTable(own, files[file as FileName])!;
    return [file, {file, table, size: own.length, bytes: (from, to) => own.subarray(from, to), decode}];
  });
  const columns = parseBook(Object.fromEntries(plain), settings, {today: "2026-12-31", asColumns: true});
  const texts = Object.fromEntries(Object.entries(bytes).map(([file, own]) => [file, decode(own)!]));
  const rows = parseBook(texts, settings, {today: "2026-12-31"});
  if (!columns.book || !columns.events || !rows.book) return {columns: columns.problems, rows: rows.problems};
  const day = asOf ?? lastDay(rows.book);
  const found = columnCounts(columns.book, columns.events, day);
  const replayed = histories(rows.book, day);
  const counts = bookCounts(replayed);
  return {
    columns: {day, problems: [...columns.problems, ...found.problems], counts: countRows(found.counts)},
    rows: {day, problems: [...rows.problems, ...replayed.problems], counts},
    found,
    counts
  };
}

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

test("lastEventDay: the last day of the sound events, none where there is none", () => {
  const events = {squares: new Int32Array(0), event: () => expect.fail("asked for an event")};
  const days = Int32Array.of(dayNumber("2025-03-01"), dayNumber("2025-06-01"), dayNumber("2025-04-01"));
  expect(lastEventDay({...events, days, sound: Int32Array.of(0, 2)})).toBe("2025-04-01");
  expect(lastEventDay({...events, days, sound: new Int32Array(0)})).toBeUndefined();
});

const stages = ["square", "rough-round", "second-round", "proud-round", "finished", "Rough-Round", "sanded"];
const line = fc
  .record({
    day: fc.integer({min: 0, max: 40}),
    square: fc.constantFrom("A1", "A2", "A3", "A4", "A5", "A6", "A9"),
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

test("columnCounts(books of hostile events): the counts and faults of the book read row by row", () => {
  const fixed = {
    "lots.csv":
      "lot,bought_on,supplier,species,squares_bought,price_each\nL1,2025-01-05,Low Fold Sawmill,ash,4,10\nL2,2025-03-10,Quillmoor Sawpit,maple,2,12\n",
    "squares.csv": `square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct\n${["A1,L1", "A2,L1", "A3,L1", "A4,L1", "A5,L2", "A6,L2"].map((one) => `${one},1500,40,40,1656,12`).join("\n")}\n`,
    "orders.csv": "order,ordered_on,species,quantity\nO-1,2025-02-01,ash,1\nO-2,2025-03-20,maple,2\n"
  };
  let events = 0;
  fc.assert(
    fc.property(
      fc.array(line, {maxLength: 30}),
      fc.boolean(),
      fc.constantFrom(undefined, "2025-03-25"),
      (lines, isSorted, asOf) => {
        const rows = isSorted ? lines.flat().sort() : lines.flat();
        const text = ["date,square,event,stage,mass_g,diameter_mm,defect,order", ...rows].join("\n");
        const bytes = Object.entries({...fixed, "events.csv": text}).map(([file, own]) => [
          file,
          new TextEncoder().encode(own)
        ]);
        const both = bothWays(Object.fromEntries(bytes), Settings.parse({}), asOf);
        expect(both.columns).toEqual(both.rows);
        events += rows.length;
      }
    ),
    {numRuns: 400}
  );
  expect(events).toBeGreaterThan(1000);
});
