import {expect, it} from "vitest";
import {chunk, chunks, pngOf} from "../../../scripts/golden/pngChunks.ts";

// A PNG of one black pixel, written by another program.
const onePixel = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAAAAAA6fptVAAAACklEQVR4nGNgAAAAAgABSK+kcQAAAABJRU5ErkJggg==",
  "base64"
);

it("chunks(png) are its parts in order, and pngOf(parts) is the same PNG", () => {
  const all = chunks(onePixel, "here");
  expect(all.map(({type, data}) => [type, data.length])).toEqual([
    ["IHDR", 13],
    ["IDAT", 10],
    ["IEND", 0]
  ]);
  expect(pngOf(all.map(({bytes}) => bytes))).toEqual(onePixel);
});

it("chunk(type, data) writes each part as the other program did", () => {
  for (const {type, data, bytes} of chunks(onePixel, "here")) expect(chunk(type, data), type).toEqual(bytes);
});

// CRC-32 of the digits 1 to 9 is cbf43926, the check value that catalogues of checksums give for it (from memory).
it("chunk(type, data) ends with the CRC-32 of both", () => {
  expect(chunk("1234", Buffer.from("56789")).toString("hex")).toBe("00000005313233343536373839cbf43926");
});

it("chunks(no PNG) and chunks(half a PNG) are refused", () => {
  expect(() => chunks(Buffer.from("GIF89a.."), "here")).toThrow("here must be a PNG");
  for (const length of [9, 40, onePixel.length - 1])
    expect(() => chunks(onePixel.subarray(0, length), "here"), `${length}`).toThrow("here must be a whole PNG");
});
