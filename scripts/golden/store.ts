import {existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {alike} from "./alike.ts";

/** Where the golden drawings lie. */
export const goldenFolder = "tests/golden";

/** One drawing that is not what it was. */
export interface Change {
  name: string;
  /** Absent for a new drawing. */
  before?: string;
  /** Absent for one whose figure is gone. */
  after?: string;
}

/** The drawings that are new, gone, or look otherwise than the golden ones in a folder, by name. */
export function changes(drawn: ReadonlyMap<string, string>, folder: string = goldenFolder): Change[] {
  const golden = new Map(namesIn(folder).map((name) => [name, readFileSync(join(folder, name), "utf8").trimEnd()]));
  return [...new Set([...golden.keys(), ...drawn.keys()])].sort().flatMap((name) => {
    const [before, after] = [golden.get(name), drawn.get(name)];
    if (before !== undefined && after !== undefined && alike(before, after)) return [];
    return [{name, ...(before !== undefined && {before}), ...(after !== undefined && {after})}];
  });
}

/** Takes changes as golden: new drawings are written, those gone removed. */
export function accept(changed: readonly Change[], folder: string = goldenFolder): void {
  mkdirSync(folder, {recursive: true});
  for (const {name, after} of changed) {
    if (after === undefined) rmSync(join(folder, name));
    else writeFileSync(join(folder, name), `${after}\n`);
  }
}

const namesIn = (folder: string) =>
  existsSync(folder) ? readdirSync(folder).filter((name) => name.endsWith(".svg")) : [];
