import {execFile} from "node:child_process";
import {createHash} from "node:crypto";
import {promisify} from "node:util";
import {inflateRawSync} from "node:zlib";
import fc from "fast-check";
import {JSDOM} from "jsdom";
import {expect, test, vi} from "vitest";
import {readWorkbook} from "../../../scripts/io/readWorkbook.ts";
import {type SheetToWrite, workbookBytes} from "../../../scripts/io/writeWorkbook.ts";
import {zipFault} from "../../../scripts/io/zipFault.ts";
import {workbookOf} from "./workbookOf.ts";

const sheets: SheetToWrite[] = [
  {
    name: "Büro & Lager",
    rows: [
      ["lot", "bought on", "massG", "note"],
      ["0012", {date: "2026-10-31"}, 512.5, "=1+1"],
      ["L-2", {date: "1900-02-28"}, -0.1, ""],
      ["L-3", {date: "1900-03-01"}, 1e-7, " two\nlines, “ash” <b> _x0041_ "]
    ],
    widths: [8, 12]
  },
  {name: "empty", rows: []}
];

/** The parts of a zip file as text, by its central directory; so that the writer is not checked by its own library. */
function partsOf(zip: Buffer): Record<string, string> {
  const parts: Record<string, string> = {};
  const end = zip.lastIndexOf("PK\x05\x06");
  let at = zip.readUInt32LE(end + 16);
  for (let part = zip.readUInt16LE(end + 10); part > 0; part--) {
    const nameBytes = zip.readUInt16LE(at + 28);
    const local = zip.readUInt32LE(at + 42);
    const start = local + 30 + zip.readUInt16LE(local + 26) + zip.readUInt16LE(local + 28);
    const data = zip.subarray(start, start + zip.readUInt32LE(at + 20));
    const content = zip.readUInt16LE(at + 10) === 8 ? inflateRawSync(data) : data;
    parts[zip.toString("utf8", at + 46, at + 46 + nameBytes)] = content.toString("utf8");
    at += 46 + nameBytes + zip.readUInt16LE(at + 30) + zip.readUInt16LE(at + 32);
  }
  return parts;
}

function xml(text: string | undefined): Document {
  return new JSDOM(text, {contentType: "application/xml"}).window.document;
}

test("workbookBytes is a whole zip file of well-formed parts, with neither formulas nor dates of its own making", () => {
  const bytes = Buffer.from(workbookBytes(sheets));
  expect(zipFault(bytes)).toBeUndefined();
  const parts = partsOf(bytes);
  expect(Object.keys(parts)).toEqual(
    expect.arrayContaining(["[Content_Types].xml", "_rels/.rels", "xl/workbook.xml", "xl/worksheets/sheet2.xml"])
  );
  for (const [name, text] of Object.entries(parts)) {
    expect(xml(text).documentElement, name).toBeTruthy();
    expect(text, name).not.toMatch(/dcterms:(created|modified)/);
  }
});

// Checked once, with R 4.2.2, on a workbook of workbookBytes: readxl 1.4.2, read_excel(path, col_names = FALSE), gave the day
// 2026-10-31 as POSIXct, 1.5 as numeric and "=1+1" as character; so did openxlsx 4.2.5.2, read.xlsx(path, detectDates = TRUE).
// Source: ECMA-376 Part 1, 18.3.1.4 c: `t="s"` is an index of the shared strings, no `t` a number, `s` an index of cellXfs; 18.8.30
// numFmt, where numbers below 164 are reserved (readxl takes a date under such a number for a number); 18.3.1.40 f, which must be nowhere. From memory.
test("texts are shared strings, numbers numbers, days numbers in the format of a date", () => {
  const parts = partsOf(Buffer.from(workbookBytes(sheets)));
  const sheet = xml(parts["xl/worksheets/sheet1.xml"]);
  const strings = [...xml(parts["xl/sharedStrings.xml"]).querySelectorAll("si")].map((si) => si.textContent);
  const styles = xml(parts["xl/styles.xml"]);
  const formatOf = (cell: Element) => {
    const xf = styles.querySelectorAll("cellXfs > xf")[Number(cell.getAttribute("s") ?? 0)]!;
    const id = xf.getAttribute("numFmtId");
    return styles.querySelector(`numFmt[numFmtId="${id}"]`)?.getAttribute("formatCode") ?? id;
  };
  const cells = Object.fromEntries(
    [...sheet.querySelectorAll("c")]
      .filter((cell) => cell.textContent !== "")
      .map((cell) => {
        const value = cell.querySelector("v")!.textContent!;
        return [
          cell.getAttribute("r"),
          cell.getAttribute("t") === "s" ? strings[Number(value)] : [value, formatOf(cell)]
        ];
      })
  );
  expect(cells).toEqual({
    A1: "lot",
    B1: "bought on",
    C1: "massG",
    D1: "note",
    A2: "0012",
    B2: ["46326", "yyyy-mm-dd"],
    C2: ["512.5", "0"],
    D2: "=1+1",
    A3: "L-2",
    B3: ["59", "yyyy-mm-dd"],
    C3: ["-0.1", "0"],
    A4: "L-3",
    B4: ["61", "yyyy-mm-dd"],
    C4: ["1e-7", "0"],
    D4: " two\nlines, “ash” <b> _x005F_x0041_ "
  });
  expect(sheet.querySelectorAll("f").length).toBe(0);
  const ids = [...styles.querySelectorAll("numFmt")].map((format) => Number(format.getAttribute("numFmtId")));
  expect(ids).toEqual([164]);
  expect([...sheet.querySelectorAll("col")].map((col) => Math.floor(Number(col.getAttribute("width"))))).toEqual([
    8, 12
  ]);
  expect([...xml(parts["xl/workbook.xml"]).querySelectorAll("sheet")].map((one) => one.getAttribute("name"))).toEqual([
    "Büro & Lager",
    "empty"
  ]);
});

