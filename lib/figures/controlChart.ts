import type {DiscardChart} from "../defects/discardChart.ts";
import {shown} from "../report/quantity.ts";
import type {Figure} from "./figure.ts";

/** Share of handled pieces thrown out, month by month, within the limits of chance. At most the last three years are drawn. */
export function controlChart({months, meanFraction, sigmaZ}: DiscardChart, {period}: {period: string}): Figure {
  const recent = months.slice(-36);
  const filled = recent.filter(({fraction}) => fraction !== undefined);
  const outside = filled.filter((row) => row.outside);
  const worst = filled.toSorted((a, b) => b.fraction! - a.fraction!)[0];
  const points = filled.map((row) => ({
    ...row,
    percent: 100 * row.fraction!,
    lowPercent: 100 * row.low!,
    highPercent: 100 * row.high!,
    title: `${row.month}: ${row.discarded} of ${row.decided} thrown out, ${shown(row.fraction, "fraction")}`
  }));
  const mean = meanFraction === undefined ? [] : [100 * meanFraction];
  return {
    id: "discards-by-month",
    title:
      outside.length === 0
        ? "No month stands out beyond chance"
        : `${outside.length === 1 ? "One month lies" : `${outside.length} months lie`} outside the limits of chance`,
    subtitle: `Thrown out, % of pieces handled in the month (turned on, discarded or diverted); all species, ${period}`,
    alt: worst
      ? `Line of ${filled.length} months. Mean ${shown(meanFraction, "fraction")}; highest ${shown(worst.fraction, "fraction")} in ${worst.month}. Outside the limits: ${outside.length === 0 ? "none" : outside.map(({month}) => month).join(", ")}.`
      : "No piece has been handled yet, so there is no month to show.",
    method: "how-months",
    note: `The grey band is where a month lies unless something has changed: as wide as chance alone for the pieces handled${sigmaZ !== undefined && sigmaZ > 1 ? `, widened ${shown(sigmaZ, "number")} times because lots differ` : ""}. Diamonds lie outside.`,
    table: {
      id: "discards-by-month-data",
      caption: "Pieces handled and thrown out, by month",
      columns: [
        {key: "month", heading: "Month", unit: "date"},
        {key: "decided", heading: "Pieces handled", unit: "count"},
        {key: "discarded", heading: "Thrown out", unit: "count"},
        {key: "fraction", heading: "Share thrown out", unit: "fraction"},
        {key: "low", heading: "Lower limit", unit: "fraction"},
        {key: "high", heading: "Upper limit", unit: "fraction"}
      ],
      rows: recent.map((row) => ({...row, outside: row.outside ? "outside" : ""}))
    },
    plot: ({narrow}, Plot) => {
      const domain = recent.map(({month}) => month);
      const step = narrow ? 12 : 6;
      return {
        height: narrow ? 220 : 260,
        x: {
          type: "point",
          domain,
          label: null,
          ticks: domain.filter((_, i) => (domain.length - 1 - i) % step === 0),
          grid: false
        },
        y: {label: "↑ % thrown out", zero: true, nice: true, grid: true, ticks: 5},
        marks: [
          Plot.areaY(points, {
            x: "month",
            y1: "lowPercent",
            y2: "highPercent",
            fill: "var(--c0)",
            fillOpacity: 0.18,
            curve: "step"
          }),
          Plot.ruleY(mean, {stroke: "var(--muted)", strokeDasharray: "4,3"}),
          Plot.ruleY([0], {stroke: "var(--ink)"}),
          Plot.lineY(points, {x: "month", y: "percent", stroke: "var(--c1)", strokeWidth: 1.5}),
          Plot.dot(
            points.filter((row) => !row.outside),
            {x: "month", y: "percent", r: 2.5, fill: "var(--c1)", title: "title"}
          ),
          Plot.dot(
            points.filter((row) => row.outside),
            {x: "month", y: "percent", r: 5, symbol: "diamond", fill: "var(--c3)", title: "title"}
          ),
          Plot.text(
            points.filter((row) => row.outside),
            {
              x: "month",
              y: "percent",
              text: ({month, discarded, decided}) => `${month}: ${discarded} of ${decided}`,
              dy: -13,
              fill: "var(--ink)",
              stroke: "var(--ground)",
              strokeWidth: 4
            }
          ),
          Plot.text(mean, {
            frameAnchor: "right",
            y: (percent) => percent,
            text: (percent) => `mean ${shown(percent, "percent")}`,
            textAnchor: "start",
            dx: 4,
            fill: "var(--muted)"
          })
        ]
      };
    }
  };
}
