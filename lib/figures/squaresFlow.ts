import type {Settings} from "../book/settings.ts";
import {defectOf} from "../book/spells.ts";
import {shown} from "../report/quantity.ts";
import type {Whereabouts} from "../yield/whereSquaresGo.ts";
import type {Figure} from "./figure.ts";

/** The classes of the flow, from the ground up; the short label stands beside the drawing. */
const classes = [
  {name: "finished", label: "finished shaft", short: "finished", color: "var(--c1)"},
  {name: "stock", label: "still on its way", short: "on its way", color: "var(--c2)"},
  {name: "diverted", label: "put to other use", short: "other use", color: "var(--c0)"},
  {name: "growth", label: "out: fault of growth", short: "out: growth", color: "var(--c5)"},
  {name: "drying", label: "out: fault of drying", short: "out: drying", color: "var(--c4)"},
  {name: "other", label: "out: machining or fit", short: "out: other", color: "var(--c3)"}
] as const;

/** Weeks that one value of the drawing speaks for, and least squares per 100 between two labels beside it. */
const step = 4;
const labelGap = 5.5;

type ClassName = (typeof classes)[number]["name"];

/** Where more than so many of 100 are on their way in the last week, it is too early to say what becomes of them. */
const mostOnTheWay = 10;

/** Where 100 squares go, stacked over the weeks since purchase; no rows, and so no drawing, before the first week is over. */
export function squaresFlow(rows: readonly Whereabouts[], settings: Settings, {period}: {period: string}): Figure {
  const last = settings.stages.at(-1)!.name;
  const groupOf = new Map<string, string>(settings.defects.map(({name, group}) => [name, group]));
  const classOf = (state: string): ClassName => {
    const defect = defectOf(state);
    if (defect !== undefined) {
      const group = groupOf.get(defect);
      return group === "growth" || group === "drying" ? group : "other";
    }
    return state === last ? "finished" : state === "diverted" ? "diverted" : "stock";
  };
  const weeks = rows.some((row) => row.weeks > 0) ? [...new Set(rows.map((row) => row.weeks))] : [];
  const table = weeks.map((week) => {
    const here = rows.filter((row) => row.weeks === week);
    const total = (name: ClassName) =>
      here.filter(({state}) => classOf(state) === name).reduce((sum, {per100}) => sum + per100, 0);
    return {
      weeks: week,
      ...Object.fromEntries(classes.map(({name}) => [name, total(name)])),
      followed: here[0]!.followed
    } as Record<ClassName | "weeks" | "followed", number>;
  });
  const end = table.at(-1);
  const out = end ? end.growth + end.drying + end.other : 0;
  const areas = table.flatMap((row) => classes.map(({name, label}) => ({weeks: row.weeks, per100: row[name], label})));
  const told = table.filter(({weeks: week}, i) => week % step === 0 || i === table.length - 1);
  const values = told.map((row) => ({
    from: Math.max(0, row.weeks - step / 2),
    to: Math.min(end!.weeks, row.weeks + step / 2),
    title: `week ${row.weeks}\n${classes.map(({name, label}) => `${label}: ${shown(row[name], "per 100", {bare: true})}`).join("\n")}`
  }));
  return {
    id: "where-squares-go",
    title:
      end && (end.finished + out === 0 || end.stock > mostOnTheWay)
        ? "Too early to say what becomes of the squares"
        : end
          ? `Of 100 squares, ${shown(end.finished, "count")} become shafts, ${shown(out, "count")} are thrown out`
          : "No square has been followed yet",
    subtitle: `Squares per 100 bought, by weeks since purchase; all species, ${period}`,
    alt: end
      ? `Stacked areas over ${end.weeks} weeks. All 100 squares begin on their way; after ${end.weeks} weeks ${shown(end.finished, "per 100")} are finished, ${shown(end.stock, "per 100")} still on their way, ${shown(out, "per 100")} thrown out: ${shown(end.growth, "per 100")} for growth, ${shown(end.drying, "per 100")} for drying, ${shown(end.other, "per 100")} for machining or fit; ${shown(end.diverted, "per 100")} put to other use.`
      : "No data: no square has been in the store for a week yet.",
    note: `A square still resting counts for as long as it has been followed, not as lost. Other: machining or fit. The last week shown rests on ${shown(end?.followed ?? 0, "count")} squares followed so long.`,
    method: "how-yield",
    notebook: "01",
    table: {
      id: "where-squares-go-data",
      caption: "Of 100 squares bought, how many are where, by weeks since purchase",
      columns: [
        {key: "weeks", heading: "Weeks since purchase", unit: "weeks"},
        ...classes.map(({name, label}) => ({key: name, heading: label, unit: "per 100" as const})),
        {key: "followed", heading: "Squares followed so long", unit: "count"}
      ],
      rows: told
    },
    plot: ({narrow}, Plot) => ({
      height: narrow ? 260 : 340,
      x: {label: "weeks since purchase →", ticks: narrow ? 5 : 10},
      y: {label: "↑ squares per 100", domain: [0, 100], grid: true},
      color: {domain: classes.map(({label}) => label), range: classes.map(({color}) => color)},
      marks: [
        Plot.areaY(
          areas,
          Plot.stackY(
            {order: classes.map(({label}) => label)},
            {x: "weeks", y: "per100", fill: "label", stroke: "var(--ground)", strokeWidth: 1}
          )
        ),
        Plot.ruleY([0], {stroke: "var(--ink)"}),
        Plot.rect(values, {
          x1: "from",
          x2: "to",
          y1: 0,
          y2: 100,
          fill: "var(--ground)",
          fillOpacity: 0,
          title: "title"
        }),
        Plot.text(end ? [middleOf(table)] : [], {
          x: "weeks",
          y: "per100",
          text: () => "on its way",
          fill: "var(--ink)",
          stroke: "var(--ground)",
          strokeWidth: 4
        }),
        Plot.text(end ? beside(end) : [], {
          x: "weeks",
          y: "per100",
          text: "text",
          fill: "var(--ink)",
          textAnchor: "start",
          dx: 6
        })
      ]
    })
  };
}

/** The middle of what is on its way, a third along the weeks, where it is widest. */
function middleOf(table: readonly Record<ClassName | "weeks", number>[]): {weeks: number; per100: number} {
  const {weeks, finished, stock} = table[Math.floor(table.length / 3)]!;
  return {weeks, per100: finished + stock / 2};
}

/** What stands beside the last week: each class with its share, at its middle, moved up where the one below is too near. */
function beside(end: Record<ClassName | "weeks", number>): {weeks: number; per100: number; text: string}[] {
  let [ground, last] = [0, Number.NEGATIVE_INFINITY];
  return classes.flatMap(({name, short}) => {
    const middle = ground + end[name] / 2;
    ground += end[name];
    if (end[name] < 0.05) return [];
    last = Math.max(middle, last + labelGap);
    return [{weeks: end.weeks, per100: last, text: `${short} ${shown(end[name], "per 100", {bare: true})}`}];
  });
}