test("readWorkbook reads what was written", () => {
  const read = readWorkbook(workbookBytes(sheets));
  expect(read).toMatchObject({
    sheets: [
      {
        name: "Büro & Lager",
        rows: [
          {row: 1, cells: ["lot", "bought on", "massG", "note"]},
          {row: 2, cells: ["0012", "2026-10-31", "512.5", "=1+1"]},
          {row: 3, cells: ["L-2", "1900-02-28", "-0.1"]},
          {row: 4, cells: ["L-3", "1900-03-01", "0.0000001", " two\nlines, “ash” <b> _x0041_ "]}
        ],
        formulas: 0,
        hidden: false
      },
      {name: "empty", rows: []}
    ]
  });
});

test("any text and number comes back as it was", () => {
  // A line end of CR LF within a cell comes back as LF, as in every cell of the book.
  const text = fc.string({
    unit: fc.oneof(
      fc.constantFrom("\r", "\n", "\t", "_x000d_", "&", "\u0001", "😀"),
      fc.string({unit: "grapheme", maxLength: 1})
    )
  });
  fc.assert(
    fc.property(text, fc.double({noNaN: true, noDefaultInfinity: true}), (any, value) => {
      const read = readWorkbook(workbookBytes([{name: "S", rows: [[`.${any}.`, value, "end"]]}]));
      if ("fault" in read) throw new Error(read.fault);
      const [first, second, third] = read.sheets[0]!.rows[0]!.cells;
      expect(first).toBe(`.${any.replaceAll("\r\n", "\n")}.`);
      expect(Number(second)).toBe(value === 0 ? 0 : value);
      expect(third).toBe("end");
    }),
    {numRuns: 100}
  );
});

test("the same sheets give the same bytes, whatever the day and the time zone", async () => {
  const hash = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");
  const here = hash(workbookBytes(sheets));
  vi.useFakeTimers({now: Date.UTC(2031, 6, 1)});
  expect(hash(workbookBytes(sheets))).toBe(here);
  vi.useRealTimers();
  const script = `import {workbookBytes} from "./scripts/io/writeWorkbook.ts"; import {createHash} from "node:crypto";
    const bytes = workbookBytes(JSON.parse(process.argv[1]));
    console.log(new Date(2026, 9, 31).getTimezoneOffset(), createHash("sha256").update(bytes).digest("hex"));`;
  const told = await Promise.all(
    ["America/New_York", "Pacific/Auckland"].map(async (TZ) => {
      const args = ["--import", "tsx", "--input-type=module", "-e", script, JSON.stringify(sheets)];
      return (await promisify(execFile)(process.execPath, args, {env: {...process.env, TZ}})).stdout.trim();
    })
  );
  expect(told).toEqual([`240 ${here}`, `-780 ${here}`]);
});

test("the same sheets give the same bytes after a workbook with formats of its own was read", () => {
  const before = workbookBytes(sheets);
  expect(readWorkbook(workbookOf([{name: "S", xml: "<sheetData/>"}]))).toHaveProperty("sheets");
  expect(workbookBytes(sheets)).toEqual(before);
});

test("input is not changed", () => {
  const before = structuredClone(sheets);
  workbookBytes(sheets);
  expect(sheets).toEqual(before);
});

test.each([
  [[], "workbookBytes: sheets must be one or more, got 0."],
  [
    [{name: "a/b", rows: []}],
    'workbookBytes: name must be a name of 1 to 31 characters without : \\ / ? * [ ], got "a/b".'
  ],
  [[{name: "", rows: []}], 'workbookBytes: name must be a name of 1 to 31 characters without : \\ / ? * [ ], got "".'],
  [[{name: "a".repeat(32), rows: []}], /name must be a name of 1 to 31 characters/],
  [[{name: "'a", rows: []}], /name must be a name of 1 to 31 characters/],
  [
    [
      {name: "A", rows: []},
      {name: "a", rows: []}
    ],
    'workbookBytes: name must be there once, got "a".'
  ],
  [[{name: "a", rows: [[Number.NaN]]}], "workbookBytes: number must be finite, got NaN."],
  [[{name: "a", rows: [["x".repeat(32_768)]]}], "workbookBytes: text must be 32767 characters or fewer, got 32768."],
  [
    [{name: "a", rows: [[{date: "2026-02-30"}]]}],
    'dayNumber: day must be a calendar day like 2026-10-31, got "2026-02-30".'
  ],
  [[{name: "a", rows: [new Array(16_385).fill(1)]}], "workbookBytes: columns must be 16384 or fewer, got 16385."]
] as [SheetToWrite[], string | RegExp][])("refused: %j", (wrong, sentence) => {
  expect(() => workbookBytes(wrong)).toThrow(RangeError);
  expect(() => workbookBytes(wrong)).toThrow(sentence);
});
