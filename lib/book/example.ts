import {type CellHabits, CellReader} from "./cells.ts";
import {type Field, isNumeric} from "./field.ts";
import type {Row} from "./grid.ts";
import type {Place} from "./headings.ts";

/** What stands in the note column of an example row. */
export const exampleNote = "example: write over this row";

/** The text of a column's cell in the example row: the column's example, but a turning has no defect and is for no order yet. */
export function exampleOf({heading, example, optional}: Field): string {
  if (heading === "note") return exampleNote;
  return heading === "defect" || (heading === "order" && optional) ? "" : example;
}

/**
 * Whether a row is the example of a new book as it was made: its note says so, and each cell that is read can have the example's
 * value, in whatever way a spreadsheet has written it since. With one value of the owner's it is the owner's row.
 *
 * Checked: tests/book/example.test.ts
 *
 * @param exact whether the cells come from a workbook
 */
export function isExample({cells}: Row, places: readonly Place[], habits: CellHabits = {}, exact = false): boolean {
  const note = places.find(({field}) => field.heading === "note");
  if (!note || (cells[note.index] ?? "").trim() !== exampleNote) return false;
  const orders = habits.dates ? [habits.dates] : (["day-first", "month-first"] as const);
  return orders.some((dates) => {
    const reader = new CellReader([{row: 0, cells: [...cells]}], places, {...habits, dates}, exact);
    return places.every((place) => {
      const read = reader.read(place, {cells});
      const example = exampleOf(place.field);
      if (example === "") return "blank" in read;
      return "value" in read && read.value === (isNumeric(place.field) ? Number(example) : example);
    });
  });
}
