import type {Unit} from "../../lib/report/quantity.ts";
import {tellShown} from "./session.ts";
import type {TableOptions} from "./tableOf.ts";

/**
 * Shows a number in its unit, rounded as everywhere.
 *
 * @example show(0.7315, "fraction") // 73.2 %
 */
export function show(value: number | undefined, unit: Unit): void;
/**
 * Shows a value beneath its cell: a text as a paragraph; rows, a frame or a series as a table; a figure of lib/figures or options of
 * Observable Plot as a drawing; anything else as the console would print it. Run without the runner it prints to the console.
 *
 * @example show(rows, {caption: "Lots", columns: ["lot", {key: "bought", heading: "Squares bought", unit: "count"}]})
 */
export function show(value: unknown, table?: TableOptions): void;
export function show(value: unknown, how?: Unit | TableOptions): void {
  tellShown(value, typeof how === "string" ? {unit: how} : {...(how && {table: how})});
}
