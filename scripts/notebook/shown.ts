import {inspect} from "node:util";
import type {PlotOptions} from "@observablehq/plot";
import {check} from "../../lib/check.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {shown as formatted, rounded, type Unit} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import {type TableOptions, tableOf} from "./tableOf.ts";

/** How a value is to be shown. */
export interface ShowOptions {
  unit?: Unit;
  table?: TableOptions;
}

/** A value as what it is shown as. `printed` is text laid out in lines. */
export type Shown =
  | {kind: "text"; text: string}
  | {kind: "printed"; text: string}
  | {kind: "table"; table: Omit<Table, "id">}
  | {kind: "figure"; figure: Figure}
  | {kind: "plot"; options: PlotOptions};

/**
 * What a value is shown as.
 *
 * @throws RangeError when a unit is given for what is no number, or there is no such unit
 */
export function shown(value: unknown, {unit, table: wishes}: ShowOptions, currency = ""): Shown {
  if (unit !== undefined) {
    check((rounded(1, unit) ?? 0) > 0, "show: unit", "a unit of numbers, such as fraction, count or kg/m³", unit); // 1 rounds to nothing in no other
    check(value === undefined || typeof value === "number", "show: value", "a number where a unit is given", value);
    return {kind: "text", text: formatted(value, unit, {currency})};
  }
  if (typeof value === "string") return {kind: "text", text: value};
  if (typeof value === "number") return {kind: "text", text: bareNumber(value)};
  if (isFigure(value)) return {kind: "figure", figure: value};
  if (isPlotOptions(value)) return {kind: "plot", options: value};
  const table = tableOf(value, wishes);
  if (table) return {kind: "table", table};
  check(
    wishes === undefined,
    "show: value",
    "an array of flat rows or a frame where a table is wished",
    inspect(value)
  );
  return {kind: "printed", text: inspect(value, {depth: 3, breakLength: 100})};
}

/** Only a unit says how a number is to be rounded; without one six digits are told. */
function bareNumber(value: number): string {
  return Number.isInteger(value) ? formatted(value, "count") : String(Number(value.toPrecision(6))).replace("-", "−");
}

function isFigure(value: unknown): value is Figure {
  const {plot, table, title} = (value ?? {}) as Partial<Figure>;
  return typeof plot === "function" && typeof title === "string" && typeof table === "object";
}

function isPlotOptions(value: unknown): value is PlotOptions {
  return Array.isArray(((value ?? {}) as PlotOptions).marks);
}
