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

/** Makes the pages to be tested, the demo page and every real report of the sample book, in a new folder. Returns them. */
export function reportFolder(): ReportFile[] {
  const folder = mkdtempSync(join(tmpdir(), "square-to-shaft-"));
  writeFileSync(join(folder, "demo.html"), demoPage(), "utf8");
  execFileSync(process.execPath, ["--import", "tsx", "scripts/report.ts", "--out", folder], {stdio: "pipe"});
  return readdirSync(folder)
    .filter((name) => name.endsWith(".html"))
    .sort()
    .map((name) => ({name, path: join(folder, name)}));
}
