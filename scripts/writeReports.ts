import {resolve} from "node:path";
import {tableCsv} from "../lib/report/tableCsv.ts";
import {type Options, relative, say, tell} from "./command.ts";
import {keepReport, keptBefore} from "./io/keptReports.ts";
import {notebookList} from "./io/notebookList.ts";
import type {BookAsOf} from "./io/readBook.ts";
import {writeReport, written} from "./io/writeReport.ts";
import type {Beside, Report} from "./pages/compose.ts";
import {makeReport} from "./pages/makeReport.ts";
import {type ReportName, reportNames} from "./pages/reportNames.ts";
import {reportSchema} from "./pages/reportSchema.ts";
import type {PagesThread} from "./pagesThread.ts";
import {version} from "./version.ts";

/** The files that `writeReports` writes of these reports, by their path in its folder, but for what is kept for the next month. */
export function writtenFiles(reports: readonly Report[]): string[] {
  return [
    "guide.html",
    "report.schema.json",
    ...reports.flatMap(({name, tables, extra = []}) => [
      ...extra.map(({file}) => file),
      `${name}.html`,
      `${name}.json`,
      `${name}.xlsx`,
      ...tables.map(({id}) => `tables/${name}-${id}.csv`)
    ])
  ];
}

/** Reports that take about as long as the others; what seasoning and the rack have in common is worked out once. */
const inThread: ReadonlySet<ReportName> = new Set(["season", "seasoning", "rack", "yard-card"]);

/**
 * Makes reports and writes each as a page, its tables as CSV files and every number as JSON; with `json` the numbers go to stdout, and nothing
 * is drawn or written. Returns the reports.
 *
 * @param thread makes those that take longest while this one makes the others; without it they are made one after the other
 */
export async function writeReports(
  names: readonly ReportName[],
  read: BookAsOf,
  {out, json}: Options,
  thread?: PagesThread
): Promise<Report[]> {
  const folder = resolve(out);
  const beside: Beside = {
    notebooks: notebookList(folder),
    keptBefore: (workshop, day) => keptBefore(folder, workshop, day)
  };
  if (json) {
    const reports: Report[] = [];
    for (const name of names) reports.push(await makeReport(name, read, beside));
    tell(JSON.stringify(names.length === 1 ? reports[0]!.data : reports.map(({data}) => data), undefined, 1));
    return reports;
  }
  const apart = thread?.make({names: names.filter((name) => inThread.has(name)), read, folder});
  // Loaded here, as numbers alone need none of it.
  const {draw} = await import("./draw.ts");
  const {tablesWorkbook} = await import("./io/tablesWorkbook.ts");
  const {guidePage, guideText} = await import("./pages/guide.ts");
  const reports: Report[] = [];
  for (const name of names) {
    const report = await (apart?.get(name) ?? makeReport(name, read, {...beside, draw}));
    reports.push(report);
    const path = writeReport(folder, `${name}.html`, report.html);
    const {currency} = read.book.settings.money;
    for (const table of report.tables) {
      writeReport(folder, `tables/${name}-${table.id}.csv`, tableCsv(table, {currency}));
    }
    const about = [
      report.title,
      `${read.book.settings.name}. Speaks for ${read.asOf}. Made by square-to-shaft ${version}.`
    ];
    writeReport(folder, `${name}.xlsx`, tablesWorkbook(report.tables, {currency, about}));
    writeReport(folder, `${name}.json`, `${JSON.stringify(report.data, undefined, 1)}\n`);
    for (const {file, html} of report.extra ?? []) writeReport(folder, file, html);
    if (report.kept) keepReport(folder, report.kept);
    say(
      `Made ${reportNames[name]}: ${Math.round(Buffer.byteLength(report.html) / 1024)} KiB, ${report.tables.length} tables.`
    );
    tell(relative(path));
    await written();
  }
  writeReport(folder, "report.schema.json", `${JSON.stringify(reportSchema(), undefined, 1)}\n`);
  writeReport(folder, "guide.html", guidePage(guideText()));
  return reports;
}
