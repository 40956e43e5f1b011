import {shown} from "../report/quantity.ts";
import type {MoistureLoss} from "../seasoning/moistureLosses.ts";
import type {Figure} from "./figure.ts";

/** Moisture at the beginning and at the end of each rest, and what the store's air would bring it to. */
export function moistureSteps(
  rows: readonly MoistureLoss[],
  {stages, equilibriumPct, period}: {stages: readonly string[]; equilibriumPct?: number | undefined; period: string}
): Figure {
  const known = rows.filter(({startPct, endPct}) => startPct !== undefined && endPct !== undefined);
  const most = known.toSorted((a, b) => b.lossPct! - a.lossPct!)[0];
  const panels = [...new Set(known.map(({species}) => species))];
  return {
    id: "moisture-by-rest",
    title: !most
      ? "No rest has been weighed at both ends"
      : known.some(({stage}) => stage !== most.stage)
        ? `Most water leaves at the ${most.stage} rest`
        : `Water lost at the ${most.stage} rest; no other known`,
    subtitle: `Mean moisture content, % of oven-dry mass, at the beginning and end of each rest; by species, ${period}`,
    alt:
      known.length > 0
        ? `Lines from start to end of each rest. Most is lost by ${most!.species} at ${most!.stage}, ${shown(most!.lossPct, "percent")} of dry mass. ${known.map(({species, stage, startPct, endPct}) => `${species} ${stage}: ${shown(startPct, "percent")} to ${shown(endPct, "percent")}`).join("; ")}.`
        : "No data: no piece has been weighed twice during one rest yet.",
    note: `From mass: the dry wood of a piece does not change while it rests. The meter's error shifts both ends alike.${equilibriumPct === undefined ? "" : ` Dashed: ${shown(equilibriumPct, "percent")}, to which the store's air of the last 60 days tends.`}`,
    method: "how-moisture",
    key: [
      {label: "at the beginning", color: "var(--c2)"},
      {label: "at the end", color: "var(--c1)"}
    ],
    table: {
      id: "moisture-by-rest-data",
      caption: "Moisture lost at each rest, with the range of 95 % of the pieces, and mass taken off by each turning",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "stage", heading: "Rest", unit: "text"},
        {key: "pieces", heading: "Pieces weighed twice", unit: "count"},
        {key: "restDays", heading: "Time between, median", unit: "days"},
        {key: "startPct", heading: "Moisture at the beginning", unit: "percent"},
        {key: "endPct", heading: "Moisture at the end", unit: "percent"},
        {
          key: "lossPct",
          heading: "Points lost",
          unit: "percent",
          low: "lossLow",
          high: "lossHigh"
        },
        {key: "waterG", heading: "Lost as water", unit: "g"},
        {key: "turnedOffG", heading: "Taken off by the next turning", unit: "g"}
      ],
      rows: rows.map((row) => ({...row}))
    },
    plot: ({narrow}, Plot) => ({
      height: 70 + panels.length * stages.length * 24,
      x: {label: "moisture content, % →", nice: true, grid: true, ticks: narrow ? 4 : 8},
      y: {label: null, domain: [...stages], type: "band"},
      fy: {label: null, domain: panels, padding: 0.12},
      marks: [
        ...(equilibriumPct === undefined
          ? []
          : [Plot.ruleX([equilibriumPct], {stroke: "var(--muted)", strokeDasharray: "4,3"})]),
        Plot.ruleY(known, {
          fy: "species",
          y: "stage",
          x1: "endPct",
          x2: "startPct",
          stroke: "var(--c0)",
          strokeWidth: 2
        }),
        Plot.dot(known, {
          fy: "species",
          y: "stage",
          x: "startPct",
          r: 4,
          symbol: "diamond",
          fill: "var(--c2)",
          title: ({stage, startPct}) => `${stage}: ${shown(startPct, "percent")} at the beginning`
        }),
        Plot.dot(known, {
          fy: "species",
          y: "stage",
          x: "endPct",
          r: 4,
          fill: "var(--c1)",
          title: ({stage, endPct}) => `${stage}: ${shown(endPct, "percent")} at the end`
        })
      ]
    })
  };
}
