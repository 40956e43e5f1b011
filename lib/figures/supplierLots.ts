import {type DensityDrift, densityDrift} from "../density/densityDrift.ts";
import type {LotDensity} from "../density/lotDensities.ts";
import {shown} from "../report/quantity.ts";
import {textWidth} from "../report/textWidth.ts";
import {mean} from "../stats/mean.ts";
import {slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";
import {fitText, fitTitle} from "./fitText.ts";

/** A lot of fewer squares is drawn hollow: its mean says little. */
const fewSquares = 5;
/** Days left free at the ends of the time axis. */
const edgeDays = 45;
/** A change that lots which stay alike show as clearly more often than this is none. */
const chance = 0.05;

/**
 * The density of each lot of one species by the day it was bought, a panel a supplier on common axes, in the order of the suppliers given.
 * The title says whose density changed with time beyond chance (`densityDrift`, over all the lots given), or that nobody's did.
 */
export function supplierLots(
  lots: readonly LotDensity[],
  {
    species,
    suppliers,
    window,
    period,
    drifts: all = densityDrift(lots)
  }: {
    species: string;
    suppliers: readonly string[];
    window: {low: number; high: number};
    period: string;
    /** Those of all the lots, where they are known already. */
    drifts?: readonly DensityDrift[];
  }
): Figure {
  const own = lots.filter((row) => row.species === species && suppliers.includes(row.supplier));
  const panels = suppliers.map((supplier) => {
    const rows = own.filter((row) => row.supplier === supplier);
    return {supplier, rows, mean: mean(rows.map(({meanKgM3}) => meanKgM3))};
  });
  const drifts = all.filter((row) => row.species === species && suppliers.includes(row.supplier));
  const changes = drifts.filter((row) => row.chance < chance);
  const [lightest, heaviest] = extremes(own);
  const ends = own.flatMap(({quarterKgM3, threeQuarterKgM3}) => [quarterKgM3, threeQuarterKgM3]);
  const days = own.map(({boughtOn}) => boughtOn).sort();
  const [low, high] = [Math.min(...ends, window.low) - 15, Math.max(...ends, window.high) + 15];
  const said = ({supplier, lot, meanKgM3}: LotDensity) => `lot ${lot} of ${supplier} with ${shown(meanKgM3, "kg/m³")}`;
  return {
    id: `lots-${slug(species)}`,
    title: titleOf(own.length, species, drifts, changes),
    subtitle: `Mean density of each lot of ${species}, kg/m³ at 12 % moisture, by day of purchase; a panel a supplier, tightest first, ${period}`,
    alt:
      lightest && heaviest
        ? `${panels.length === 1 ? "One panel" : `${panels.length} panels`} of dots over time, ${countedLots(own.length)}. Lightest ${said(lightest)}, heaviest ${said(heaviest)}. Window ${shown(window.low, "count")} to ${shown(window.high, "kg/m³")}.`
        : "No data: no square has been measured yet.",
    note: `Dot: a lot's mean, hollow with fewer than ${fewSquares} squares; line: the middle half of its squares; shaded: the window; dashed: the mean of the supplier's lots${changes.length > 0 ? ", before and after a change that is beyond chance" : ""}.`,
    method: "how-change",
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
    plot: ({width, narrow}, Plot) => {
      const across = narrow ? 1 : Math.min(suppliers.length, suppliers.length === 4 ? 2 : 3) || 1;
      const place = (supplier: string) => {
        const i = suppliers.indexOf(supplier);
        return {fx: i % across, fy: Math.floor(i / across)};
      };
      const placed = own.map((row) => ({...row, ...place(row.supplier), day: new Date(row.boughtOn)}));
      const [start, end] = [dayAt(days[0], -edgeDays), dayAt(days.at(-1), edgeDays)];
      const frames = panels.map(({supplier, rows}) => ({supplier, n: countedLots(rows.length), ...place(supplier)}));
      // A level of all its lots, or one before and one from the lot at which it changed.
      const levels = panels.flatMap(({supplier, mean: level}) => {
        const change = changes.find((row) => row.supplier === supplier);
        const turn = change ? new Date(change.fromDay) : end;
        return [
          {level: change?.beforeKgM3 ?? level, from: start, to: turn, ...place(supplier)},
          {level: change?.afterKgM3, from: turn, to: end, ...place(supplier)}
        ].filter((row) => row.level !== undefined);
      });
      const roomForName = (width - 60) / across - 18 - textWidth("100 lots", 12);
      const facet = {fx: "fx", fy: "fy"} as const;
      const down = Math.max(1, Math.ceil(suppliers.length / across));
      return {
        marginTop: 38,
        marginBottom: 26,
        height: 64 + down * (narrow ? 104 : 130),
        x: {
          type: "utc",
          domain: [start, end],
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
          Plot.ruleY(levels, {
            ...facet,
            y: "level",
            x1: "from",
            x2: "to",
            stroke: "var(--muted)",
            strokeDasharray: "3,3"
          }),
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
            text: ({supplier}: {supplier: string}) => fitText(supplier, roomForName, 12),
            frameAnchor: "top-left",
            dy: -12,
            fontWeight: 600,
            fill: "var(--ink)"
          }),
          Plot.text(frames, {...facet, text: "n", frameAnchor: "top-right", dy: -12, fill: "var(--muted)"})
        ]
      };
    }
  };
}

/** Whose density changed and with which lot, that nobody's did, or that there are too few lots to tell. */
function titleOf(
  lots: number,
  species: string,
  drifts: readonly DensityDrift[],
  changes: readonly DensityDrift[]
): string {
  const [first] = changes.toSorted((a, b) => a.chance - b.chance);
  if (lots === 0) return fitTitle(`No ${species} has been measured yet`, "Nothing has been measured yet");
  if (drifts.length === 0)
    return fitTitle(`Too few lots to tell whether ${species} changed`, "Too few lots to tell whether density changed");
  if (!first) {
    return drifts.length === 1
      ? fitTitle(`Density of this ${species} has not changed beyond chance`, "Density has not changed beyond chance")
      : fitTitle(
          `No supplier's ${species} density has changed beyond chance`,
          "No supplier's density has changed beyond chance"
        );
  }
  const {supplier, fromLot, beforeKgM3, afterKgM3} = first;
  const way = afterKgM3 > beforeKgM3 ? "heavier" : "lighter";
  return changes.length === 1
    ? fitTitle(
        `${supplier}'s ${species} became ${way} with lot ${fromLot}`,
        `One supplier's density changed beyond chance`
      )
    : fitTitle(
        `${changes.length} suppliers' ${species} changed beyond chance`,
        "Several densities changed beyond chance"
      );
}

function countedLots(lots: number): string {
  return lots === 1 ? "1 lot" : `${shown(lots, "count")} lots`;
}

/** A day as Plot wants it, so many days on; without one, the beginning of days. */
function dayAt(day: string | undefined, on: number): Date {
  return new Date(Date.parse(day ?? "1970-01-01") + on * 86_400_000);
}

function extremes(rows: readonly LotDensity[]): [LotDensity | undefined, LotDensity | undefined] {
  const sorted = rows.toSorted((a, b) => a.meanKgM3 - b.meanKgM3);
  return [sorted[0], sorted.at(-1)];
}
