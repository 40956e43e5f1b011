import * as Plot from "@observablehq/plot";
import type {DemandForecast} from "../buying/demandForecast.ts";
import {shown} from "../report/quantity.ts";
import {slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** Shafts ordered by month and the curve that is carried on to the season's end. */
export function demandMonths(forecast: DemandForecast): Figure {
  const {species, months, mean, low, high, open, to} = forecast;
  const peak = months.toSorted((a, b) => b.expected - a.expected)[0]!;
  const known = months.filter(({ordered}) => ordered !== undefined);
  const most = known.toSorted((a, b) => b.ordered! - a.ordered!)[0]!;
  const growing =
    (forecast.growthLow ?? 0) > 0 ? " and growing" : (forecast.growthHigh ?? 0) < 0 ? " and shrinking" : "";
  return {
    id: `demand-${slug(species)}`,
    title: `About ${shown(mean + open, "count")} ${species} shafts wanted${growing}`,
    subtitle: `${species} shafts ordered, by month, with the fitted curve carried on to ${to}`,
    alt: `Bars of ${known.length} months, highest ${most.ordered} shafts in ${most.month}. The curve of trend and season is highest with ${shown(peak.expected, "number")} a month in ${peak.month}. To come until ${to}: ${shown(mean, "count")} shafts, in 95 of 100 cases ${low} to ${high}.`,
    method: "how-demand",
    notebook: "04",
    note: `Bars: ordered. Line: expected by trend and season. Still to come ${shown(mean, "count")}, in 95 of 100 cases ${low} to ${high}, beside ${open} ordered and not yet served.`,
    key: [
      {label: "ordered", color: "var(--c2)"},
      {label: "expected", color: "var(--c4)"}
    ],
    table: {
      id: `demand-${slug(species)}-data`,
      caption: `${species} shafts ordered and expected, by month`,
      columns: [
        {key: "month", heading: "Month", unit: "date"},
        {key: "ordered", heading: "Ordered", unit: "count"},
        {key: "expected", heading: "Expected", unit: "number"}
      ],
      rows: months.map((row) => ({...row}))
    },
    plot: ({narrow}) => {
      const domain = months.map(({month}) => month);
      const januaries = domain.filter((month) => month.endsWith("-01")).filter((_, i) => !narrow || i % 2 === 0);
      return {
        height: narrow ? 200 : 240,
        x: {
          type: "band",
          domain,
          label: null,
          ticks: januaries,
          tickFormat: (month: string) => month.slice(0, 4),
          padding: 0.15
        },
        y: {label: "↑ shafts a month", grid: true, zero: true, nice: true, ticks: 5},
        marks: [
          Plot.barY(known, {
            x: "month",
            y: "ordered",
            fill: "var(--c2)",
            title: ({month, ordered}) => `${month}: ${ordered} ordered`
          }),
          Plot.lineY(months, {x: "month", y: "expected", stroke: "var(--c4)", strokeWidth: 2}),
          Plot.ruleY([0], {stroke: "var(--ink)"})
        ]
      };
    }
  };
}
