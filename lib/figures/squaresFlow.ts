import * as Plot from "@observablehq/plot";
import type {Settings} from "../book/settings.ts";
import {defectOf} from "../book/spells.ts";
import {shown} from "../report/quantity.ts";
import type {Whereabouts} from "../yield/whereSquaresGo.ts";
import type {Figure} from "./figure.ts";

/** The classes of the flow, from the ground up. */
const classes = [
  {name: "finished", label: "finished shaft", color: "var(--c1)"},
  {name: "stock", label: "still on its way", color: "var(--c2)"},
  {name: "diverted", label: "put to other use", color: "var(--c0)"},
  {name: "growth", label: "out: fault of growth", color: "var(--c5)"},
  {name: "drying", label: "out: fault of drying", color: "var(--c4)"},
  {name: "other", label: "out: machining or fit", color: "var(--c3)"}
] as const;

type ClassName = (typeof classes)[number]["name"];

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
  const marks = table.flatMap((row) => classes.map(({name, label}) => ({weeks: row.weeks, per100: row[name], label})));
  return {
    id: "where-squares-go",
    title:
      end && end.finished + out === 0
        ? "Too early to say what becomes of the squares"
        : end
          ? `Of 100 squares, ${shown(end.finished, "count")} become shafts, ${shown(out, "count")} are thrown out`
          : "No square has been followed yet",
    subtitle: `Squares per 100 bought, by weeks since purchase; all species, ${period}`,
    alt: end
      ? `Stacked areas over ${end.weeks} weeks. All 100 squares begin on their way; after ${end.weeks} weeks ${shown(end.finished, "per 100")} are finished, ${shown(end.stock, "per 100")} still on their way, ${shown(out, "per 100")} thrown out: ${shown(end.growth, "per 100")} for growth, ${shown(end.drying, "per 100")} for drying, ${shown(end.other, "per 100")} for machining or fit; ${shown(end.diverted, "per 100")} put to other use.`
      : "No data: no square has been in the store for a week yet.",
    note: `Aalen–Johansen shares: a square still resting counts for as long as it has been followed, not as lost. The last week shown rests on ${end?.followed ?? 0} squares followed so long.`,
    key: classes.map(({label, color}) => ({label, color})),
    table: {
      id: "where-squares-go-data",
      caption: "Of 100 squares bought, how many are where, by weeks since purchase",
      columns: [
        {key: "weeks", heading: "Weeks since purchase", unit: "weeks"},
        ...classes.map(({name, label}) => ({key: name, heading: label, unit: "per 100" as const})),
        {key: "followed", heading: "Squares followed so long", unit: "count"}
      ],
      rows: table.filter(({weeks: week}, i) => week % 4 === 0 || i === table.length - 1)
    },
    plot: ({narrow}) => ({
      height: narrow ? 260 : 340,
      x: {label: "weeks since purchase →", ticks: narrow ? 5 : 10},
      y: {label: "↑ squares per 100", domain: [0, 100], grid: true},
      color: {domain: classes.map(({label}) => label), range: classes.map(({color}) => color)},
      marks: [
        Plot.areaY(
          marks,
          Plot.stackY(
            {order: classes.map(({label}) => label)},
            {x: "weeks", y: "per100", fill: "label", stroke: "var(--ground)", strokeWidth: 1}
          )
        ),
        Plot.ruleY([0], {stroke: "var(--ink)"})
      ]
    })
  };
}
