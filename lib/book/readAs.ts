import type {CellForms} from "./cells.ts";
import {fold} from "./fold.ts";
import type {Grid} from "./grid.ts";
import type {Headings} from "./headings.ts";
import type {Problem} from "./problem.ts";
import type {FileHabits} from "./readRecords.ts";

const delimiterNames = {",": "commas", ";": "semicolons", "\t": "tabs", "|": "bars"} as const;

/** How a file was read, in one sentence, where it is not in the plain form: commas, decimal points, days as 2026-10-31, our headings and units. */
export function readAs(grid: Grid, {places}: Headings, forms: CellForms, habits: FileHabits): Problem | undefined {
  const said = (stated: unknown) => (stated === undefined ? "" : ", as workshop.json says");
  const parts: string[] = [...(grid.how ?? [])];
  if (grid.delimiter && grid.delimiter !== ",") parts.push(`${delimiterNames[grid.delimiter]} between the cells`);
  if (forms.decimal.habit === "comma" && (!grid.exact || forms.decimal.counts.comma > 0))
    parts.push(`decimal commas${said(habits.decimal)}`);
  const orders = new Set([...forms.dates.values()].map(({habit}) => habit).filter((habit) => habit !== undefined));
  for (const order of orders)
    parts.push(`dates with the ${order === "day-first" ? "day" : "month"} first${said(habits.dates)}`);
  for (const {heading, unit, field} of places) {
    if (unit && unit.name !== field.unit) parts.push(`${heading} turned from ${unit.name} into ${field.unit}`);
  }
  const renamed = places.filter(
    ({heading, field}) => fold(heading) !== fold(field.heading) && habits.headings?.[field.heading] === undefined
  );
  if (renamed.length > 0) {
    parts.push(renamed.map(({heading, field}) => `“${heading}” for ${field.heading}`).join(", "));
  }
  if (parts.length === 0) return undefined;
  const mend = "If that is wrong, say what is right under reading in workshop.json.";
  return {code: "read-as", severity: "note", file: grid.file, wanted: `read with ${parts.join("; ")}`, mend};
}
