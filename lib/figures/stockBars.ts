import * as Plot from "@observablehq/plot";
import type {StockRow} from "../seasoning/stockOnHand.ts";
import type {Figure} from "./figure.ts";

/** Pieces in the store by stage and species, and how many have served their least rest. */
export function stockBars(rows: readonly StockRow[], {asOf}: {asOf: string}): Figure {
  const total = rows.reduce((sum, {pieces}) => sum + pieces, 0);
  const fullest = rows.toSorted((a, b) => b.pieces - a.pieces)[0];
  const species = [...new Set(rows.map((row) => row.species))];
  const stages = [...new Set(rows.map(({stage}) => stage))];
  return {
    id: "stock-on-hand",
    title:
      fullest && total > 0
        ? `${total} pieces in the store, most as ${fullest.species} ${fullest.stage}`
        : "The store is empty",
    subtitle: `Pieces in the store by stage and species on ${asOf}; finished: shafts not delivered`,
    alt:
      total > 0
        ? `Bars by stage. ${rows.map((row) => `${row.species} ${row.stage}: ${row.pieces}, ${row.rested} rested`).join("; ")}.`
        : "No data: there is no piece in the store on this day.",
    note: "Left part: the least rest of the stage is served (finished shafts need none). Whether a piece is ready also depends on its weight being steady.",
    key: [
      {label: "rest served", color: "var(--c1)"},
      {label: "still resting", color: "var(--c2)"}
    ],
    table: {
      id: "stock-on-hand-data",
      caption: `Pieces in the store by stage and species, ${asOf}`,
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "stage", heading: "Stage", unit: "text"},
        {key: "pieces", heading: "Pieces", unit: "count"},
        {key: "rested", heading: "Least rest served", unit: "count"},
        {key: "restDays", heading: "Least rest", unit: "days"},
        {key: "longestDays", heading: "Longest there", unit: "days"}
      ],
      rows: rows.map((row) => ({...row}))
    },
    plot: ({narrow}) => {
      const parts = rows.flatMap(({species: fy, stage, pieces, rested}) => [
        {fy, stage, part: "rest served", count: rested},
        {fy, stage, part: "still resting", count: pieces - rested}
      ]);
      return {
        height: 64 + species.length * stages.length * 22,
        x: {label: "pieces →", zero: true, nice: true, grid: true, ticks: narrow ? 4 : 8},
        y: {label: null, domain: stages, type: "band", padding: 0.25},
        fy: {label: null, domain: species, padding: 0.12},
        color: {domain: ["rest served", "still resting"], range: ["var(--c1)", "var(--c2)"]},
        marks: [
          Plot.barX(
            parts,
            Plot.stackX(
              {order: ["rest served", "still resting"]},
              {fy: "fy", y: "stage", x: "count", fill: "part", stroke: "var(--ground)"}
            )
          ),
          Plot.text(rows, {
            fy: "species",
            y: "stage",
            x: "pieces",
            text: ({pieces}) => (pieces > 0 ? String(pieces) : ""),
            textAnchor: "start",
            dx: 4,
            fill: "var(--ink)"
          }),
          Plot.ruleX([0], {stroke: "var(--ink)"})
        ]
      };
    }
  };
}
