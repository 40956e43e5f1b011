import {mkdirSync, renameSync, writeFileSync} from "node:fs";
import {dirname, join} from "node:path";

/**
 * Writes a file of a report beside its place and moves it there, so that a reader never sees half of it. Folders are made.
 *
 * @returns the path
 * @throws Error that says what to do when another program, such as a spreadsheet, holds the file
 */
export function writeReport(folder: string, name: string, text: string): string {
  const path = join(folder, name);
  mkdirSync(dirname(path), {recursive: true});
  const beside = `${path}.part`;
  try {
    writeFileSync(beside, text, "utf8");
    renameSync(beside, path);
  } catch (error) {
    const {code} = error as NodeJS.ErrnoException;
    if (code !== "EBUSY" && code !== "EPERM" && code !== "EACCES") throw error;
    throw new UserError(
      `${path} could not be written (${code}). Is it open in another program? Close it there and run again.`
    );
  }
  return path;
}

/** A fault that the user can mend; shown as its sentence, without a stack. */
export class UserError extends Error {}
