import type {Day} from "../../lib/book/day.ts";
import {type Html, html} from "../../lib/report/html.ts";
import {rounded, shown} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import type {KeptReport} from "../io/keptReports.ts";
import type {RowPrints} from "../io/rowPrints.ts";

/** A number of a report that is followed from month to month, per 100. */
export interface FollowedNumber {
  label: string;
  per100: number | undefined;
  low?: number | undefined;
  high?: number | undefined;
}

/** What two reports of one book are compared by. */
export interface Compared {
  now: readonly FollowedNumber[];
  /** The same for the day of the report before, from the book as it is today. */
  earlier: readonly FollowedNumber[];
  day: Day;
  /** What was printed for that day, if it was kept. */
  kept?: KeptReport | undefined;
  /** Of the rows up to that day, as the book has them today. */
  rows: RowPrints;
  version: string;
}

/** A month of a file that the book tells otherwise than it did. */
export interface RevisedMonth {
  file: string;
  month: string;
  rowsThen: number;
  rowsNow: number;
}

/** The months that the book tells otherwise than when a report was made of it, by file and month. */
export function revisedMonths(then: RowPrints, now: RowPrints): RevisedMonth[] {
  const files = [...new Set([...Object.keys(then), ...Object.keys(now)])];
  return files.flatMap((file) => {
    const [before, after] = [then[file] ?? {}, now[file] ?? {}];
    return [...new Set([...Object.keys(before), ...Object.keys(after)])].sort().flatMap((month) => {
      const [rowsThen, printThen] = before[month] ?? [0, ""];
      const [rowsNow, printNow] = after[month] ?? [0, ""];
      return printThen === printNow ? [] : [{file, month, rowsThen, rowsNow}];
    });
  });
}

/**
 * What changed since the report before: each figure as it was printed then, as today's book has it for that day, and now; and which months
 * the book tells otherwise. A difference of the first two is a revision, of the last two what the time since brought.
 */
export function changes(
  {now, earlier, day, kept, rows, version}: Compared,
  {table}: {table: (table: Table) => Html}
): Html[] {
  const before = new Map(earlier.map(({label, per100}) => [label, per100]));
  const isTold = ({
    label,
    printed,
    that,
    change
  }: {
    label: string;
    printed?: number | undefined;
    that: number | undefined;
    change: number | undefined;
  }) =>
    !label.startsWith("thrown out:") ||
    rounded(change, "per 100") !== 0 ||
    (kept && printed !== rounded(that, "per 100"));
  const known = new Map(now.map((row) => [row.label, row]));
  // Also what is no longer in the book: that it was printed is what is to be told.
  const labels = [...new Set([...known.keys(), ...before.keys(), ...Object.keys(kept?.per100 ?? {})])];
  const lines = labels.map((label) => {
    const {per100, low, high} = known.get(label) ?? {per100: undefined};
    const that = before.get(label);
    return {
      label,
      ...(kept && {printed: kept.per100[label]}),
      that,
      per100,
      low,
      high,
      change: per100 === undefined || that === undefined ? undefined : difference(per100, that)
    };
  });
  const figures = table({
    id: "what-changed",
    caption: `Figures for ${day} and now, per 100`,
    columns: [
      {key: "label", heading: "Of 100 squares", unit: "text"},
      ...(kept ? [{key: "printed", heading: `Printed for ${day}`, unit: "per 100"} as const] : []),
      {key: "that", heading: `${day}, by today's book`, unit: "per 100"},
      {key: "per100", heading: "Now", unit: "per 100", low: "low", high: "high"},
      {key: "change", heading: "Change", unit: "per 100"}
    ],
    rows: lines.filter(isTold),
    note: "Of single defects, those that did not change are left out."
  });
  if (!kept)
    return [
      html`<p>No report of an earlier month lies in this folder, so what was printed then cannot be compared. What the book says today of ${day} stands here beside what it says now.</p>\n`,
      figures
    ];
  const revised = revisedMonths(kept.rows, rows);
  return [
    html`<p>${revised.length === 0 ? `The book says of the time up to ${day} what it said when that report was made.` : `Since the report of ${day} was made, rows of that time were entered, changed or taken out: its figures are revised below.`}${kept.version !== version && ` That report was made by square-to-shaft ${kept.version}, this one by ${version}: a change of method may be part of it.`}</p>\n`,
    figures,
    ...(revised.length === 0
      ? []
      : [
          table({
            id: "rows-revised",
            caption: `Rows up to ${day} that the book tells otherwise than then`,
            columns: [
              {key: "file", heading: "File", unit: "text"},
              {key: "month", heading: "Month", unit: "text"},
              {key: "rowsThen", heading: "Rows then", unit: "count"},
              {key: "rowsNow", heading: "Rows now", unit: "count"}
            ],
            rows: revised.map((row) => ({...row})),
            note: "Equal numbers: a row was changed."
          })
        ])
  ];
}

/** The numbers of a report as they are printed, for the next to be compared with. */
export function printedNumbers(numbers: readonly FollowedNumber[]): Record<string, number> {
  return Object.fromEntries(
    numbers.flatMap(({label, per100}) => {
      const printed = rounded(per100, "per 100");
      return printed === undefined ? [] : [[label, printed]];
    })
  );
}

/** The difference of two numbers as they are printed, so that a page never says 66.2, 66.0 and −0.1. */
function difference(now: number, then: number): number {
  return rounded(now, "per 100")! - rounded(then, "per 100")!;
}

/** The change in words, "down 0.2 on 2026-09-30"; undefined where one of the two is missing. */
export function changeWords(now: number | undefined, then: number | undefined, day: Day): string | undefined {
  if (now === undefined || then === undefined) return undefined;
  const change = difference(now, then);
  if (rounded(change, "per 100") === 0) return `as on ${day}`;
  return `${change > 0 ? "up" : "down"} ${shown(Math.abs(change), "per 100", {bare: true})} points on ${day}`;
}
