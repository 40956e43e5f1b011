import {expect, test} from "vitest";
import {noPlace} from "../../lib/book/columnsOf.ts";
import {dayNumber} from "../../lib/book/day.ts";
import {eventColumns, eventKinds, kindAt} from "../../lib/book/eventColumns.ts";
import {Faults, type Sources} from "../../lib/book/faults.ts";
import {readPlain} from "../../lib/book/readPlain.ts";
import {files} from "../../lib/book/records.ts";
import {Settings} from "../../lib/book/settings.ts";
import {habits, plainFile} from "./plainFiles.ts";

const known = {
  squares: new Map([
    ["A1", 0],
    ["A2", 1]
  ] as const),
  orders: new Map([["O-1", 0]] as const)
};

/** The columns of some rows, and what is told of them. */
function columns(...rows: string[]) {
  const bytes = new TextEncoder().encode(
    ["date,square,event,stage,mass_g,diameter_mm,defect,order", ...rows].join("\n")
  );
  const plain = plainFile(bytes, "events.csv")!;
  const {records, source} = readPlain(plain, files["events.csv"], habits, {onlyOdd: true})!;
  const sources: Sources = {"events.csv": source};
  const problems: ConstructorParameters<typeof Faults>[1] = [];
  const asked = {settings: Settings.parse({}), today: "2026-12-31", faults: new Faults(sources, problems)};
  return {...eventColumns(plain.table, records, known, asked), problems};
}

// That the events found are those of `soundEvents` is held in columnCounts.test.ts.
test("eventColumns: days, and the places of squares, events, stages, defects and orders", () => {
  const found = columns(
    "2025-03-01,A2,turned,rough-round,1150,37,,",
    "2025-03-02,A1,discarded,,,,warp,",
    "2025-03-03,A1,allotted,,,,,O-1"
  );
  expect([...found.sound]).toEqual([0, 1, 2]);
  expect([...found.isApart]).toEqual([0, 0, 0]);
  expect([...found.days]).toEqual(["2025-03-01", "2025-03-02", "2025-03-03"].map(dayNumber));
  expect([...found.squares]).toEqual([1, 0, 0]);
  expect([...found.kinds].map((at) => eventKinds[at])).toEqual(["turned", "discarded", "allotted"]);
  expect([...found.stages]).toEqual([1, noPlace, noPlace]);
  expect([...found.defects].map((at) => Settings.parse({}).defects[at]?.name)).toEqual([undefined, "warp", undefined]);
  expect([...found.orders]).toEqual([noPlace, noPlace, 0]);
  expect([...found.massG]).toEqual([1150, Number.NaN, Number.NaN]);
  expect(found.event(0)).toMatchObject({row: 2, date: "2025-03-01", square: "A2", stage: "rough-round", massG: 1150});
});

test("eventColumns: rows in another form or spelling stand apart, as they are mended; those that do not fit are left out", () => {
  const found = columns(
    "2025-03-01,A2,turned,rough-round,1150 g,37,,",
    "2025-03-02,A1,turned,Rough Round,1150,37,,",
    "2025-03-03,A9,turned,rough-round,1150,37,,",
    "2025-03-04,A1,weighed,,1100,,,"
  );
  expect([...found.sound]).toEqual([0, 1, 3]);
  expect([...found.isApart]).toEqual([1, 1, 1, 0]);
  expect(found.event(0)).toMatchObject({massG: 1150});
  expect(found.event(1)).toMatchObject({stage: "rough-round"});
  expect(found.problems.map(({code, row}) => [code, row])).toEqual([["square-unknown", 4]]);
});

test("eventColumns: of two rows that say the same the second is left out", () => {
  const rows = ["2025-03-01,A2,weighed,,1150,,,", "2025-03-02,A1,weighed,,1150,,,", "2025-03-01,A2,weighed,,1150,,,"];
  const found = columns(...rows);
  expect([...found.sound]).toEqual([0, 1]);
  expect(found.problems.map(({code, row}) => [code, row])).toEqual([["row-twice", 4]]);
});

test("eventColumns: however many rows a square has, and in whatever order of days, one that says the same as another is found", () => {
  const weighed = (day: string, grams: number) => `2025-03-${day},A2,weighed,,${grams},,,`;
  const others = Array.from({length: 100}, (_, i) => i);
  for (const rows of [
    [weighed("01", 1150), ...others.map((i) => weighed("01", 1149 - i)), weighed("01", 1150)],
    [weighed("31", 1150), ...others.map((i) => weighed("30", 1149 - i)), weighed("29", 1150), weighed("31", 1150)]
  ]) {
    const found = columns("2025-03-01,A1,weighed,,1150,,,", ...rows);
    expect(found.problems.map(({code, row}) => [code, row])).toEqual([["row-twice", rows.length + 2]]);
    expect(found.sound).toHaveLength(rows.length);
    expect(found.isApart[0]).toBe(0);
  }
});

test("kindAt: the place of a kind of event", () => expect(eventKinds[kindAt("diverted")]).toBe("diverted"));
