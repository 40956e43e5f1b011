import {shown, type Unit} from "../report/quantity.ts";
import type {Column, Row} from "../report/table.ts";
import type {Figure} from "./figure.ts";

/** One month of one line; without a value it is a gap. */
export interface TrendMonth {
  series: string;
  month: string;
  /** In the trend's unit, as shown: percent for a fraction. */
  value: number | undefined;
  /** How many the value rests on. */
  n?: number;
}

/** A year of months, in words, lines and numbers. */
export interface Trend extends Pick<Figure, "id" | "title" | "subtitle"> {
  unit: Extract<Unit, "percent" | "count">;
  axis: string;
  /** What `n` counts: "squares". */
  of?: string;
  months: readonly string[];
  rows: readonly TrendMonth[];
  /** The limits of chance, month by month. */
  band?: readonly {month: string; low: number; high: number}[];
  note?: string;
  method?: string;
  table: {caption: string; columns: readonly Column[]; rows: readonly Row[]};
}

/** Colours of the lines, in the order of their names. */
const colors = ["var(--c1)", "var(--c4)", "var(--c5)", "var(--c3)", "var(--c2)"];

/** A share of fewer than so many is drawn hollow. */
export const fewBelow = 10;

/** Least space between the names at the ends of two lines, as a share of the axis. */
const nameGap = 0.17;

/** A small plot of the last months: a line a series with its name and last value at its end, from zero up. */
export function monthTrend({
  id,
  title,
  subtitle,
  unit,
  axis,
  of = "",
  months,
  rows,
  band = [],
  note,
  method,
  table
}: Trend): Figure {
  const all = [...new Set(rows.map(({series}) => series))];
  const names = all.slice(0, colors.length);
  const left =
    all.length > names.length ? `Not drawn, in the table only: ${all.slice(names.length).join(", ")}.` : undefined;
  const notes = [note, left].filter((one) => one !== undefined);
  const known = rows.filter(
    (row): row is TrendMonth & {value: number} => row.value !== undefined && names.includes(row.series)
  );
  const rests = ({n}: TrendMonth) => (n === undefined ? "" : ` of ${shown(n, "count")} ${of}`);
  const top = 1.12 * Math.max(0, ...known.map(({value}) => value), ...band.map((limit) => limit.high));
  return {
    id,
    title,
    subtitle,
    alt:
      known.length > 0
        ? [`Lines of ${months.length} months.`, ...names.flatMap((name) => inWords(name, known, unit))].join(" ")
        : "No data: nothing has happened in these months.",
    ...(notes.length > 0 && {note: notes.join(" ")}),
    ...(method !== undefined && {method}),
    table: {id: `${id}-data`, ...table},
    plot: ({narrow}, Plot) => ({
      height: 150,
      marginTop: 22,
      marginBottom: 26,
      x: {
        type: "point",
        domain: [...months],
        label: null,
        ticks: months.filter((_, i) => (months.length - 1 - i) % (narrow ? 6 : 3) === 0)
      },
      y: {label: `↑ ${axis}`, domain: [0, top === 0 ? 1 : top], grid: true, ticks: 3},
      marks: [
        Plot.areaY(band, {
          x: "month",
          y1: "low",
          y2: "high",
          fill: "var(--c0)",
          fillOpacity: 0.18,
          curve: "step"
        }),
        Plot.ruleY([0], {stroke: "var(--ink)"}),
        ...names.flatMap((name, i) => {
          const own = rows
            .filter(({series}) => series === name)
            .map((row) => ({...row, value: row.value ?? Number.NaN}));
          return [
            Plot.lineY(own, {x: "month", y: "value", stroke: colors[i]!, strokeWidth: 1.5}),
            Plot.dot(
              own.filter(({value}) => Number.isFinite(value)),
              {
                x: "month",
                y: "value",
                r: i % 2 === 1 ? 3 : 2.5,
                ...(i % 2 === 1 && {symbol: "diamond" as const}),
                stroke: colors[i]!,
                fill: {
                  value: ({n}: TrendMonth) => (n !== undefined && n < fewBelow ? "var(--ground)" : colors[i]!),
                  scale: null
                },
                title: (row: TrendMonth) =>
                  `${row.series === "" ? "" : `${row.series}, `}${row.month}: ${shown(row.value, unit)}${rests(row)}`
              }
            )
          ];
        }),
        Plot.text(endings(known, names, top), {
          frameAnchor: "right",
          y: "place",
          text: ({series, value}) => `${series === "" ? "" : `${series} `}${shown(value, unit)}`,
          textAnchor: "start",
          dx: 8,
          fill: "var(--ink)"
        })
      ]
    })
  };
}

/** First, last, highest and lowest month of a line. */
function inWords(name: string, known: readonly (TrendMonth & {value: number})[], unit: Trend["unit"]): string[] {
  const own = known.filter(({series}) => series === name).toSorted((a, b) => (a.month < b.month ? -1 : 1));
  const byValue = own.toSorted((a, b) => a.value - b.value);
  const said = (row: (typeof own)[number] | undefined) => row && `${shown(row.value, unit)} in ${row.month}`;
  if (own.length === 0) return [];
  const words = `first ${said(own[0])}, last ${said(own.at(-1))}, highest ${said(byValue.at(-1))}, lowest ${said(byValue[0])}.`;
  return [name === "" ? `F${words.slice(1)}` : `${name}: ${words}`];
}

/** The last value of each line and where its name stands: at that value, or above the name below it, all below the top. */
function endings<T extends {series: string; month: string; value: number}>(
  known: readonly T[],
  names: readonly string[],
  top: number
): (T & {place: number})[] {
  const last = names.flatMap(
    (name) => known.filter(({series}) => series === name).toSorted((a, b) => (a.month < b.month ? 1 : -1))[0] ?? []
  );
  let free = 0;
  const raised = last
    .toSorted((a, b) => a.value - b.value)
    .map((row) => {
      const place = Math.max(row.value, free);
      free = place + nameGap * top;
      return {...row, place};
    });
  // Names that would pass the top push those below them down.
  let ceiling = top;
  return raised
    .toReversed()
    .map((row) => {
      const place = Math.min(row.place, ceiling);
      ceiling = place - nameGap * top;
      return {...row, place};
    })
    .toReversed();
}
