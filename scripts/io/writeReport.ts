import {createHash} from "node:crypto";
import {mkdirSync, renameSync, writeFileSync} from "node:fs";
import {dirname, join} from "node:path";
import {style} from "../../lib/report/style.ts";

/** The hash by which a page's security policy knows a script or style sheet, as "sha256-" and base64. */
export function policyHash(text: string): string {
  return `sha256-${createHash("sha256").update(text, "utf8").digest("base64")}`;
}

/** The hash of the style sheet that all pages share; give it to `page`. */
export const styleHash: string = policyHash(style);

/**
 * Writes a file of a report: to a name beside it first, then renamed, so that no one ever reads half a page. Folders are
 * made. Returns the path.
 *
 * @throws Error that says what to do when another program, such as a spreadsheet, holds the file
 */
export function writeReport(folder: string, name: string, text: string): string {
  const path = join(folder, name);
  const draft = `${path}.part`;
  mkdirSync(dirname(path), {recursive: true});
  writeFileSync(draft, text, "utf8");
  try {
    renameSync(draft, path);
  } catch (error) {
    throw new Error(`writeReport: ${path} is in use; close it in the other program and run again.`, {cause: error});
  }
  return path;
}
