import {columnDocs} from "../../lib/book/columnDocs.ts";

/**
 * The advice that the workshop kept on three first days of December. Written down once and not worked out again: what was said on a day
 * stays, whatever the toolkit says today. Made on 2026-11-28 by `npx tsx scripts/season.ts --as-of DATE --keep-advice` on this book, which
 * leaves out all that came later; suppliers' limits are those of workshop.json throughout.
 */
const rows = [
  "2023-12-01,ash,2024-06-01,2025-05-31,334,334,334,119 Tolverby Saws + 215 Fennaby Yard,240.3,157,340,53.8,37.7,69.5,25898,8,47.6,77.4,",
  "2023-12-01,maple,2024-06-01,2025-05-31,214,190,240,214 Tolverby Saws,139.3,74,223,56.2,38.8,72.9,15237,5.5,40.6,80.5,",
  "2024-12-01,ash,2025-06-01,2026-05-31,435,377,494,202 Haskerdene Mill + 233 Fennaby Yard,288.6,147,476,62,49.4,73.8,28392,12.3,82.7,79.8,",
  "2024-12-01,maple,2025-06-01,2026-05-31,140,120,160,88 Fennaby Yard + 52 Tolverby Saws,110.4,69,160,55,42.9,66.4,13801,3.3,22.7,79.6,",
  "2025-12-01,ash,2026-06-01,2027-05-31,725,661,809,240 Haskerdene Mill + 135 Quillmoor Sawpit + 330 Fennaby Yard + 20 Tolverby Saws,417.5,269,596,55.1,45.7,64.4,42487,15.5,72.4,74.7,",
  "2025-12-01,maple,2026-06-01,2027-05-31,239,239,239,239 Tolverby Saws,148.7,79,239,51.5,37.7,65.3,16976,6.9,38.5,77.6,"
];

const docs = columnDocs().filter(({file}) => file === "advice.csv");

/** advice.csv. */
export const adviceFile = () => `${[docs.map(({heading}) => heading).join(","), ...rows].join("\n")}\n`;

/** Its part of the sample's README. */
export const adviceDocs = () => `
### advice.csv

One row is what the season's report said of one species on one day. Each was made once by the toolkit, as of that day, on this book; what
it said then stays as it is, whatever the toolkit would say today. What came of it is in the season's report.

| column | unit | holds |
|---|---|---|
${docs.map(({heading, unit = "", description}) => `| ${heading} | ${unit === "money" ? "£" : unit} | ${description} |`).join("\n")}
`;
