import {adviceDocs} from "./advice.ts";
import {columnDocs} from "./columns.ts";
import type {Fault} from "./faults.ts";
import type {Workshop} from "./simulate.ts";
import {asOf, firstDay, turnForTheWorse} from "./truth.ts";
import {measuringSd} from "./truthMeasuring.ts";

/** README.md of the sample book. */
export function readme({tables, pieces}: Workshop, faults: readonly Fault[]): string {
  return `# The sample book

Five years of an invented cue maker's workshop, ${firstDay} to ${asOf}: ${pieces.length} squares of ash and maple in
${tables["lots.csv"].length} lots from seven invented suppliers, followed from the purchase to the shaft, the discard or the rack, and
${tables["orders.csv"].length} orders for shafts. No person, firm, supplier, price or piece in it is real.

\`npm run sample-book\` writes this folder again, byte for byte. \`truth.json\` holds the values the book was made with; no
report reads it, tests do.

## The story

- Buying grows every year, so many squares are always on their way: finished ÷ bought is far below the true yield.
- Drying defects are mostly seen early in a rest; passes wait until the rest is served. So in young lots
  passed ÷ decided reads too low.
- Haskerdene Mill is dearer, and its density spreads about half as much as the others', between lots and within them.
- ${turnForTheWorse.supplier} got worse: lots bought from ${turnForTheWorse.from} on lose twice as much in the first two stages.
- Quillmoor Sawpit is new: two lots, so little can be said of it.
- Dense ash has few rings in 25 mm; the rings of maple say nearly nothing.
- Some pieces were turned before their rest was served. They warp more at the next stage.
- Orders peak from September to November and grow by about a sixth a year.
- From May 2025 on most pieces are weighed twice in a rest, most squares have grain and colour written down, and most shafts are bent when
  they are finished. Since January 2026 some orders name the bend, grain or colour they want.

## Files and columns

Comma-separated, UTF-8, LF; decimal point; dates as 2026-10-31; a blank cell is a value that was not recorded.
${columnDocs()}${adviceDocs()}
\`workshop.json\`: the settings: stages with targets and least rest, defects with their group, species with density windows, season,
money, accuracy, the bending test, suppliers.

## Faults put in on purpose

Rows as a spreadsheet counts them: the headings are row 1.

| file | row | column | found | right | what happened |
|---|---|---|---|---|---|
${faults.map((fault) => `| ${[fault.file, fault.row, fault.heading, fault.found || "(blank)", fault.right ?? "(row too many)", fault.what].join(" | ")} |`).join("\n")}

## How it was made

By a seeded generator, \`scripts/sample/\`, in this order: the air of the store week by week; lots, each with its own mean density,
moisture and luck; squares about their lot; what becomes of each square, stage by stage, to the very end; moisture day by day,
drifting towards the equilibrium of the store's air; masses from oven-dry mass, size and moisture, with the shrinkage constants of
European ash and sugar maple; orders, and shafts given to them first come first served; readings with the error of
the instrument (standard deviations: scale ${measuringSd.scaleG} g, calliper ${measuringSd.calliperMm} mm, tape ${measuringSd.tapeMm} mm, meter ${measuringSd.meterPct} % moisture) and rounded as the instrument shows
them. Everything after ${asOf} is cut off, but known to \`truth.json\`. Each thing has its own
stream of random numbers; of 244 seeds one was taken with which no supplier is far luckier than its truth. Chances, prices and
habits are invented; where they are modelled on the trade it is common practice, no source.

Wood dust harms, lathes injure and finishes burn: nothing here is advice on how to work. Local rules and licensed practice come first.
`;
}
