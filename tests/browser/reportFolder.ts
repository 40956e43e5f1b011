import {execFileSync} from "node:child_process";
import {mkdtempSync, readdirSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {demoPage} from "./demoPage.ts";

/** A page to be tested. */
export interface ReportFile {
  name: string;
  path: string;
}

/** Makes the pages to be tested, the demo page, every real report of the sample book and the page of its counts, in a new folder. Returns them. */
export function reportFolder(): ReportFile[] {
  const folder = mkdtempSync(join(tmpdir(), "square-to-shaft-"));
  writeFileSync(join(folder, "demo.html"), demoPage(), "utf8");
  for (const command of ["report", "counts"])
    execFileSync(process.execPath, ["--import", "tsx", `scripts/${command}.ts`, "--out", folder], {stdio: "pipe"});
  return readdirSync(folder)
    .filter((name) => name.endsWith(".html"))
    .sort()
    .map((name) => ({name, path: join(folder, name)}));
}
