import fc from "fast-check";
import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {fields} from "../../lib/book/field.ts";
import {noDay} from "../../lib/book/plainTable.ts";
import {cellValue} from "../../lib/book/readPlain.ts";
import {fileNames, files, type RecordKind} from "../../lib/book/records.ts";
import {plainTable} from "./plainFiles.ts";

const bytesOf = (text: string) => new TextEncoder().encode(text);
const events = files["events.csv"];

test("the columns of a plain file: days, numbers, texts, and where a cell is blank", () => {
  const table = plainTable(
    bytesOf("date,square,event,mass_g,note\n2025-03-14,A1,weighed,1650.5,\n2025-03-15,A2,turned,,knot\n"),
    events
  )!;
  expect(table.rows).toBe(2);
  expect(table.columns.get("date")).toEqual({
    kind: "day",
    values: Int32Array.of(dayNumber("2025-03-14"), dayNumber("2025-03-15"))
  });
  expect(table.columns.get("massG")).toEqual({kind: "number", values: Float64Array.of(1650.5, Number.NaN)});
  expect(table.columns.get("note")).toEqual({kind: "text", places: Int32Array.of(-1, 0), names: ["knot"]});
  expect(table.odd).toEqual([]);
  expect([...table.starts]).toEqual([30, 60, 87]);
});

test.each([
  ["no headings of ours", "datum;square;event\n2025-03-14;A1;weighed\n"],
  ["a heading in another unit", "date,square,event,mass_kg\n"],
  ["a column that must be there is not", "date,event\n"],
  ["a heading twice", "date,square,event,date\n"],
  ["a title above the headings", "Events\ndate,square,event\n"],
  ["line ends of old Macs", "date,square,event\r2025-03-14,A1,weighed\r"],
  ["a quote never closed", 'date,square,event\n2025-03-14,"A1,weighed\n'],
  ["a quote closed before its cell ends", 'date,square,event\n2025-03-14,"A1"b,weighed\n']
])("not plain: %s", (_, text) => expect(plainTable(bytesOf(text), events)).toBeUndefined());

test("not plain: letters that are no UTF-8", () => {
  const bytes = bytesOf("date,square,event\n2025-03-14,A1,weighed\n2025-03-14,A_,weighed\n");
  bytes[bytes.indexOf("_".charCodeAt(0), 40)] = 0xe4;
  expect(plainTable(bytes, events)).toBeUndefined();
});

test("not plain: more than a thousand odd rows and more than one in ten", () => {
  const lines = (odd: number) =>
    Array.from({length: 3000}, (_, i) => (i < odd ? "14/3/2025,A1,weighed" : "2025-03-14,A1,weighed"));
  expect(plainTable(bytesOf(["date,square,event", ...lines(1000)].join("\n")), events)!.odd).toHaveLength(1000);
  expect(plainTable(bytesOf(["date,square,event", ...lines(1001)].join("\n")), events)).toBeUndefined();
});

const anyCell = fc.oneof(
  fc.constantFrom(
    "",
    "12",
    "12.5",
    "-3",
    "0",
    "1e9",
    "99999999",
    "2025-03-14",
    "2025-02-30",
    "0000-01-01",
    "turned",
    "ash",
    "a\u0001b",
    " a",
    "A1"
  ),
  fc.integer({min: -1_000_000, max: 10_000_000}).map(String),
  fc.double({noNaN: true, min: -1000, max: 200_000}).map((value) => value.toFixed(2)),
  fc
    .date({noInvalidDate: true, min: new Date("1850-01-01"), max: new Date("2200-01-01")})
    .map((day) => day.toISOString().slice(0, 10))
);

test("no row that the schema refuses passes as plain, whatever the file; a plain row is what the schema makes of it", () => {
  let passed = 0;
  for (const file of fileNames) {
    const kind: RecordKind = files[file];
    const own = fields(kind.schema);
    const plausible = own.map(([, {kind: of, enum: words = [], minimum = 0, optional}]) => {
      const good =
        of === "date"
          ? "2025-03-14"
          : of === "number" || of === "integer"
            ? String(Math.max(minimum, 150))
            : (words[0] ?? "A1");
      return fc.oneof({weight: 30, arbitrary: fc.constant(good)}, {weight: optional ? 4 : 1, arbitrary: anyCell});
    });
    fc.assert(
      fc.property(fc.tuple(...plausible), (cells) => {
        const head = own.map(([, {heading}]) => heading).join(",");
        const table = plainTable(bytesOf(`${head}\n${cells.join(",")}\n`), kind);
        if (!table || table.odd.length > 0 || table.rows === 0) return;
        passed++;
        const values = Object.fromEntries(
          own.flatMap(([key]) => {
            const value = cellValue(table.columns.get(key)!)(0);
            return value === undefined ? [] : [[key, value]];
          })
        );
        const result = kind.schema.safeParse(values);
        expect(result.success).toBe(true);
        expect(result.data).toEqual(values);
      }),
      {numRuns: 600}
    );
  }
  expect(passed).toBeGreaterThan(500);
});

test("noDay is no day that a book can have", () => expect(noDay).toBeLessThan(dayNumber("1900-01-01")));
