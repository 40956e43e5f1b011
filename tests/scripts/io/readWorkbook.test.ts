import {execFile} from "node:child_process";
import {mkdtempSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {promisify} from "node:util";
import fc from "fast-check";
import {expect, test} from "vitest";
import * as XLSX from "xlsx";
import {readWorkbook, type WorkbookSheet} from "../../../scripts/io/readWorkbook.ts";
import {style, workbookOf} from "./workbookOf.ts";
import {zipOf} from "./zipOf.ts";

/** The sheets of a workbook that must be readable. */
function sheetsIn(bytes: Uint8Array): WorkbookSheet[] {
  const read = readWorkbook(bytes);
  if ("fault" in read) throw new Error(`It ${read.fault}.`);
  return read.sheets;
}

/** The text of one cell, written as XML in A1. */
function textOf(cell: string, options: {strings?: string[]; from1904?: boolean} = {}): string | undefined {
  const xml = `<sheetData><row r="1">${cell}</row></sheetData>`;
  return sheetsIn(workbookOf([{name: "S", xml}], options))[0]!.rows[0]?.cells[0];
}

const number = (value: string | number, s: number = style.general) => `<c r="A1" s="${s}"><v>${value}</v></c>`;

test("readWorkbook: sheets in order, hidden ones marked, rows under the numbers shown, blank ones too", () => {
  const first = `<dimension ref="A1:XFD1048576"/><sheetData>
    <row r="3"><c r="B3" t="s"><v>0</v></c><c r="D3" t="s"><v>1</v></c></row>
    <row r="5"><c r="A5"><v>12.5</v></c><c r="B5" s="1"/><c r="C5" t="s"><v>2</v></c></row>
    <row r="900000"><c r="A900000" s="1"/></row></sheetData>
    <mergeCells count="1"><mergeCell ref="B3:C4"/></mergeCells>`;
  const bytes = workbookOf(
    [
      {name: "Büro & Lager", xml: first},
      {name: "old", state: "hidden", xml: "<sheetData/>"},
      {name: "older", state: "veryHidden", xml: "<sheetData/>"}
    ],
    {strings: ["<t>lot</t>", "<t>note</t>", '<t xml:space="preserve">  </t>']}
  );
  expect(readWorkbook(bytes)).toEqual({
    sheets: [
      {
        name: "Büro & Lager",
        rows: [
          {row: 1, cells: []},
          {row: 2, cells: []},
          {row: 3, cells: ["", "lot", "", "note"]},
          {row: 4, cells: []},
          {row: 5, cells: ["12.5"]}
        ],
        merged: [{firstRow: 3, lastRow: 4, firstColumn: 2, lastColumn: 3}],
        formulas: 0,
        uncalculated: 0,
        hidden: false
      },
      {name: "old", rows: [], merged: [], formulas: 0, uncalculated: 0, hidden: true},
      {name: "older", rows: [], merged: [], formulas: 0, uncalculated: 0, hidden: true}
    ]
  });
});

// Expected values: the definition of JavaScript's Number::toString without its exponent, by hand.
test.each([
  ["0", "0"],
  ["12.5", "12.5"],
  ["-0.1", "-0.1"],
  ["1234567.891", "1234567.891"],
  ["1E-7", "0.0000001"],
  ["-1.25E-10", "-0.000000000125"],
  ["1E21", "1000000000000000000000"],
  ["-1.5E22", "-15000000000000000000000"],
  ["0.30000000000000004", "0.30000000000000004"]
])("a number %s is the text %s", (value, text) => expect(textOf(number(value))).toBe(text));

test("any number keeps its value as text, without an exponent", () =>
  fc.assert(
    fc.property(fc.double({noNaN: true, noDefaultInfinity: true}), (value) => {
      const text = textOf(number(String(value)))!;
      expect(text).toMatch(/^-?\d+(\.\d+)?$/);
      expect(Number(text)).toBe(value === 0 ? 0 : value);
    }),
    {numRuns: 50}
  ));

test.each([
  ["scientific", 1500, "1500"],
  ["fourDigits", 7, "7"],
  ["wordsWithDateLetters", 46326, "46326"],
  ["percentInWords", 0.5, "0.5"],
  ["percent", 0.135, "13.5%"],
  ["percent", 0.07, "7%"],
  ["percent", 0.29, "29%"],
  ["percent", 1, "100%"],
  ["percent", 0.123456789, "12.3456789%"]
] as const)("in the format %s the number %s is %s", (format, value, text) =>
  expect(textOf(number(value, style[format]))).toBe(text)
);

// Source: ECMA-376 Part 1, 18.17.4.1: 1900 base, serial 1 is 1900-01-01 and 2958465 is 9999-12-31; 1904 base, serial 0 is 1904-01-01,
// 2957003 is 9999-12-31. 39448 for 2008-01-01: the worked example of the spreadsheet function DATEVALUE's handbook. All from memory.
// 60, the 29 February 1900 that never was: from memory. 46326 for 2026-10-31 by hand: 39448 + 18 years of 365 + 5 leap days + 303.
test.each([
  [false, 1, "1900-01-01"],
  [false, 59, "1900-02-28"],
  [false, 61, "1900-03-01"],
  [false, 39448, "2008-01-01"],
  [false, 46326, "2026-10-31"],
  [false, 46326.999, "2026-10-31"],
  [false, 46325.9999999999, "2026-10-31"],
  [false, 2958465, "9999-12-31"],
  [true, 1, "1904-01-02"],
  [true, 44864, "2026-10-31"],
  [true, 2957003, "9999-12-31"]
])("counted from 1904 %s, the day %s is %s", (from1904, serial, day) => {
  for (const s of [style.date, style.isoDate, style.dateAndTime, style.germanDate, style.month])
    expect(textOf(number(serial, s), {from1904})).toBe(day);
});

test("a time without a day, and a day that is none, stay as shown", () => {
  expect(textOf(number(0.3125, style.time))).toBe("7:30");
  expect(textOf(number(1.25, style.hours))).toBe("30:00");
  expect(textOf(number(46326.3125, style.time))).toBe("7:30");
  expect(textOf(number(60, style.isoDate))).toBe("1900-02-29");
  expect(textOf(number(0, style.isoDate))).toBe("1900-01-00");
  expect(textOf(number(-5, style.isoDate))).toBe("-5");
  expect(textOf(number(3_000_000, style.isoDate))).toBe("3000000");
});

test.each([["2026-10-31"], ["2026-10-31T00:00:00"], ["2026-10-31T23:30:00.000"]])(
  "a day kept as text in ISO 8601, %s, is the day",
  (text) => expect(textOf(`<c r="A1" s="${style.date}" t="d"><v>${text}</v></c>`)).toBe("2026-10-31")
);

test.each([
  ["truth", '<c r="A1" t="b"><v>1</v></c>', "TRUE"],
  ["falsehood", '<c r="A1" t="b"><v>0</v></c>', "FALSE"],
  ["an error", '<c r="A1" t="e"><v>#REF!</v></c>', "#REF!"],
  ["an error of a formula", '<c r="A1" t="e"><f>1/0</f><v>#DIV/0!</v></c>', "#DIV/0!"],
  ["inline text", '<c r="A1" t="inlineStr"><is><t>M&#228;rz &amp; 1 &lt; 2</t></is></c>', "März & 1 < 2"],
  ["text of a formula", '<c r="A1" t="str"><f>"a"&amp;"b"</f><v>ab</v></c>', "ab"],
  ["text that looks like a number", '<c r="A1" t="inlineStr"><is><t>0012,50</t></is></c>', "0012,50"]
])("%s", (_, cell, text) => expect(textOf(cell)).toBe(text));

test("shared text: rich text is plain, its pronunciation left out, spaces and line breaks kept", () => {
  const shared = (si: string) => textOf('<c r="A1" t="s"><v>0</v></c>', {strings: [si]});
  expect(shared('<r><rPr><b/></rPr><t>bold </t></r><r><t xml:space="preserve">and plain</t></r>')).toBe(
    "bold and plain"
  );
  expect(shared('<t>木</t><rPh sb="0" eb="1"><t>き</t></rPh>')).toBe("木");
  expect(shared('<t xml:space="preserve"> two\nlines </t>')).toBe(" two\nlines ");
  expect(shared("<t>tab_x0009_and _x005F_x0041_</t>")).toBe("tab\tand _x0041_");
});

test("the value saved with a formula is taken; one that was never calculated is blank and counted, not 0", () => {
  const xml = `<sheetData>
    <row r="1"><c r="A1"><f>B1*2</f><v>84</v></c><c r="B1"><f>1-1</f><v>0</v></c><c r="C1"><f>6*7</f></c><c r="D1"><f>6*7</f><v></v></c><c r="E1" t="str"><f>T(1)</f><v></v></c></row>
    <row r="2"><c r="A2"><f t="shared" ref="A2:A3" si="0">B2+1</f><v>5</v></c></row>
    <row r="3"><c r="A3"><f t="shared" si="0"/><v>6</v></c><c r="B3"><v>0</v></c></row></sheetData>`;
  expect(sheetsIn(workbookOf([{name: "S", xml}]))[0]).toMatchObject({
    rows: [
      {row: 1, cells: ["84", "0"]},
      {row: 2, cells: ["5"]},
      {row: 3, cells: ["6", "0"]}
    ],
    formulas: 7,
    uncalculated: 2
  });
});

test("rows and cells without their own numbers follow one another", () => {
  const xml = "<sheetData><row><c><v>1</v></c><c><v>2</v></c></row><row><c><v>3</v></c></row></sheetData>";
  expect(sheetsIn(workbookOf([{name: "S", xml}]))[0]!.rows).toEqual([
    {row: 1, cells: ["1", "2"]},
    {row: 2, cells: ["3"]}
  ]);
});

test("a sheet that claims a million rows is read at once; one that fills them is refused", () => {
  const filled = (row: number, column: string) =>
    workbookOf([
      {
        name: "S",
        xml: `<dimension ref="A1:XFD1048576"/><sheetData><row r="${row}"><c r="${column}${row}"><v>1</v></c></row></sheetData>`
      }
    ]);
  const start = performance.now();
  expect(sheetsIn(filled(2, "ALL"))[0]!.rows[1]!.cells.length).toBe(1000);
  expect(sheetsIn(filled(200_000, "A"))[0]!.rows.length).toBe(200_000);
  expect(readWorkbook(filled(200_001, "A"))).toEqual({
    fault: "has more than 200000 rows or 1000 columns in its sheet “S” (A200001 is filled)"
  });
  expect(readWorkbook(filled(2, "ALM"))).toEqual({
    fault: "has more than 200000 rows or 1000 columns in its sheet “S” (ALM2 is filled)"
  });
  expect(readWorkbook(filled(1_048_576, "XFD"))).toHaveProperty("fault");
  expect(performance.now() - start).toBeLessThan(20_000);
});

test("a workbook of a common library is read as well: shared strings or not, packed or not", () => {
  for (const bookSST of [true, false]) {
    for (const compression of [true, false]) {
      const book = XLSX.utils.book_new();
      XLSX.utils.book_append_sheet(
        book,
        XLSX.utils.aoa_to_sheet([
          ["lot", "massG"],
          ["L-1", 512.5],
          ["L-2", null]
        ]),
        "lots"
      );
      const bytes = new Uint8Array(XLSX.write(book, {type: "array", bookType: "xlsx", bookSST, compression}));
      expect(sheetsIn(bytes)[0]!.rows.map(({cells}) => cells)).toEqual([["lot", "massG"], ["L-1", "512.5"], ["L-2"]]);
    }
  }
});

// Written by R 4.2.2 with openxlsx 4.2.5.2: the script beside it. Values: those given to openxlsx there.
test("a workbook of another program is read as it was given", () => {
  const bytes = readFileSync(new URL("openxlsx.xlsx", import.meta.url));
  expect(sheetsIn(bytes)).toEqual([
    {
      name: "Lots",
      rows: [
        {row: 1, cells: ["", "Büro & Söhne"]},
        {row: 2, cells: []},
        {row: 3, cells: ["", "lot", "bought", "moisture", "massG", "dry"]},
        {row: 4, cells: ["", "L-01", "2026-10-31", "13.5%", "512.25", "TRUE"], texts: [1]},
        {row: 5, cells: ["", "L-02", "1999-12-31", "8%", "0.0000001", "FALSE"], texts: [1]}
      ],
      merged: [{firstRow: 1, lastRow: 1, firstColumn: 2, lastColumn: 4}],
      formulas: 1,
      uncalculated: 0,
      hidden: false
    },
    {name: "Old", rows: [], merged: [], formulas: 0, uncalculated: 0, hidden: true}
  ]);
});

test.each([
  ["nothing", new Uint8Array(0), "is empty"],
  ["text", Buffer.from("lot,massG\nL-1,512\n"), "is no workbook that can be read (it does not begin as .xlsx does)"],
  [
    "HTML under a false name",
    Buffer.from("<table><tr><td>1</table>"),
    "is no workbook that can be read (it does not begin as .xlsx does)"
  ],
  ["a zip file of other things", zipOf({"a.txt": "ash"}), "is no workbook that can be read (Unsupported ZIP file)"],
  [
    "a workbook cut off",
    workbookOf([{name: "S", xml: ""}]).subarray(0, 900),
    "is cut off before its end, as when a copy or download was not finished"
  ]
])("%s is refused", (_, bytes, fault) => expect(readWorkbook(bytes)).toEqual({fault}));

test("a password is told", () => {
  // ECMA-376 Part 2 and [MS-OFFCRYPTO] 2.3.4: a locked workbook is a compound file with the streams EncryptionInfo and EncryptedPackage.
  const file = XLSX.CFB.utils.cfb_new();
  XLSX.CFB.utils.cfb_add(file, "/EncryptionInfo", Buffer.alloc(64));
  XLSX.CFB.utils.cfb_add(file, "/EncryptedPackage", Buffer.alloc(512));
  expect(readWorkbook(XLSX.CFB.write(file, {type: "buffer"}) as Buffer)).toEqual({fault: "is locked with a password"});
});

test("a sheet that is missing, or points to text that is missing, is a fault, not an empty sheet", () => {
  const lost = workbookOf([{name: "S", xml: '<sheetData><row r="1"><c r="A1" t="s"><v>7</v></c></row></sheetData>'}]);
  expect(readWorkbook(lost)).toEqual({fault: "is no workbook that can be read (its sheet “S” is damaged)"});
});

test("whatever is changed in a workbook, reading it does not throw, and no other number comes out", () => {
  const cells = `${number(512.5)}<c r="B1" s="${style.date}"><v>46326</v></c><c r="C1" t="s"><v>0</v></c>`;
  const bytes = workbookOf([{name: "S", xml: `<sheetData><row r="1">${cells}</row></sheetData>`}], {
    strings: ["<t>ash</t>"]
  });
  const whole = readWorkbook(bytes);
  expect(sheetsIn(bytes)[0]!.rows[0]!.cells).toEqual(["512.5", "2026-10-31", "ash"]);
  fc.assert(
    fc.property(fc.nat(bytes.length - 1), fc.integer({min: 1, max: 255}), (at, change) => {
      const changed = Buffer.from(bytes);
      changed[at]! ^= change;
      const read = readWorkbook(changed);
      if (!("fault" in read)) expect(read).toEqual(whole);
    }),
    {numRuns: 300}
  );
});

test("days are the same in every time zone", async () => {
  const folder = mkdtempSync(join(tmpdir(), "zones-"));
  const cells = [1, 61, 46100, 46326, 46326.999, 46327]
    .map((serial, index) => `<c r="${"ABCDEF"[index]}1" s="${style.date}"><v>${serial}</v></c>`)
    .join("");
  const iso = `<c r="G1" s="${style.date}" t="d"><v>2026-10-31T00:00:00</v></c>`;
  const xml = `<sheetData><row r="1">${cells}${iso}</row></sheetData>`;
  writeFileSync(join(folder, "days.xlsx"), workbookOf([{name: "S", xml}]));
  const script = `import {readFileSync} from "node:fs"; import {readWorkbook} from "./scripts/io/readWorkbook.ts";
    const {sheets} = readWorkbook(readFileSync(process.argv[1]));
    console.log(JSON.stringify([new Date(2026, 9, 31).getTimezoneOffset(), ...sheets[0].rows[0].cells]));`;
  const offsets = await Promise.all(
    ["UTC", "America/New_York", "Pacific/Auckland", "Pacific/Kiritimati"].map(async (TZ) => {
      const args = ["--import", "tsx", "--input-type=module", "-e", script, join(folder, "days.xlsx")];
      const {stdout} = await promisify(execFile)(process.execPath, args, {env: {...process.env, TZ}});
      const [offsetMinutes, ...days] = JSON.parse(stdout);
      expect(days, TZ).toEqual([
        "1900-01-01",
        "1900-03-01",
        "2026-03-19",
        "2026-10-31",
        "2026-10-31",
        "2026-11-01",
        "2026-10-31"
      ]);
      return offsetMinutes;
    })
  );
  // The zones were really set: minutes west of Greenwich on that day.
  expect(offsets).toEqual([0, 240, -780, -840]);
});
