import type {DemandForecast} from "../buying/demandForecast.ts";
import {shown, shownInterval} from "../report/quantity.ts";
import {capital, slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** Shafts ordered by month and the curve that is carried on to the season's end. */
export function demandMonths(forecast: DemandForecast): Figure {
  const {species, months, mean, low, high, open, to} = forecast;
  const peak = months.toSorted((a, b) => b.expected - a.expected)[0]!;
  const known = months.filter(({ordered}) => ordered !== undefined);
  const most = known.toSorted((a, b) => b.ordered! - a.ordered!)[0]!;
  const {growthLow, growthHigh} = forecast;
  return {
    id: `demand-${slug(species)}`,
    title:
      growthLow === undefined || growthHigh === undefined
        ? "Too few months to tell whether orders grow"
        : growthLow > 0
          ? `Orders grow ${shownInterval({low: growthLow, high: growthHigh}, "fraction")} a year`
          : growthHigh < 0
            ? `Orders shrink ${shownInterval({low: -growthHigh, high: -growthLow}, "fraction")} a year`
            : "No growth of orders beyond chance",
    subtitle: `${capital(species)} shafts ordered, by month, and expected to ${to}; ${known.length} whole months of orders`,
    alt: `Bars of ${known.length} months, highest ${most.ordered} shafts in ${most.month}. The curve of trend and season is highest with about ${shown(peak.expected, "count")} in ${peak.month}. To come until ${to}: ${shown(mean, "count")} shafts, in 95 of 100 cases ${low} to ${high}.`,
    method: "how-demand",
    notebook: "04",
    note: `The line carries on trend and season as far as the months bear them out. Still to come ${shown(mean, "count")}, in 95 of 100 cases ${shown(low, "count")} to ${shown(high, "count")}, beside ${shown(open, "count")} ordered and not yet served.${growthLow === undefined ? "" : " Growth: 95\u00a0% interval."}`,
    key: [
      {label: "ordered", color: "var(--c2)"},
      {label: "expected", color: "var(--c4)"}
    ],
    table: {
      id: `demand-${slug(species)}-data`,
      caption: `${capital(species)} shafts ordered and expected, by month`,
      columns: [
        {key: "month", heading: "Month", unit: "date"},
        {key: "ordered", heading: "Ordered", unit: "count"},
        {key: "expected", heading: "Expected", unit: "number"}
      ],
      rows: months.map((row) => ({...row}))
    },
    plot: ({narrow}, Plot) => {
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
          Plot.dot(
            months.filter(({ordered}) => ordered === undefined),
            {
              x: "month",
              y: "expected",
              r: 2,
              fill: "var(--c4)",
              title: ({month, expected}) => `${month}: about ${shown(expected, "count")} expected`
            }
          ),
          Plot.ruleY([0], {stroke: "var(--ink)"})
        ]
      };
    }
  };
}
