import type {FileName} from "../../lib/book/records.ts";

/** The reports of one run and how each is called, so that every page links to the others. */
export const reportNames = {
  monthly: "Monthly yield",
  suppliers: "Suppliers compared",
  season: "Squares to buy",
  seasoning: "Seasoning",
  rack: "The rack today",
  "yard-card": "Yard card"
} as const;
export type ReportName = keyof typeof reportNames;

/** The records that each report is made of. */
export const recordsOf: Record<ReportName, readonly FileName[]> = {
  monthly: ["lots.csv", "squares.csv", "events.csv", "climate.csv"],
  suppliers: ["lots.csv", "squares.csv", "events.csv"],
  season: ["lots.csv", "squares.csv", "events.csv", "orders.csv", "advice.csv"],
  seasoning: ["lots.csv", "squares.csv", "events.csv", "climate.csv"],
  rack: ["lots.csv", "squares.csv", "events.csv", "orders.csv", "climate.csv"],
  "yard-card": ["lots.csv", "squares.csv", "events.csv"]
};
