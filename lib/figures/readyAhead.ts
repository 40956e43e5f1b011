import {dayNumber, dayText} from "../book/day.ts";
import type {ReadyRow} from "../seasoning/readyToTurn.ts";
import {sum} from "../stats/numbers.ts";
import type {Figure} from "./figure.ts";
import {fitTitle} from "./fitText.ts";

/** Weeks ahead that are shown one by one. */
const weeksShown = 8;

/** What becomes ready within one span of days. */
interface Span {
  label: string;
  short: string;
  counts: Record<string, number>;
  pieces: number;
}

/** How many pieces become ready to turn: ready now, to be weighed today, by week ahead and later, by the stage they are at. */
export function readyAhead(
  rows: readonly ReadyRow[],
  {asOf, stages}: {asOf: string; stages: readonly string[]}
): Figure {
  const spans = spansOf(rows, {asOf, stages});
  const ready = spans[0]!.pieces;
  const weigh = spans[1]!.pieces;
  const weeks = spans.slice(2, 2 + weeksShown);
  const fullest = weeks.reduce((a, b) => (b.pieces > a.pieces ? b : a));
  const emptiest = weeks.reduce((a, b) => (b.pieces < a.pieces ? b : a));
  const count = (pieces: number, be = "are") =>
    pieces === 1 ? `1 piece ${be === "are" ? "is" : be}` : `${pieces} pieces ${be}`;
  const colors = ["var(--c1)", "var(--c2)", "var(--c3)", "var(--c4)", "var(--c5)"];
  const isKeyed = stages.length <= colors.length;
  const colorOf = (stage: string) => (isKeyed ? colors[stages.indexOf(stage)]! : "var(--c1)");
  return {
    id: "ready-ahead",
    title:
      rows.length === 0
        ? "Nothing is waiting to be turned"
        : fitTitle(`${count(ready)} ready, ${weigh} to weigh today`, "What is ready, and what to weigh today"),
    subtitle: `Pieces in stock not yet finished on ${asOf}, by the stage they are at and when they should be ready for the next turning`,
    alt:
      rows.length === 0
        ? "No data: there is no piece in stock that is not finished on this day."
        : `Bars by week ahead. ${count(ready)} ready on ${asOf}, ${weigh} would be settled by a weighing that day; of the ${weeksShown} weeks after it the most pieces in the one that ends on ${fullest.label.slice(3)}, ${fullest.pieces}, the fewest in that of ${emptiest.label.slice(3)}, ${emptiest.pieces}; ${spans.at(-1)!.pieces} later or not to be told. In all ${rows.length}.`,
    note: "Ready: rested, steady by two weighings, near the store's moisture. Weigh today: rest served, steady by its course where that is known, but not seen to be so. The weeks are by the fitted course of drying; the table of pieces gives the range of each.",
    method: "how-ready",
    ...(isKeyed && {key: stages.map((label) => ({label, color: colorOf(label)}))}),
    table: {
      id: "ready-ahead-data",
      caption: `Pieces by when they should be ready and by the stage they are at, ${asOf}`,
      columns: [
        {key: "when", heading: "Ready", unit: "text"},
        ...stages.map((stage) => ({key: stage, heading: stage, unit: "count" as const})),
        {key: "pieces", heading: "All", unit: "count"}
      ],
      rows: spans.map(({label, counts, pieces}) => ({when: label, ...counts, pieces}))
    },
    plot: ({narrow}, Plot) => {
      const parts = spans.flatMap(({label, short, counts}) =>
        stages.map((stage) => ({
          when: narrow ? short : label,
          stage,
          pieces: counts[stage]!,
          title: `${label}, ${stage}: ${counts[stage]!}`
        }))
      );
      return {
        height: 40 + spans.length * 24,
        marginLeft: narrow ? 84 : 130,
        marginRight: 36,
        marginBottom: 8,
        x: {axis: null, zero: true},
        y: {
          label: null,
          domain: spans.map(({label, short}) => (narrow ? short : label)),
          type: "band",
          padding: 0.25,
          tickSize: 0
        },
        color: {domain: [...stages], range: stages.map(colorOf)},
        marks: [
          Plot.barX(
            parts,
            Plot.stackX(
              {order: [...stages]},
              {y: "when", x: "pieces", fill: "stage", stroke: "var(--ground)", title: "title"}
            )
          ),
          Plot.text(spans, {
            y: ({label, short}: Span) => (narrow ? short : label),
            x: "pieces",
            text: ({pieces}: Span) => String(pieces),
            textAnchor: "start",
            dx: 6,
            fill: "var(--ink)"
          }),
          Plot.ruleX([0], {stroke: "var(--ink)"})
        ]
      };
    }
  };
}

function spansOf(rows: readonly ReadyRow[], {asOf, stages}: {asOf: string; stages: readonly string[]}): Span[] {
  const today = dayNumber(asOf);
  const weekOf = ({until}: ReadyRow) =>
    until === undefined ? weeksShown : Math.floor((dayNumber(until) - today - 1) / 7);
  const waiting = rows.filter(({verdict, weigh}) => verdict !== "ready" && !weigh);
  const span = (label: string, short: string, own: readonly ReadyRow[]): Span => {
    const counts = Object.fromEntries(stages.map((stage) => [stage, own.filter((row) => row.stage === stage).length]));
    return {label, short, counts, pieces: sum(Object.values(counts))};
  };
  const weeks = Array.from({length: weeksShown}, (_, week) => {
    const end = dayText(today + 7 * (week + 1));
    // A piece that no weighing can settle today is due within the first week at the earliest.
    const own = waiting.filter((row) => Math.max(0, weekOf(row)) === week);
    return span(`by ${end}`, `by ${end.slice(5)}`, own);
  });
  return [
    span(
      "ready now",
      "ready now",
      rows.filter(({verdict}) => verdict === "ready")
    ),
    span(
      "to weigh today",
      "weigh today",
      rows.filter(({verdict, weigh}) => verdict !== "ready" && weigh)
    ),
    ...weeks,
    span(
      "later, or not known",
      "later",
      waiting.filter((row) => weekOf(row) >= weeksShown)
    )
  ];
}
