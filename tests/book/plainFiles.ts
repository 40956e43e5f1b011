import {gridOf} from "../../lib/book/parseBook.ts";
import {PlainReader} from "../../lib/book/plainTable.ts";
import {type PlainFile, readPlain} from "../../lib/book/readPlain.ts";
import {type FileHabits, type RecordsRead, readRecords} from "../../lib/book/readRecords.ts";
import {type FileName, files, type RecordKind} from "../../lib/book/records.ts";
import {Settings} from "../../lib/book/settings.ts";
import {decodeUtf8 as decode, decodeText} from "../../scripts/io/decodeText.ts";

export const habits: FileHabits = {currency: "GBP"};
/** The columns of some bytes, given in chunks of a size. */
export function plainTable(bytes: Uint8Array, kind: RecordKind, chunk = bytes.length || 1) {
  const reader = new PlainReader(kind, decode);
  for (let at = 0; at < bytes.length; at += chunk) if (!reader.add(bytes.subarray(at, at + chunk))) return undefined;
  return reader.end();
}

/** A file of these bytes as columns; undefined where they are not plain. */
export function plainFile(bytes: Uint8Array, file: FileName, chunk?: number): PlainFile | undefined {
  const table = plainTable(bytes, files[file], chunk);
  return table && {file, table, size: bytes.length, bytes: (from, to) => bytes.subarray(from, to), decode};
}

/** What is read of some bytes as columns; undefined where they are not plain. */
export function plainly(bytes: Uint8Array, file: FileName, chunk?: number): RecordsRead<object> | undefined {
  const plain = plainFile(bytes, file, chunk);
  return plain && readPlain(plain, files[file] as RecordKind, habits);
}

/** What is read of the same bytes row by row. */
export function rowByRow(bytes: Uint8Array, file: FileName): RecordsRead<object> {
  const settings = Settings.parse({});
  return readRecords(gridOf(decodeText(bytes).text, file, settings), files[file] as RecordKind, habits);
}

/** What was read, with all rows, as plain data. */
export function told({source, records, problems}: RecordsRead<object>) {
  const {file, delimiter, headings, columns, rows, notData} = source;
  return {
    source: {file, delimiter, headings, columns, rows: rows.map(({row, cells}) => ({row, cells})), notData},
    records,
    problems
  };
}
