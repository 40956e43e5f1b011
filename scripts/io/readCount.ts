import {readFileSync} from "node:fs";
import {basename, resolve} from "node:path";
import type {Grid} from "../../lib/book/grid.ts";
import {countGrid} from "../../lib/rack/countedRows.ts";
import {decodeText} from "./decodeText.ts";
import {readWorkbook} from "./readWorkbook.ts";
import {readFault, UserError} from "./writeReport.ts";

/**
 * A counted list as grids, nothing of it understood yet: one of a CSV file or any text of lines; of a workbook one for each sheet that
 * is not hidden and has anything in it, or an empty one.
 *
 * @param place the list as the owner named it
 * @throws UserError when it is not there, cannot be read, or is no table
 */
export function readCount(place: string): Grid[] {
  const name = basename(place);
  const bytes = bytesOf(place);
  const start = bytes.subarray(0, 4).toString("hex");
  if (start !== "504b0304" && start !== "d0cf11e0") {
    const {text, encoding} = decodeText(bytes);
    if (text.includes("\0"))
      throw new UserError(`${name} is no list that can be read. Save it as a CSV file, or as .xlsx.`);
    const grid = countGrid(text, name);
    return [encoding === "UTF-8" ? grid : {...grid, how: [`${encoding} letters`]}];
  }
  const read = readWorkbook(bytes);
  if ("fault" in read) {
    throw new UserError(`${name} ${read.fault}. Save it again as .xlsx, without a password, or as a CSV file.`);
  }
  const shown = read.sheets.filter(({hidden}) => !hidden);
  if (shown.length === 0) throw new UserError(`${name} has no sheet that can be read. Save the list as a CSV file.`);
  const filled = shown.filter(({rows}) => rows.length > 0);
  return (filled.length > 0 ? filled : shown.slice(0, 1)).map((sheet) => ({
    file: `${name}, sheet ${sheet.name}`,
    rows: sheet.rows,
    exact: true,
    merged: sheet.merged,
    problems: []
  }));
}

function bytesOf(place: string): Buffer {
  try {
    return readFileSync(resolve(place));
  } catch (error) {
    const {code = "unknown"} = error as NodeJS.ErrnoException;
    if (code === "ENOENT") {
      throw new UserError(
        `--count must be a list that is there, got “${place}”. Look for a typing error, or name its folder too.`
      );
    }
    if (code === "EISDIR") {
      throw new UserError(`--count must be a file, got the folder “${place}”. Name the list in it.`);
    }
    throw new UserError(readFault(place, code));
  }
}
