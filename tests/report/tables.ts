import type {Table} from "../../lib/report/table.ts";

/** A small table with every kind of column, for the tests of what is made of tables. */
export const lots: Table = {
  id: "lots",
  caption: "Lots by day of purchase",
  columns: [
    {key: "lot", heading: "Lot", unit: "text"},
    {key: "day", heading: "Bought", unit: "date"},
    {key: "share", heading: "Yield", unit: "fraction", low: "low", high: "high"},
    {key: "change", heading: "Change", unit: "number"},
    {key: "cost", heading: "Cost", unit: "money"}
  ],
  rows: [
    {lot: "A-031", day: "2026-01-16", share: 0.6667, low: 0.5204, high: 0.7806, change: -5, cost: 1941.5},
    {
      lot: "=1+2",
      day: "2026-03-04",
      share: undefined,
      low: undefined,
      high: undefined,
      change: undefined,
      cost: undefined
    }
  ],
  note: "Yield with its 95 % interval."
};
