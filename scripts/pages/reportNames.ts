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
