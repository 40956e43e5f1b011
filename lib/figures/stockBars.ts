import type {StockRow} from "../seasoning/stockOnHand.ts";
import {sum} from "../stats/numbers.ts";
import type {Figure} from "./figure.ts";

/** Pieces in the store by stage and species, and how many have served their least rest. */
export function stockBars(rows: readonly StockRow[], {asOf}: {asOf: string}): Figure {
  const total = sum(rows.map(({pieces}) => pieces));
  const fullest = rows.toSorted((a, b) => b.pieces - a.pieces)[0];
  const emptiest = rows.toSorted((a, b) => a.pieces - b.pieces)[0];
  const said = ({species: name, stage, pieces}: StockRow) => `${name} ${stage} with ${pieces}`;
  const species = [...new Set(rows.map((row) => row.species))];
  const stages = [...new Set(rows.map(({stage}) => stage))];
  return {
    id: "stock-on-hand",
    title: fullest && total > 0 ? `Most lie as ${fullest.species} at the ${fullest.stage} stage` : "The store is empty",
    subtitle: `Pieces in the store by stage and species on ${asOf}; finished: shafts not delivered`,
    alt:
      total > 0
        ? `Bars by stage and species. Most pieces: ${said(fullest!)}; fewest: ${said(emptiest!)}. In all ${total} pieces, ${sum(rows.map(({rested}) => rested))} with their rest served.`
        : "No data: there is no piece in the store on this day.",
    method: "how-stock",
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
    plot: ({narrow}, Plot) => {
      const parts = rows.flatMap(({species: fy, stage, pieces, rested}) =>
        [
          {fy, stage, part: "rest served", count: rested},
          {fy, stage, part: "still resting", count: pieces - rested}
        ].map((part) => ({...part, title: `${fy}, ${stage}: ${part.count} of ${pieces}, ${part.part}`}))
      );
      const columns = [
        {heading: "pieces", dx: narrow ? 46 : 60, of: ({pieces}: StockRow) => pieces},
        {heading: narrow ? "rested" : "rest served", dx: narrow ? 92 : 140, of: ({rested}: StockRow) => rested},
        ...(narrow
          ? []
          : [{heading: "longest there, days", dx: 260, of: ({longestDays}: StockRow) => longestDays || "–"}])
      ];
      return {
        height: 40 + species.length * (34 + stages.length * 22),
        marginTop: 40,
        marginBottom: 8,
        marginRight: columns.at(-1)!.dx + 6,
        x: {axis: null, zero: true},
        y: {label: null, domain: stages, type: "band", padding: 0.25, tickSize: 0},
        fy: {axis: null, domain: species, padding: 0.22},
        color: {domain: ["rest served", "still resting"], range: ["var(--c1)", "var(--c2)"]},
        marks: [
          Plot.barX(
            parts,
            Plot.stackX(
              {order: ["rest served", "still resting"]},
              {fy: "fy", y: "stage", x: "count", fill: "part", stroke: "var(--ground)", title: "title"}
            )
          ),
          Plot.text(species, {
            fy: (name) => name,
            text: (name) => name,
            frameAnchor: "top-left",
            dy: -14,
            fontWeight: 600,
            fill: "var(--ink)"
          }),
          ...columns.flatMap(({heading, dx, of}) => [
            Plot.text(rows, {
              fy: "species",
              y: "stage",
              text: (row: StockRow) => String(of(row)),
              frameAnchor: "right",
              textAnchor: "end",
              dx,
              fill: "var(--ink)"
            }),
            Plot.text(species, {
              fy: (name) => name,
              text: () => heading,
              frameAnchor: "top-right",
              textAnchor: "end",
              dx,
              dy: -14,
              fill: "var(--muted)"
            })
          ]),
          Plot.ruleX([0], {stroke: "var(--ink)"})
        ]
      };
    }
  };
}
