import {expect, it} from "vitest";
import {pngText, withPngText} from "../../../scripts/golden/pngText.ts";

// A PNG of one black pixel, written by another program.
const onePixel = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==",
  "base64"
);

it("withPngText(png, keyword, text) keeps the picture and its end, and pngText reads the note", () => {
  const noted = Buffer.from(withPngText(onePixel, "page", "0123abcd"));
  expect(noted.subarray(0, onePixel.length - 12)).toEqual(onePixel.subarray(0, -12));
  expect(noted.subarray(-12)).toEqual(onePixel.subarray(-12));
  expect(pngText(noted, "page")).toBe("0123abcd");
  expect(pngText(noted, "other")).toBeUndefined();
  expect(pngText(onePixel, "page")).toBeUndefined();
});

it("withPngText(no PNG) and a keyword that is none are refused", () => {
  expect(() => withPngText(Buffer.from("GIF89a.."), "page", "x")).toThrow("withPngText: png must be a PNG");
  expect(() => withPngText(onePixel, "", "x")).toThrow("withPngText: keyword must be 1 to 79 characters");
});
