import {deflateSync, inflateSync} from "node:zlib";
import {check} from "../../lib/check.ts";
import {chunk, chunks, pngOf} from "./pngChunks.ts";

/**
 * The bytes of a PNG with the same pixels in fewer bytes: rows are kept as they are instead of as differences, which suits large even
 * areas, and packed as tightly as can be.
 *
 * Source: Portable Network Graphics (Second Edition), W3C 2003, 9.2 filter types and 11.2.2 image header.
 *
 * @throws RangeError unless it is a PNG of 8 bits a channel, in colour, not interlaced, as browsers write
 */
export function smaller(png: Uint8Array): Uint8Array {
  const all = chunks(png, "smaller: png");
  const header = all[0]!.data;
  const [depth, colour, interlaced] = [header[8], header[9], header[12]];
  const kind = `depth ${depth}, colour type ${colour}, interlace ${interlaced}`;
  check(/^depth 8, colour type [26], interlace 0$/.test(kind), "smaller: png", "8 bits a channel in colour", kind);
  const packed = Buffer.concat(all.filter(({type}) => type === "IDAT").map(({data}) => data));
  const rows = unfiltered(inflateSync(packed), header.readUInt32BE(0), colour === 2 ? 3 : 4);
  const data = chunk("IDAT", deflateSync(rows, {level: 9, memLevel: 9}));
  const first = all.findIndex(({type}) => type === "IDAT");
  return pngOf(all.flatMap(({type, bytes}, i) => (i === first ? [data] : type === "IDAT" ? [] : [bytes])));
}

/** Rows of differences as rows of channels, each after the byte 0 that says so. */
function unfiltered(filtered: Buffer, widthPx: number, channels: number): Buffer {
  const row = 1 + widthPx * channels;
  const rows = Buffer.alloc(filtered.length);
  for (let at = 0; at < filtered.length; at++) {
    const x = at % row;
    if (x === 0) continue;
    const filter = filtered[at - x]!;
    const [inside, below] = [x > channels, at >= row];
    const left = inside ? rows[at - channels]! : 0;
    const up = below ? rows[at - row]! : 0;
    const corner = inside && below ? rows[at - row - channels]! : 0;
    const guess = [0, left, up, (left + up) >> 1, paeth(left, up, corner)][filter]!;
    rows[at] = filtered[at]! + guess;
  }
  return rows;
}

/** The neighbour nearest to left + up − corner; of equals the first. */
function paeth(left: number, up: number, corner: number): number {
  const [toLeft, toUp, toCorner] = [left, up, corner].map((value) => Math.abs(left + up - corner - value));
  return toLeft! <= toUp! && toLeft! <= toCorner! ? left : toUp! <= toCorner! ? up : corner;
}
