import fc from "fast-check";
import Papa from "papaparse";
import {expect, it} from "vitest";
import {csvText} from "../../lib/report/csvText.ts";

const plain = {header: false, delimiter: ",", skipEmptyLines: false, dynamicTyping: false} as const;

it("csvText(lines) writes the examples of RFC 4180, section 2, rules 5 to 7", () => {
  expect(csvText([["aaa", "b\r\nbb", "ccc"]])).toBe('\ufeffaaa,"b\r\nbb",ccc\r\n');
  expect(csvText([["aaa", 'b"bb', "ccc"]])).toBe('\ufeffaaa,"b""bb",ccc\r\n');
  expect(csvText([["aaa", "b,bb", "ccc"]])).toBe('\ufeffaaa,"b,bb",ccc\r\n');
});

// OWASP, CSV Injection: cells that begin with = + - @, tab or carriage return.
it.each(["=1+2", "+cmd", "-cmd", "@sum", "\t=1", "\r=1"])(
  "csvText([[%j]]) puts an apostrophe before what a spreadsheet would obey",
  (text) => {
    const [cells] = Papa.parse(csvText([[text, "x"]]).slice(1), plain).data;
    expect(cells![0]).toBe(`'${text}`);
  }
);

it("csvText(lines) never puts one before a number, nor before a text that is one", () => {
  expect(csvText([[-5, "-5", "+4.5", "-0,5"]])).toBe('\ufeff-5,-5,+4.5,"-0,5"\r\n');
});

it("csvText(lines) leaves what is missing empty", () => {
  expect(csvText([["a", undefined, 0]])).toBe("\ufeffa,,0\r\n");
});

it("an independent parser reads any lines back", () => {
  const cell = fc.oneof(fc.string(), fc.string({unit: fc.constantFrom('"', ",", ";", "\r", "\n", " ", "a", "=")}));
  fc.assert(
    fc.property(fc.array(fc.array(cell, {minLength: 2, maxLength: 2}), {minLength: 1}), (lines) => {
      const {data} = Papa.parse(csvText(lines).slice(1), plain);
      const bare = (text: string) => (/^'[=+\-@\t\r]/.test(text) ? text.slice(1) : text);
      expect(data.slice(0, -1).map((cells) => cells.map(bare))).toEqual(lines.map((cells) => cells.map(bare)));
    })
  );
});
