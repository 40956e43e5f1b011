import {shown, shownInterval, type Unit} from "../report/quantity.ts";
import {textWidth} from "../report/textWidth.ts";
import type {Figure, KeyEntry} from "./figure.ts";
import {fitText} from "./fitText.ts";

/** One dot with its interval; rows of one label stand in one line, told apart by series. */
export interface IntervalDot {
  label: string;
  value: number | undefined;
  low: number | undefined;
  high: number | undefined;
  series?: string;
  /** Heads the lines of its group where the figure has several, e.g. a species. */
  panel?: string;
  /** How many it rests on, in words: stands at the end of its line. */
  n?: string;
  /** Shown on pointing. */
  title?: string;
}

export interface IntervalDots extends Omit<Figure, "plot" | "key"> {
  unit: Unit;
  currency?: string;
  axis: string;
  dots: readonly IntervalDot[];
  /** The series in order, first on top; without it one series. */
  series?: readonly string[];
  /** Zero is in view unless false. */
  zero?: boolean;
  /** A line to compare with. */
  reference?: {value: number; label: string};
}

const colors = ["var(--c1)", "var(--c4)", "var(--c5)", "var(--c2)", "var(--c3)", "var(--c0)"];
const symbols = ["circle", "diamond", "square", "triangle", "star", "cross"] as const;

/** Stands between label and panel in the name of a line; no text of a book holds it. */
const apart = "\u0000";

/** A figure of dots with interval lines, one line a label in the order given: for comparing rates, spreads and costs. A dot without interval is hollow. */
export function intervalDots({
  unit,
  currency = "",
  axis,
  dots,
  series = [""],
  zero = true,
  reference,
  ...rest
}: IntervalDots): Figure {
  const scale = (value: number | undefined) => (unit === "fraction" && value !== undefined ? 100 * value : value);
  const panels = [...new Set(dots.map(({panel = ""}) => panel))];
  const key: KeyEntry[] =
    series.length > 1 ? series.map((label, i) => ({label, color: colors[i % colors.length]!})) : [];
  const said = (dot: IntervalDot) => {
    const name = [dot.panel, dot.label, series.length > 1 ? dot.series : undefined].filter(Boolean).join(", ");
    const {low, high} = dot;
    const interval = low !== undefined && high !== undefined ? `, ${shownInterval({low, high}, unit, {currency})}` : "";
    return `${name}: ${shown(dot.value, unit, {currency})}${interval}`;
  };
  return {
    ...rest,
    ...(key.length > 0 && {key}),
    plot: ({width, narrow}, Plot) => {
      const rows = dots.map((dot) => {
        const {label, value, low, high, series: name = series[0]!, panel = "", title} = dot;
        return {
          label: `${label}${apart}${panel}`,
          isOpen: low === undefined,
          value: scale(value),
          low: scale(low),
          high: scale(high),
          series: series.indexOf(name),
          shift: (series.indexOf(name) - (series.length - 1) / 2) * 9,
          title: title ?? said(dot)
        };
      });
      const lines = panels.flatMap((panel) => [
        ...(panels.length > 1 ? [`${apart}${panel}`] : []),
        ...new Set(rows.filter(({label}) => label.endsWith(`${apart}${panel}`)).map(({label}) => label))
      ]);
      const heads = lines.filter((line) => line.startsWith(apart));
      // Where names are too long for a phone, what each line rests on is left to the table.
      const cut = (text: string) => fitText(text, width * (narrow ? 0.5 : 0.4), 12);
      const longest = (texts: readonly string[]) => Math.max(0, ...texts.map((text) => textWidth(text, 12)));
      const names = longest(dots.map(({label}) => label)) + longest(dots.map(({n = ""}) => n));
      const counts = (names > width / 2 ? [] : lines).flatMap((line) => {
        const dot = dots.find(({label, panel = "", n}) => n !== undefined && `${label}${apart}${panel}` === line);
        return dot ? [{line, n: dot.n!}] : [];
      });
      const height = 58 + lines.length * Math.max(22, 8 + 9 * series.length);
      const marks = series.flatMap((_, i) => {
        const own = rows.filter((row) => row.series === i && row.value !== undefined);
        const at = {y: "label", dy: own[0]?.shift ?? 0};
        return [
          Plot.ruleY(
            own.filter(({low}) => low !== undefined),
            {...at, x1: "low", x2: "high", stroke: colors[i % colors.length]!, strokeWidth: 2}
          ),
          Plot.dot(own, {
            ...at,
            x: "value",
            title: "title",
            r: 4,
            fill: ({isOpen}: {isOpen: boolean}) => (isOpen ? "var(--ground)" : colors[i % colors.length]!),
            stroke: colors[i % colors.length]!,
            strokeWidth: 1.5,
            symbol: symbols[i % symbols.length]!
          })
        ];
      });
      return {
        height,
        x: {label: `${axis} →`, zero, nice: true, grid: true, ticks: narrow ? 4 : 7},
        y: {
          label: null,
          domain: lines,
          type: "band",
          tickSize: 0,
          tickFormat: (line: string) => cut(line.split(apart)[0]!)
        },
        marks: [
          ...(zero ? [Plot.ruleX([0], {stroke: "var(--rule)"})] : []),
          ...(reference
            ? [Plot.ruleX([scale(reference.value)!], {stroke: "var(--muted)", strokeDasharray: "4,3"})]
            : []),
          Plot.text(heads, {
            y: (line: string) => line,
            text: (line: string) => cut(line.slice(apart.length)),
            frameAnchor: "left",
            textAnchor: "end",
            dx: -9,
            fontWeight: 600,
            fill: "var(--ink)"
          }),
          Plot.text(counts, {
            y: "line",
            text: "n",
            frameAnchor: "right",
            textAnchor: "start",
            dx: 8,
            fill: "var(--muted)"
          }),
          ...marks
        ]
      };
    }
  };
}
