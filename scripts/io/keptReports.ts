import {existsSync, readdirSync, readFileSync} from "node:fs";
import {join} from "node:path";
import * as z from "zod";
import type {Day} from "../../lib/book/day.ts";
import {writeReport} from "./writeReport.ts";

/** Where each month's figures are kept beside the reports, for the next month to be compared with. */
const keptFolder = "kept";

const keptReport = z.strictObject({
  format: z.literal(1),
  workshop: z.string(),
  asOf: z.iso.date(),
  version: z.string(),
  /** What was printed, per 100, by the name of the figure. */
  per100: z.record(z.string(), z.number()),
  /** Of each file and month, how many rows the book had and a fingerprint of them. */
  rows: z.record(z.string(), z.record(z.string(), z.tuple([z.int(), z.string()])))
});

/** What a monthly report printed and what it was made from, kept to be compared with. */
export type KeptReport = z.infer<typeof keptReport>;

/** Keeps a report; one of the same day is replaced. Returns the path. */
export function keepReport(folder: string, kept: KeptReport): string {
  return writeReport(folder, `${keptFolder}/monthly-${kept.asOf}.json`, `${JSON.stringify(kept)}\n`);
}

/** The last report kept of a workshop that speaks for a day before this one; undefined if there is none that can be read. */
export function keptBefore(folder: string, workshop: string, day: Day): KeptReport | undefined {
  const place = join(folder, keptFolder);
  if (!existsSync(place)) return undefined;
  const days = readdirSync(place).flatMap((name) => /^monthly-(\d{4}-\d{2}-\d{2})\.json$/.exec(name)?.[1] ?? []);
  for (const asOf of days
    .filter((one) => one < day)
    .sort()
    .reverse()) {
    const kept = read(join(place, `monthly-${asOf}.json`));
    if (kept?.workshop === workshop && kept.asOf === asOf) return kept;
  }
  return undefined;
}

function read(path: string): KeptReport | undefined {
  try {
    return keptReport.safeParse(JSON.parse(readFileSync(path, "utf8"))).data;
  } catch {
    return undefined; // damaged: as if it had not been kept
  }
}
