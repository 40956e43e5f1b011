import {readFileSync} from "node:fs";
import fc from "fast-check";
import {expect, test} from "vitest";
import {decodeText} from "../../../scripts/io/decodeText.ts";

const text = "lot,supplier,note\r\nL-01,Büro & Söhne,“ash”, 12 €\r\n";

/** UTF-16 written by hand, so that no decoder checks itself. */
function utf16(units: string, bigEndian = false): Uint8Array {
  const bytes = new Uint8Array(2 * units.length);
  const view = new DataView(bytes.buffer);
  for (let index = 0; index < units.length; index++) view.setUint16(2 * index, units.charCodeAt(index), !bigEndian);
  return bytes;
}

// Source: the Unicode Standard, section 23.8, table of byte order marks: EF BB BF, FF FE, FE FF.
test.each([
  ["UTF-8", Buffer.from(`\ufeff${text}`)],
  ["UTF-16LE", utf16(`\ufeff${text}`)],
  ["UTF-16BE", utf16(`\ufeff${text}`, true)]
] as const)("a byte order mark decides: %s", (encoding, bytes) =>
  expect(decodeText(bytes)).toEqual({text, encoding, mark: true})
);

test.each([
  ["UTF-8", Buffer.from(text)],
  ["UTF-16LE", utf16(text)],
  ["UTF-16BE", utf16(text, true)]
] as const)("%s is known without a mark", (encoding, bytes) =>
  expect(decodeText(bytes)).toEqual({text, encoding, mark: false})
);

test("only the one mark is taken off", () =>
  expect(decodeText(Buffer.from("\ufeff\ufefflot"))).toEqual({text: "\ufefflot", encoding: "UTF-8", mark: true}));

test.each([0, 1, 2, 3, 5000])("plain ASCII of %i bytes is UTF-8", (length) =>
  expect(decodeText(new Uint8Array(length).fill(0x61))).toEqual({
    text: "a".repeat(length),
    encoding: "UTF-8",
    mark: false
  })
);

// Source: WHATWG Encoding Standard, index-windows-1252.txt (read in the repository whatwg/encoding,
// commit 062041a), bytes 80 to 9F.
// The index gives the five that Microsoft's table (unicode.org, CP1252.TXT) leaves undefined (from memory) the
// control characters of their own number; here they are U+FFFD, so that a wrong letter shows. Python 3.11's codec cp1252, run once
// with errors="replace", gives the same 32.
const index1252 = [
  0x20ac, 0x81, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, 0x8d, 0x017d,
  0x8f, 0x90, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0x9d,
  0x017e, 0x0178
];

test.each(index1252.map((codePoint, place) => ({byte: 0x80 + place, codePoint})))(
  "windows-1252: byte $byte is code point $codePoint of the index",
  ({byte, codePoint}) => {
    const isUndefined = codePoint === byte;
    const letter = isUndefined ? "\ufffd" : String.fromCodePoint(codePoint);
    expect(decodeText(Uint8Array.of(0x61, byte, 0x62))).toEqual({
      text: `a${letter}b`,
      encoding: "windows-1252",
      mark: false
    });
  }
);

test("windows-1252: A0 to FF are the code points of their own number, as in ISO/IEC 8859-1", () => {
  const bytes = Uint8Array.from({length: 96}, (_, place) => 0xa0 + place);
  expect(decodeText(bytes)).toMatchObject({
    text: String.fromCodePoint(...bytes),
    encoding: "windows-1252"
  });
});

// Source: the Unicode Standard, section 3.9, tables 3-7 and 3-8: what is and is not well-formed UTF-8.
test.each([
  ["cut off within a letter", [0x61, 0xe2, 0x82], "aâ‚"],
  ["an overlong slash", [0xc0, 0xaf], "À¯"],
  ["a surrogate in UTF-8", [0xed, 0xa0, 0x80], "í\u00a0€"],
  ["beyond U+10FFFF", [0xf4, 0x90, 0x80, 0x80], "ô\ufffd€€"]
])("%s is no UTF-8, so windows-1252", (_, bytes, read) =>
  expect(decodeText(Uint8Array.from(bytes))).toEqual({text: read, encoding: "windows-1252", mark: false})
);

test("what is broken behind a mark is told by U+FFFD, not thrown", () => {
  expect(decodeText(Uint8Array.of(0xef, 0xbb, 0xbf, 0x61, 0xe2, 0x82)).text).toBe("a\ufffd");
  expect(decodeText(Uint8Array.of(0xff, 0xfe, 0x61, 0x00, 0x62)).text).toBe("a\ufffd");
  expect(decodeText(Uint8Array.of(0xff, 0xfe, 0x61, 0x00, 0x00, 0xd8, 0x62, 0x00)).text).toBe("a\ufffdb");
  expect(decodeText(Uint8Array.of(0xfe, 0xff, 0x00, 0x61, 0xdc, 0x00, 0x00, 0x62)).text).toBe("a\ufffdb");
});

test("a few NULs, or nothing but NULs, make no UTF-16", () => {
  expect(decodeText(Buffer.from("lot\0,note\0\n"))).toMatchObject({text: "lot\0,note\0\n", encoding: "UTF-8"});
  expect(decodeText(new Uint8Array(64))).toMatchObject({text: "\0".repeat(64), encoding: "UTF-8"});
});

test("the sample book is UTF-8 and reads as Node reads it", () => {
  const bytes = readFileSync("sample-data/lots.csv");
  expect(decodeText(bytes)).toMatchObject({text: bytes.toString("utf8").replace(/^\ufeff/, ""), encoding: "UTF-8"});
});

test("any text survives UTF-8 and marked UTF-16; no bytes make it throw or change under it", () => {
  fc.assert(
    fc.property(fc.string({unit: "grapheme"}), (any) => {
      const {text: back} = decodeText(Buffer.from(`\ufeff${any}`));
      expect(back).toBe(any);
      expect(decodeText(utf16(`\ufeff${any}`)).text).toBe(any);
      expect(decodeText(utf16(`\ufeff${any}`, true)).text).toBe(any);
    })
  );
  fc.assert(
    fc.property(fc.uint8Array({maxLength: 64}), (bytes) => {
      const before = bytes.slice();
      expect(typeof decodeText(bytes).text).toBe("string");
      expect(bytes).toEqual(before);
    })
  );
});
