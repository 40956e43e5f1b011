import {isMissing} from "./cells.ts";
import {fold} from "./fold.ts";
import type {Row} from "./grid.ts";
import type {Place} from "./headings.ts";

/** Why a row is not data. */
export type NotData =
  | "blank"
  | "above the headings"
  | "the headings again"
  | "a ruled line"
  | "a total"
  | "a note"
  | "the example";

const totals =
  /^(grand |sub ?)?(total|totals|sum|sums|average|mean|count|max|min|summe|gesamt|mittelwert|moyenne|somme|totale|media|suma)[,;=]*(?<more>\W.*)?$/;
/** A cell beside the word of a total: figures, maybe with a unit or currency, or a spreadsheet's error. */
const figure = /^[\p{Sc}\d.,+\-−#%–—=]/u;

/**
 * Why a row that could not be read as a record is no data at all, if it is not: the headings repeated, a ruled line, a total, or
 * below the last record a note or a lone sum. Returns undefined for what must be mended.
 *
 * Checked: tests/book/footers.test.ts
 *
 * @param below whether no record comes after it
 */
export function notData(
  {cells}: Row,
  {headings, places, below}: {headings: readonly string[]; places: readonly Place[]; below: boolean}
): NotData | undefined {
  const filled = cells.map((cell, index) => ({cell: cell.trim(), index})).filter(({cell}) => cell !== "");
  if (filled.length === 0) return "blank";
  if (filled.some(({cell}) => cell.length > 2000)) return undefined;
  if (filled.length > 1 && filled.every(({cell, index}) => fold(cell) === fold(headings[index] ?? "")))
    return "the headings again";
  if (filled.every(({cell}) => /^[-=_*.]{3,}$/.test(cell))) return "a ruled line";
  const required = places.filter(({field}) => !field.optional);
  const given = required.filter(({index}) => !isMissing(cells[index] ?? ""));
  const half = given.length * 2 <= required.length;
  const first = filled[0]!;
  const forDay = places.some(({index, field}) => index === first.index && field.kind === "date");
  const isNamed = ({field}: Place) => field.kind === "name" || field.kind === "date";
  const total = totals.exec(fold(first.cell));
  const alone = total?.groups?.more === undefined;
  // A supplier may be called Total Timber, so further words want nothing but figures beside them.
  const figures = filled.slice(1).every(({cell}) => isMissing(cell) || figure.test(cell));
  const bare = filled.length === 1 && !alone && !below;
  const lacksName = required.some((place) => isNamed(place) && !given.includes(place));
  if (total && (half || forDay || (alone && lacksName)) && (alone || figures) && !bare) return "a total";
  if (!below) return undefined;
  if (filled.length === 1 && /\S\s+\S+\s+\S/.test(filled[0]!.cell)) return "a note";
  if (half && !given.some(isNamed) && filled.every(({cell}) => /^[\d.,\s'’%£$€]+$/.test(cell))) return "a total";
  return undefined;
}
