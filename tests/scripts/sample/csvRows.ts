import {readFileSync} from "node:fs";

const tables = new Map<string, Record<string, string>[]>();

/** The rows of a committed file of the sample book: heading to cell. No cell of the sample holds a comma. */
export function csvRows(file: string): Record<string, string>[] {
  const known = tables.get(file);
  if (known) return known;
  const [first, ...lines] = readFileSync(`sample-data/${file}`, "utf8").trimEnd().split("\n");
  const headings = first!.split(",");
  const rows = lines.map((line) => Object.fromEntries(line.split(",").map((cell, i) => [headings[i]!, cell])));
  tables.set(file, rows);
  return rows;
}

/** truth.json of the committed sample. */
// biome-ignore lint/suspicious/noExplicitAny: the file is data, looked into by tests only
export const truth: any = JSON.parse(readFileSync("sample-data/truth.json", "utf8"));

export const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

export const sd = (values: readonly number[]) => {
  const middle = mean(values);
  return Math.sqrt(values.reduce((sum, value) => sum + (value - middle) ** 2, 0) / (values.length - 1));
};
