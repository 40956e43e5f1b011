import {crc32} from "node:zlib";
import {expect, it} from "vitest";
import {pngText, withPngText} from "../../../scripts/golden/pngText.ts";

// A PNG of one black pixel; the checksums of IHDR and IEND are those that every PNG of that kind has (W3C PNG, annex D; ae426082 closes every PNG).
const onePixel = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==",
  "base64"
);

it("withPngText(png, keyword, text) keeps the picture and its end, and pngText reads the note", () => {
  const noted = Buffer.from(withPngText(onePixel, "page", "0123abcd"));
  expect(noted.subarray(0, onePixel.length - 12)).toEqual(onePixel.subarray(0, -12));
  expect(noted.subarray(-12).toString("hex")).toBe("0000000049454e44ae426082");
  expect(pngText(noted, "page")).toBe("0123abcd");
  expect(pngText(noted, "other")).toBeUndefined();
  expect(pngText(onePixel, "page")).toBeUndefined();
});

it("withPngText(png, keyword, text) writes length, type, data and the checksum of type and data", () => {
  const noted = Buffer.from(withPngText(onePixel, "k", "v"));
  const chunk = noted.subarray(onePixel.length - 12, -12);
  expect(chunk.toString("hex")).toBe(
    `0000000374455874${"6b0076"}${crc32(Buffer.from("tEXtk\0v", "latin1")).toString(16).padStart(8, "0")}`
  );
});

it("withPngText(no PNG) and a keyword that is none are refused", () => {
  expect(() => withPngText(Buffer.from("GIF89a.."), "page", "x")).toThrow("withPngText: png must be a PNG");
  expect(() => withPngText(onePixel, "", "x")).toThrow("withPngText: keyword must be 1 to 79 characters");
});
