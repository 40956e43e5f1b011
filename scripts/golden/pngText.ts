import {check} from "../../lib/check.ts";
import {chunk, chunks, pngOf} from "./pngChunks.ts";

/**
 * The bytes of a PNG with a note in it, which says nothing to who looks at it: a tEXt chunk before the last. Keyword and text are Latin-1.
 *
 * Source: Portable Network Graphics (Second Edition), W3C 2003, 11.3.4.3 tEXt.
 *
 * @throws RangeError unless it is a PNG, and the keyword 1 to 79 characters
 */
export function withPngText(png: Uint8Array, keyword: string, text: string): Uint8Array {
  check(/^[\x20-\x7e]{1,79}$/.test(keyword), "withPngText: keyword", "1 to 79 characters", keyword);
  const all = chunks(png, "withPngText: png").map(({bytes}) => bytes);
  return pngOf([...all.slice(0, -1), chunk("tEXt", Buffer.from(`${keyword}\0${text}`, "latin1")), ...all.slice(-1)]);
}

/** The note under a keyword in a PNG; undefined where there is none. */
export function pngText(png: Uint8Array, keyword: string): string | undefined {
  return chunks(png, "pngText: png")
    .filter(({type}) => type === "tEXt")
    .map(({data}) => data.toString("latin1").split("\0"))
    .find(([name]) => name === keyword)?.[1];
}
