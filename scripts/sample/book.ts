import {adviceFile} from "./advice.ts";
import {csv, type TableName} from "./csv.ts";
import {putInFaults} from "./faults.ts";
import {readme} from "./readme.ts";
import {settingsFile} from "./settings.ts";
import {simulate} from "./simulate.ts";
import {truthFile} from "./truthFile.ts";

/** The sample book: the text of each file under its name. The same on every run and every machine. */
export function sampleBook(): Map<string, string> {
  const workshop = simulate();
  const tables = structuredClone(workshop.tables);
  const faults = putInFaults(tables);
  const files = Object.entries(tables).map(([name, rows]) => [name, csv(name as TableName, rows)] as const);
  return new Map([
    ...files,
    ["advice.csv", adviceFile()],
    ["workshop.json", settingsFile()],
    ["truth.json", truthFile(workshop, faults)],
    ["README.md", readme(workshop, faults)]
  ]);
}
