import * as Plot from "@observablehq/plot";
import type {LotDensity} from "../density/lotDensities.ts";
import {shown} from "../report/quantity.ts";
import {deviation} from "../stats/deviation.ts";
import {mean} from "../stats/mean.ts";
import {slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** A lot of fewer squares is drawn hollow: its mean says little. */
const fewSquares = 5;
/** Days left free at the ends of the time axis. */
const edgeDays = 45;
/** A supplier of fewer lots has no say in the title. */
const fewLots = 4;

/** The density of each lot of one species by the day it was bought, a panel a supplier on common axes, in the order of the suppliers given. */
export function supplierLots(
  lots: readonly LotDensity[],
  {
    species,
    suppliers,
    window,
    period
  }: {species: string; suppliers: readonly string[]; window: {low: number; high: number}; period: string}
): Figure {
  const own = lots.filter((row) => row.species === species && suppliers.includes(row.supplier));
  const panels = suppliers.map((supplier) => {
    const rows = own.filter((row) => row.supplier === supplier);
    return {supplier, rows, mean: mean(rows.map(({meanKgM3}) => meanKgM3))};
  });
  const spreads = panels
    .filter(({rows}) => rows.length >= fewLots)
    .map(({supplier, rows}) => ({supplier, sd: deviation(rows.map(({meanKgM3}) => meanKgM3))!}))
    .toSorted((a, b) => a.sd - b.sd);
  const [lightest, heaviest] = extremes(own);
  const ends = own.flatMap(({quarterKgM3, threeQuarterKgM3}) => [quarterKgM3, threeQuarterKgM3]);
  const counted = own.length === 1 ? "One lot" : `${own.length} lots`;
  const days = own.map(({boughtOn}) => boughtOn).sort();
  const [low, high] = [Math.min(...ends, window.low) - 15, Math.max(...ends, window.high) + 15];
  const said = ({supplier, lot, meanKgM3}: LotDensity) => `lot ${lot} of ${supplier} with ${shown(meanKgM3, "kg/m³")}`;
  return {
    id: `lots-${slug(species)}`,
    title:
      panels.length === 1 && own.length > 0
        ? `${counted} of ${species}, mean ${shown(panels[0]!.mean, "kg/m³")}`
        : spreads.length > 1
          ? `Lots of ${spreads[0]!.supplier} differ least from each other`
          : "Too few lots to see how they differ",
    subtitle: `Mean density of each lot of ${species}, kg/m³ at 12 % moisture, by day of purchase; a panel a supplier, tightest first, ${period}`,
    alt:
      lightest && heaviest
        ? `${panels.length} panels of dots over time, ${own.length} lots. Lightest ${said(lightest)}, heaviest ${said(heaviest)}. Window ${shown(window.low, "count")} to ${shown(window.high, "kg/m³")}.`
        : "No data: no square has been measured yet.",
    note: `Dot: a lot's mean, hollow with fewer than ${fewSquares} squares; line: the middle half of its squares; shaded: the window; dashed: the mean of the supplier's lots.`,
    method: "how-density",
    notebook: "02",
    table: {
      id: `lots-${slug(species)}-data`,
      caption: `Density of ${species} at 12 % moisture, lot by lot`,
      columns: [
        {key: "supplier", heading: "Supplier", unit: "text"},
        {key: "lot", heading: "Lot", unit: "text"},
        {key: "boughtOn", heading: "Bought on", unit: "date"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "meanKgM3", heading: "Mean", unit: "kg/m³"},
        {key: "quarterKgM3", heading: "Lower quartile", unit: "kg/m³"},
        {key: "threeQuarterKgM3", heading: "Upper quartile", unit: "kg/m³"}
      ],
      rows: panels.flatMap(({rows}) => rows.map((row) => ({...row})))
    },
    plot: ({narrow}) => {
      const across = Math.min(suppliers.length, narrow || suppliers.length === 4 ? 2 : 3) || 1;
      const place = (supplier: string) => {
        const i = suppliers.indexOf(supplier);
        return {fx: i % across, fy: Math.floor(i / across)};
      };
      const placed = own.map((row) => ({...row, ...place(row.supplier), day: new Date(row.boughtOn)}));
      const frames = panels.map(({supplier, mean: level}) => ({supplier, level, ...place(supplier)}));
      const facet = {fx: "fx", fy: "fy"} as const;
      const down = Math.max(1, Math.ceil(suppliers.length / across));
      return {
        marginTop: 38,
        height: 64 + down * (narrow ? 120 : 130),
        x: {
          type: "utc",
          domain: [dayAt(days[0], -edgeDays), dayAt(days.at(-1), edgeDays)],
          label: null,
          ticks: "year",
          tickFormat: (day: Date) => `’${String(day.getUTCFullYear()).slice(2)}`
        },
        y: {label: "↑ kg/m³", domain: [low, high], grid: true, ticks: 4},
        fx: {axis: null, domain: Array.from({length: across}, (_, i) => i), padding: 0.06},
        fy: {axis: null, domain: Array.from({length: down}, (_, i) => i), padding: 0.22},
        marks: [
          Plot.rect(frames, {
            ...facet,
            y1: () => window.low,
            y2: () => window.high,
            fill: "var(--c2)",
            fillOpacity: 0.13
          }),
          Plot.ruleY(
            frames.filter(({level}) => level !== undefined),
            {...facet, y: "level", stroke: "var(--muted)", strokeDasharray: "3,3"}
          ),
          Plot.ruleX(placed, {
            ...facet,
            x: "day",
            y1: "quarterKgM3",
            y2: "threeQuarterKgM3",
            stroke: "var(--c1)",
            strokeOpacity: 0.45
          }),
          ...[false, true].map((isFew) =>
            Plot.dot(
              placed.filter(({squares}) => squares < fewSquares === isFew),
              {
                ...facet,
                x: "day",
                y: "meanKgM3",
                r: 2.5,
                fill: isFew ? "var(--ground)" : "var(--c1)",
                stroke: "var(--c1)",
                title: ({supplier, lot, boughtOn, squares, meanKgM3}: LotDensity) =>
                  `${supplier} ${lot}, ${boughtOn}: mean ${shown(meanKgM3, "kg/m³")} of ${squares}`
              }
            )
          ),
          Plot.text(frames, {
            ...facet,
            text: "supplier",
            frameAnchor: "top-left",
            dy: -12,
            fontWeight: 600,
            fill: "var(--ink)"
          })
        ]
      };
    }
  };
}

/** A day as Plot wants it, so many days on; without one, the beginning of days. */
function dayAt(day: string | undefined, on: number): Date {
  return new Date(Date.parse(day ?? "1970-01-01") + on * 86_400_000);
}

function extremes(rows: readonly LotDensity[]): [LotDensity | undefined, LotDensity | undefined] {
  const sorted = rows.toSorted((a, b) => a.meanKgM3 - b.meanKgM3);
  return [sorted[0], sorted.at(-1)];
}
