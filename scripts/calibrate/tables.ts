/** How many intervals of one kind were made, and how many held the truth. */
export interface Tally {
  intervals: number;
  held: number;
}

/** Profit missed against the all-knowing: of so many years together, its squares, and what the all-knowing earn. */
export interface Lost {
  years: number;
  lost: number;
  squares: number;
  best: number;
}

/** Fewer intervals than this say too little of how many hold the truth. */
const fewest = 30;

/** Of 100 intervals, how many held the truth, by what they are of and by the kind of workshop: a Markdown table. */
export function coverageTable(coverage: ReadonlyMap<string, ReadonlyMap<string, Tally>>): string {
  const kinds = [...coverage.keys()];
  const rows = [...new Set([...coverage.values()].flatMap((held) => [...held.keys()]))].sort();
  const cell = (kind: string, row: string) => {
    const tally = coverage.get(kind)!.get(row);
    return tally === undefined || tally.intervals < fewest ? "–" : ((100 * tally.held) / tally.intervals).toFixed(1);
  };
  return markdown(
    ["95 % interval of", ...kinds],
    rows.map((row) => [row, ...kinds.map((kind) => cell(kind, row))])
  );
}

/** Profit missed in a year, % of what the all-knowing earn, with its standard error, by way of deciding and kind of workshop. */
export function adviceTable(advice: ReadonlyMap<string, ReadonlyMap<string, Lost>>): string {
  const kinds = [...advice.keys()];
  const ways = [...new Set([...advice.values()].flatMap((lost) => [...lost.keys()]))];
  const cell = (kind: string, way: string) => {
    const row = advice.get(kind)!.get(way);
    if (row === undefined || row.years < 2) return "–";
    const mean = row.lost / row.years;
    const error = Math.sqrt(Math.max(0, row.squares / row.years - mean ** 2) / (row.years - 1));
    const percent = (value: number) => ((100 * value * row.years) / row.best).toFixed(1);
    return `${percent(mean)} ± ${percent(error)}`;
  };
  return markdown(
    ["profit missed, %, by", ...kinds],
    ways.map((way) => [way, ...kinds.map((kind) => cell(kind, way))])
  );
}

function markdown(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]) => `| ${cells.join(" | ")} |\n`;
  const rule = head.map((_, i) => (i === 0 ? "---" : "--:"));
  return [head, rule, ...rows].map(line).join("");
}
