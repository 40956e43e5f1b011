import {faultList} from "../../lib/report/faultList.ts";
import {figureHtml} from "../../lib/report/figureHtml.ts";
import {html} from "../../lib/report/html.ts";
import {keyFigures} from "../../lib/report/keyFigures.ts";
import {methods} from "../../lib/report/methods.ts";
import {page} from "../../lib/report/page.ts";
import {provenance} from "../../lib/report/provenance.ts";
import {tableSection} from "../../lib/report/tableSection.ts";
import {draw} from "../../scripts/draw.ts";
import {pageScript, styleHash} from "../../scripts/io/policyHash.ts";
import {demoFigures} from "./demoFigures.ts";

/** A name that would do harm if a page obeyed it. */
export const hostileName = `"><img src=x onerror="document.title='obeyed'"></script><script>document.title='obeyed'</script>\u2028`;

const place = {currency: "£", period: "2026-10"};

/** A page with everything a report can have, of an invented workshop and with a hostile supplier in it. Returns its text. */
export function demoPage(): string {
  const [first, second, third] = demoFigures.map((figure, i) => ({
    figure,
    drawn: figureHtml(figure, draw(figure), {
      ...place,
      number: i + 1,
      notebook: {question: "What is the monthly yield, by hand?"}
    })
  }));
  return page({
    title: "Yield in October 2026",
    subtitle: "Northgate Cues · squares to shafts, 1 to 31 October 2026, data to 31 October 2026",
    lang: "en-GB",
    styleHash,
    script: pageScript,
    others: [
      {href: "index.html", label: "All reports"},
      {href: "suppliers.html", label: "Suppliers"},
      {href: "season.html", label: "Next season"}
    ],
    lead: [
      "Of every 100 ash squares bought, 61 become finished shafts (57 to 65); 9 of the 1 284 are still too young to say.",
      "Drying is the largest loss: 16 of 100 squares, two thirds of them to warp in the first rest.",
      "October’s discards, 11 of 148 pieces looked at, are within what chance alone gives.",
      "Alder Lane’s ash is tighter than Elverstone’s by 48 % (35 to 58 %)."
    ],
    summary: keyFigures(
      [
        {
          label: "Yield of ash, all lots",
          value: 0.612,
          unit: "fraction",
          interval: {low: 0.571, high: 0.652},
          n: "1 284 squares"
        },
        {
          label: "Discards in October",
          value: 7.4,
          unit: "per 100",
          interval: {low: 4.2, high: 12.8},
          change: "down 1.1 on September",
          n: "148 pieces"
        },
        {
          label: "Cost of a finished shaft",
          value: 2215,
          unit: "money",
          interval: {low: 2043, high: 2419},
          note: "carriage included"
        },
        {label: "Ready to turn", value: 212, unit: "count", note: "of 640 resting"}
      ],
      place
    ),
    sections: [
      {
        id: "where-wood-goes",
        heading: "Drying costs more wood than turning does",
        parts: demoFigures.slice(0, 1).map(({id}) => ({id, heading: "Where 100 squares go"})),
        body: [
          html`<p>A square bought in January is not a finished shaft before August, so the share finished so far would count
everything on the rack as lost. The figure follows each square from the day it was bought, and lets those still resting
speak only for the weeks they have been seen.</p>\n`,
          first!.drawn
        ]
      },
      {
        id: "lots",
        heading: "The March lots lost twice their share to warp",
        body: [
          html`<p>Lots are sorted by the day they were bought. A yield stands beside the pieces that have yet to show theirs.</p>\n`,
          tableSection(
            {
              id: "lots-table",
              caption: "Lots by day of purchase",
              columns: [
                {key: "lot", heading: "Lot", unit: "text"},
                {key: "day", heading: "Bought", unit: "date"},
                {key: "supplier", heading: "Supplier", unit: "text"},
                {key: "bought", heading: "Squares", unit: "count"},
                {key: "stock", heading: "In stock", unit: "count"},
                {key: "yield", heading: "Yield expected", unit: "fraction", low: "low", high: "high"},
                {key: "cost", heading: "Cost of a shaft", unit: "money"}
              ],
              rows: [
                {
                  lot: "A-031",
                  day: "2026-01-16",
                  supplier: "Alder Lane Yard",
                  bought: 48,
                  stock: 2,
                  yield: 0.667,
                  low: 0.52,
                  high: 0.781,
                  cost: 19.41
                },
                {
                  lot: "B-017",
                  day: "2026-03-04",
                  supplier: "Brook & Fell",
                  bought: 60,
                  stock: 9,
                  yield: 0.433,
                  low: 0.312,
                  high: 0.561,
                  cost: 27.9
                },
                {
                  lot: "H-001",
                  day: "2026-03-11",
                  supplier: hostileName,
                  bought: 12,
                  stock: 12,
                  yield: undefined,
                  low: undefined,
                  high: undefined,
                  cost: undefined
                },
                {
                  lot: "E-009",
                  day: "2026-05-20",
                  supplier: "Elverstone Sawmill and Timber Merchants",
                  bought: 1120,
                  stock: 88,
                  yield: 0.598,
                  low: 0.09,
                  high: 0.66,
                  cost: 121.05
                }
              ],
              note: "Yield is the share of squares that become finished shafts, with its 95 % interval."
            },
            place
          )
        ]
      },
      {
        id: "density",
        heading: "Two yards, one mean, very different spread",
        parts: demoFigures.slice(1).map(({id}, i) => ({id, heading: ["Spread by supplier", "Every square"][i]!})),
        body: [second!.drawn, third!.drawn]
      },
      {
        id: "record",
        heading: "Three things in the record want mending",
        body: [
          faultList([
            ...[14, 18, 22, 31, 40, 41, 57, 60].map((row) => ({
              severity: "refused" as const,
              file: "squares.csv",
              row,
              cell: `H${row}`,
              heading: "mass_g",
              value: "6,5o",
              wanted: "a number",
              mend: "Letter o for zero? Type the mass in grams."
            })),
            {
              severity: "doubt",
              file: "events.csv",
              row: 9,
              wanted: "after the purchase",
              mend: "Check both dates.",
              value: hostileName
            },
            {severity: "blocking", file: "lots.csv", wanted: "there", mend: "Put it into the folder."}
          ])
        ]
      },
      {
        id: "method",
        heading: "How this is worked out",
        body: [
          methods([
            {
              id: "how-yield",
              heading: "Yield",
              text: "Each square is followed from the day it was bought.",
              formula: "yield = Σ S(d−1) · passed(d) ÷ there(d)",
              guide: "yields"
            }
          ])
        ]
      }
    ],
    footer: html`${html`<p class="note">Squares, dust and finishes can harm: follow the rules of your country and the makers’ sheets.</p>\n`}${provenance(
      {
        files: [
          {
            name: "lots.csv",
            bytes: 1840,
            sha256: "0123456789abcdef".repeat(4),
            rowsRead: 19,
            rowsUsed: 19,
            rowsRefused: 0,
            firstDate: "2025-01-10",
            lastDate: "2026-09-18"
          },
          {
            name: "squares.csv",
            bytes: 98_211,
            sha256: "fedcba9876543210".repeat(4),
            rowsRead: 1292,
            rowsUsed: 1284,
            rowsRefused: 8,
            firstDate: "2025-01-10",
            lastDate: "2026-09-18"
          },
          {name: "workshop.json", bytes: 412, sha256: "00ff".repeat(16)}
        ],
        asOf: "2026-10-31",
        version: "square-to-shaft 0.1.0",
        command: "npm run monthly -- --book sample-data --as-of 2026-10-31",
        settings: [{name: "Interval", value: "95 %"}]
      }
    )}`
  });
}
