import {createHash} from "node:crypto";
import {closeSync, fstatSync, openSync, readSync} from "node:fs";
import {basename} from "node:path";
import {PlainReader} from "../../lib/book/plainTable.ts";
import type {PlainFile} from "../../lib/book/readPlain.ts";
import type {RecordKind} from "../../lib/book/records.ts";
import {decodeUtf8} from "./decodeText.ts";
import {progress} from "./progress.ts";
import {UserError} from "./writeReport.ts";

/** So many bytes are read at a time: all of them stay in the fast memory of the processor. */
const chunkBytes = 262_144;

interface FileAsRead {
  size: number;
  changedMs: number;
}

/** A file as columns, and the digest of its bytes. */
export interface PlainFileRead {
  plain: PlainFile;
  sha256: string;
}

/**
 * A file as columns, where it is kept in the plain form. It is read piece by piece, so that a large one never stands in memory as a whole; rows that
 * are to be shown are read again.
 *
 * @returns undefined where the file is not plain
 * @throws what node throws where it cannot be read; and UserError where the file is changed while it is read, or changed or gone before its rows are asked for again
 */
export function readPlainFile(path: string, kind: RecordKind): PlainFileRead | undefined {
  const name = basename(path);
  const handle = openSync(path, "r");
  try {
    const stat = fstatSync(handle);
    // What is no file, such as a pipe, cannot be read twice.
    if (!stat.isFile()) return undefined;
    const reader = new PlainReader(kind, decodeUtf8, stat.size);
    const hash = createHash("sha256");
    const tell = progress(name, stat.size);
    const chunk = new Uint8Array(chunkBytes);
    let size = 0;
    for (;;) {
      const count = readSync(handle, chunk);
      if (count === 0) break;
      const part = chunk.subarray(0, count);
      hash.update(part);
      if (!reader.add(part)) return undefined;
      size += count;
      tell(size);
    }
    const table = reader.end();
    const as = {size, changedMs: stat.mtimeMs};
    checkUnchanged(path, handle, as);
    const bytes = partsOf(path, as);
    return table && {plain: {file: name, table, size, bytes, decode: decodeUtf8}, sha256: hash.digest("hex")};
  } finally {
    closeSync(handle);
  }
}

/** Bytes of a file from one place to another, read again; with what follows, as the rows behind are mostly asked for next. */
function partsOf(path: string, as: FileAsRead): PlainFile["bytes"] {
  let [start, part] = [0, new Uint8Array(0)];
  return (from, to) => {
    if (from < start || to > start + part.length) {
      start = from;
      part = readAgain(path, as, from, Math.min(as.size, Math.max(to, from + chunkBytes)));
    }
    return part.subarray(from - start, to - start);
  };
}

function checkUnchanged(path: string, handle: number, as: FileAsRead): void {
  const {size, mtimeMs} = fstatSync(handle);
  if (size === as.size && mtimeMs === as.changedMs) return;
  throw new UserError(`${basename(path)} was changed while it was read. Save it, close it, and run the command again.`);
}

function openAgain(path: string): number {
  try {
    return openSync(path, "r");
  } catch (error) {
    const {code} = error as NodeJS.ErrnoException;
    throw new UserError(
      `${basename(path)} was read and is gone now (${code}). Put it back, and run the command again.`
    );
  }
}

function readAgain(path: string, as: FileAsRead, from: number, to: number): Uint8Array<ArrayBuffer> {
  const handle = openAgain(path);
  try {
    const part = new Uint8Array(to - from);
    let count = 0;
    while (count < part.length) {
      const more = readSync(handle, part, count, part.length - count, from + count);
      if (more === 0) break;
      count += more;
    }
    checkUnchanged(path, handle, as);
    return part;
  } finally {
    closeSync(handle);
  }
}
