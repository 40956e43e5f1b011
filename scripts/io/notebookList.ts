import {existsSync, readdirSync, readFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

/** A notebook of the repository: the question it opens with, and whether its page lies in the folder of the reports. */
export interface NotebookEntry {
  name: string;
  question: string;
  made: boolean;
}

/** The notebooks in order of their numbers, each under its first heading. */
export function notebookList(out: string): NotebookEntry[] {
  const folder = fileURLToPath(new URL("../../notebooks", import.meta.url));
  if (!existsSync(folder)) return [];
  const files = readdirSync(folder).filter((file) => /^\d+-.*\.ts$/.test(file));
  return files.sort().map((file) => {
    const name = file.slice(0, -".ts".length);
    const question = /^\/\/ # (.+?)\r?$/m.exec(readFileSync(join(folder, file), "utf8"))?.[1] ?? name;
    return {name, question, made: existsSync(join(out, "notebooks", `${name}.html`))};
  });
}
