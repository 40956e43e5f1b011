import {crc32} from "node:zlib";
import {check} from "../../lib/check.ts";

const signature = "89504e470d0a1a0a";

/**
 * The bytes of a PNG with a note in it, which says nothing to who looks at it: a tEXt chunk before the last. Keyword and text are Latin-1.
 *
 * Source: Portable Network Graphics (Second Edition), W3C 2003, 5.3 chunk layout and 11.3.4.3 tEXt.
 *
 * @throws RangeError unless it is a PNG, and the keyword 1 to 79 characters
 */
export function withPngText(png: Uint8Array, keyword: string, text: string): Uint8Array {
  const bytes = Buffer.from(png);
  check(
    bytes.subarray(0, 8).toString("hex") === signature,
    "withPngText: png",
    "a PNG",
    bytes.subarray(0, 8).toString("hex")
  );
  check(/^[\x20-\x7e]{1,79}$/.test(keyword), "withPngText: keyword", "1 to 79 characters", keyword);
  const end = bytes.length - 12; // IEND: length, type, checksum
  return Buffer.concat([
    bytes.subarray(0, end),
    chunk("tEXt", Buffer.from(`${keyword}\0${text}`, "latin1")),
    bytes.subarray(end)
  ]);
}

/** The note under a keyword in a PNG; undefined where there is none. */
export function pngText(png: Uint8Array, keyword: string): string | undefined {
  const bytes = Buffer.from(png);
  for (let at = 8; at + 12 <= bytes.length; ) {
    const length = bytes.readUInt32BE(at);
    const data = bytes.subarray(at + 8, at + 8 + length);
    if (bytes.toString("latin1", at + 4, at + 8) === "tEXt") {
      const [name, text] = data.toString("latin1").split("\0");
      if (name === keyword) return text;
    }
    at += 12 + length;
  }
  return undefined;
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const [length, checksum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  checksum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, checksum]);
}
