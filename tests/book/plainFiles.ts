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

/** What is read of some bytes as columns; undefined where they are not plain. */
export function plainly(bytes: Uint8Array, file: FileName, chunk?: number): RecordsRead<object> | undefined {
  const kind: RecordKind = files[file];
  const table = plainTable(bytes, kind, chunk);
  const plain =
    table &&
    ({file, table, size: bytes.length, bytes: (from, to) => bytes.subarray(from, to), decode} satisfies PlainFile);
  return plain && readPlain(plain, kind, habits);
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
