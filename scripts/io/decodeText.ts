import {createRequire} from "node:module";
import type Iconv from "iconv-lite";

/** The text of a file and how it was written. */
export interface DecodedText {
  text: string;
  encoding: "UTF-8" | "UTF-16LE" | "UTF-16BE" | "windows-1252";
  /** Whether the file began with a byte order mark; the mark is not in the text. */
  mark: boolean;
}

/**
 * The text of a file whose encoding nobody wrote down. Never throws: what no character stands for becomes U+FFFD, which the
 * reader of the text can look for.
 *
 * In this order: a byte order mark decides; NUL at nearly every second byte is UTF-16 without a mark; what is UTF-8 from
 * beginning to end is UTF-8, and so is what has more sound letters beyond A to Z in UTF-8 than broken ones; everything else is
 * windows-1252, the usual encoding of a Western European spreadsheet's CSV.
 *
 * windows-1252 leaves 81, 8D, 8F, 90 and 9D undefined: they become U+FFFD. The trap: any bytes can be read as windows-1252, so
 * a file in another encoding of one byte a character, such as Mac Roman from an old Mac or windows-1250, cannot be told
 * from it, and its letters beyond A to Z come out as others.
 *
 * iconv-lite, as Node's own TextDecoder read 80 to 9F as control characters in some versions (nodejs/node issues 56542, 60888).
 *
 * Source: WHATWG Encoding Standard, “BOM sniff”, “UTF-8 decode”, index-windows-1252.
 * Checked: tests/scripts/io/decodeText.test.ts
 *
 * @example decodeText(Buffer.from("Stärke")) // {text: "Stärke", encoding: "UTF-8", mark: false}
 */
export function decodeText(bytes: Uint8Array): DecodedText {
  const marked = markedAs(bytes);
  if (marked) return {text: new TextDecoder(marked).decode(bytes), encoding: marked, mark: true};
  const wide = wideAs(bytes);
  if (wide) return {text: new TextDecoder(wide).decode(bytes), encoding: wide, mark: false};
  const text = decodeUtf8(bytes);
  if (text !== undefined) return {text, encoding: "UTF-8", mark: false};
  const damaged = new TextDecoder("utf-8").decode(bytes);
  if (isMostlyUtf8(damaged)) return {text: damaged, encoding: "UTF-8", mark: false};
  // Loaded here, as few books need it: 0.5 MB of tables.
  const iconv: typeof Iconv = createRequire(import.meta.url)("iconv-lite");
  return {text: iconv.decode(bytes, "windows-1252"), encoding: "windows-1252", mark: false};
}

const strict = new TextDecoder("utf-8", {fatal: true, ignoreBOM: true});

/** A text from UTF-8, undefined where it is not that from beginning to end. */
export function decodeUtf8(bytes: Uint8Array): string | undefined {
  try {
    return strict.decode(bytes);
  } catch {
    return undefined;
  }
}

/** Whether a text decoded as UTF-8 is that, with a few bytes lost: in windows-1252 two letters of UTF-8 in a row hardly come about. */
function isMostlyUtf8(text: string): boolean {
  const broken = text.split("\ufffd").length - 1;
  const sound = (text.match(/[^\p{ASCII}\ufffd]/gu) ?? []).length;
  return sound > broken;
}

function markedAs([first, second, third]: Uint8Array): "UTF-8" | "UTF-16LE" | "UTF-16BE" | undefined {
  if (first === 0xef && second === 0xbb && third === 0xbf) return "UTF-8";
  if (first === 0xff && second === 0xfe) return "UTF-16LE";
  if (first === 0xfe && second === 0xff) return "UTF-16BE";
  return undefined;
}

/** UTF-16 shows by the zero half of each Latin letter: the second byte in LE, the first in BE. A euro sign has none, so not every one. */
function wideAs(bytes: Uint8Array): "UTF-16LE" | "UTF-16BE" | undefined {
  const start = bytes.subarray(0, 4096);
  const pairs = Math.floor(start.length / 2);
  const isNearlyAll = (zeros: number) => zeros > 0.8 * pairs;
  const isNearlyNone = (zeros: number) => zeros < 0.2 * pairs;
  let zerosFirst = 0;
  let zerosSecond = 0;
  for (let pair = 0; pair < pairs; pair++) {
    if (start[2 * pair] === 0) zerosFirst++;
    if (start[2 * pair + 1] === 0) zerosSecond++;
  }
  if (isNearlyAll(zerosSecond) && isNearlyNone(zerosFirst)) return "UTF-16LE";
  if (isNearlyAll(zerosFirst) && isNearlyNone(zerosSecond)) return "UTF-16BE";
  return undefined;
}
