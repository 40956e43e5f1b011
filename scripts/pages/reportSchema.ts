import * as z from "zod";
import {severities} from "../../lib/book/problem.ts";
import {type ReportName, reportNames} from "./reportNames.ts";

/** The version of the form of the JSON files beside the pages; it rises when a name in it changes or goes. */
export const reportFormat = 1;

const cell = z.union([z.string(), z.number(), z.null()]);

const column = z.strictObject({
  key: z.string().describe("name of the value in each row"),
  heading: z.string(),
  unit: z.string().describe("unit of the numbers as written here; empty for text and counts"),
  low: z.string().optional().describe("name of the lower end of the 95 % interval"),
  high: z.string().optional().describe("name of the upper end of the 95 % interval")
});

const table = z.strictObject({
  id: z.string(),
  caption: z.string(),
  note: z.string().nullable(),
  columns: z.array(column),
  rows: z.array(z.record(z.string(), cell))
});

/** What a report's JSON file holds: every number of the page, rounded as the page shows it. */
export const reportData = z
  .strictObject({
    $schema: z.literal("report.schema.json"),
    report: z.enum(Object.keys(reportNames) as [ReportName, ...ReportName[]]),
    format: z.literal(reportFormat),
    version: z.string().describe("of the toolkit"),
    asOf: z.iso.date().describe("the day the report speaks for"),
    title: z.string(),
    lead: z.array(z.string()).max(6).describe("the main points, most important first"),
    tables: z.record(z.string(), table),
    problems: z.array(
      z.looseObject({code: z.string(), severity: z.enum(severities), file: z.string(), sentence: z.string()})
    ),
    sources: z.array(z.looseObject({name: z.string()}))
  })
  .meta({title: "A report of square-to-shaft"});

export type ReportData = z.infer<typeof reportData>;

/** The form as JSON Schema (draft 2020-12), to be written beside the files. Returns the object. */
export const reportSchema = (): object => z.toJSONSchema(reportData);
