import {crc32} from "node:zlib";
import {check} from "../../lib/check.ts";

const signature = Buffer.from("89504e470d0a1a0a", "hex");

/** One part of a PNG: what it is, what it holds, and its bytes in whole. */
export interface Chunk {
  type: string;
  data: Buffer;
  bytes: Buffer;
}

/**
 * The parts of a PNG in order.
 *
 * Source: Portable Network Graphics (Second Edition), W3C 2003, 5.2 signature and 5.3 chunk layout.
 *
 * @throws RangeError unless it is a PNG
 */
export function chunks(png: Uint8Array, where: string): Chunk[] {
  const file = Buffer.from(png);
  const head = file.subarray(0, 8);
  check(head.equals(signature), where, "a PNG", head.toString("hex"));
  const all: Chunk[] = [];
  for (let at = 8; at < file.length; at += all.at(-1)!.bytes.length) {
    const length = at + 12 <= file.length ? file.readUInt32BE(at) : Number.NaN;
    check(at + 12 + length <= file.length, where, "a whole PNG", `one that ends after ${file.length} bytes`);
    const bytes = file.subarray(at, at + 12 + length);
    all.push({type: bytes.toString("latin1", 4, 8), data: bytes.subarray(8, 8 + length), bytes});
  }
  return all;
}

/** The bytes of one part: length, type, data, and the checksum of the last two. */
export function chunk(type: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(type, "latin1"), data]);
  const [length, checksum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  checksum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, checksum]);
}

/** A PNG of these parts. */
export const pngOf = (parts: readonly Uint8Array[]): Buffer => Buffer.concat([signature, ...parts]);
