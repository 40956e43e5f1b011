import {check} from "../../lib/check.ts";
import {textWidth} from "../../lib/report/textWidth.ts";

/** How the labels lie on an A4 sheet, edge to edge but for the gaps; what is left over is the same on both sides. */
export interface LabelLayout {
  columns: number;
  rows: number;
  widthMm: number;
  heightMm: number;
  gapAcrossMm: number;
  gapDownMm: number;
  /** Labels of the first sheet that are used up. */
  skip: number;
}

/** A4, mm. Source: ISO 216. */
export const a4 = {widthMm: 210, heightMm: 297} as const;

/** mm in a point. */
const mmPerPt = 25.4 / 72;

/** So large letters are read at arm's length: capitals of 3.5 mm at 0.7 m. Common practice, no source. */
export const armsLengthPt = 14;

/** Details in smaller letters are hard to read at all. Common practice, no source. */
export const leastDetailPt = 6;

/** A module of a code is no smaller than this, mm, to be read by a telephone. Common practice, no source. */
export const leastModuleMm = 0.33;

/** Line height in parts of the size of letters. */
export const lineHeight = 1.15;

/**
 * The layout of a sheet: 3 × 8 labels of 70 × 37.125 mm where nothing is said, a plain division of A4.
 *
 * @throws RangeError unless the labels fit on A4, are at least 25 × 12 mm, and fewer are skipped than a sheet has
 */
export function labelLayout(given: Partial<LabelLayout> = {}): LabelLayout {
  const {columns = 3, rows = 8, gapAcrossMm = 0, gapDownMm = 0, skip = 0} = given;
  check(Number.isInteger(columns) && columns >= 1 && columns <= 8, "--columns", "a whole number from 1 to 8", columns);
  check(Number.isInteger(rows) && rows >= 1 && rows <= 24, "--rows", "a whole number from 1 to 24", rows);
  check(gapAcrossMm >= 0 && gapDownMm >= 0, "--gap", "two sizes in mm, none below 0", `${gapAcrossMm}x${gapDownMm}`);
  const gapsAcross = (columns - 1) * gapAcrossMm;
  const gapsDown = (rows - 1) * gapDownMm;
  const {widthMm = (a4.widthMm - gapsAcross) / columns, heightMm = (a4.heightMm - gapsDown) / rows} = given;
  const size = `${columns} × ${rows} of ${round(widthMm)} × ${round(heightMm)} mm`;
  check(widthMm >= 25 && heightMm >= 12, "The labels", "at least 25 × 12 mm each", size);
  const slack = 1e-9;
  const fits =
    columns * widthMm + gapsAcross <= a4.widthMm + slack && rows * heightMm + gapsDown <= a4.heightMm + slack;
  check(fits, "The labels and gaps together", "no larger than A4, 210 × 297 mm", size);
  const each = columns * rows;
  check(
    Number.isInteger(skip) && skip >= 0 && skip < each,
    "--skip",
    `a whole number below ${each}, the labels of a sheet`,
    skip
  );
  return {columns, rows, widthMm, heightMm, gapAcrossMm, gapDownMm, skip};
}

function round(mm: number): number {
  return Math.round(mm * 1000) / 1000;
}

/** The sizes within a label, mm and points, and whether the number must be broken within its letters. */
export interface LabelFit {
  padMm: number;
  codeMm: number;
  textWidthMm: number;
  numberPt: number;
  isBroken: boolean;
  detailPt: number;
}

/** A number cut where it may be broken: behind its dashes and spaces. */
export const numberParts = (number: string) => number.split(/(?<=[\p{Pd} ])/u);

/**
 * The largest letters at which a number and the lines below it lie within a label: at most 26 and 11 points. A number that can be read at
 * arm's length on one line stands on one; else it is broken behind its dashes; and within its letters where it has none, or would be
 * smaller than details may be. The code is as high as the label leaves room for, but no wider than 42 % of it.
 */
export function labelFit(
  number: string,
  details: readonly string[],
  {widthMm, heightMm}: Pick<LabelLayout, "widthMm" | "heightMm">
): LabelFit {
  const padMm = Math.min(4, 0.11 * Math.min(widthMm, heightMm));
  const codeMm = Math.min(heightMm - 2 * padMm, 0.42 * widthMm);
  const textWidthMm = widthMm - 2 * padMm - codeMm - 1;
  const room = heightMm - 2 * padMm;
  const numberIn = (linesAt: (size: number) => number, least: number) => largest(linesAt, 0.48 * room, 26, least);
  const put = (parts: readonly string[]) => (size: number) => wholeLines(parts, textWidthMm, 1.1 * size);
  const parts = numberParts(number);
  const whole =
    numberIn(put([number]), armsLengthPt) ?? (parts.length > 1 ? numberIn(put(parts), leastDetailPt) : undefined);
  const detailLines = (size: number) => details.reduce((sum, text) => sum + linesOf(text, textWidthMm, size), 0);
  return {
    padMm,
    codeMm,
    textWidthMm,
    numberPt: whole ?? numberIn((size) => linesOf(number, textWidthMm, 1.1 * size, true), 1) ?? 1,
    isBroken: whole === undefined,
    detailPt: largest(detailLines, 0.52 * room, 11, 1) ?? 1
  };
}

/** The largest size in points, from `most` down to `least`, whose lines are no higher than this. */
function largest(
  linesAt: (sizeMm: number) => number,
  heightMm: number,
  most: number,
  least: number
): number | undefined {
  for (let pt = most; pt >= least; pt -= 0.5) {
    const size = pt * mmPerPt;
    if (linesAt(size) * size * lineHeight <= heightMm) return pt;
  }
  return undefined;
}

/** On how many lines parts come that stay whole; infinitely many where one is longer than a line. */
function wholeLines(parts: readonly string[], widthMm: number, size: number): number {
  let lines = 1;
  let used = 0;
  for (const part of parts) {
    const width = textWidth(part, size);
    if (width > widthMm) return Number.POSITIVE_INFINITY;
    if (used + width > widthMm) [lines, used] = [lines + 1, 0];
    used += width;
  }
  return lines;
}

/** On how many lines a text comes, broken between words or behind dashes, and within a word only if it is longer than a line. */
function linesOf(text: string, widthMm: number, size: number, anywhere = false): number {
  const parts = anywhere ? [...text] : text.split(/(?<=[ -])/u);
  let lines = 1;
  let used = 0;
  const put = (part: string) => {
    const width = textWidth(part, size);
    if (used > 0 && used + width > widthMm) {
      lines++;
      used = 0;
    }
    used += width;
    return used > widthMm;
  };
  for (const part of parts) {
    const before = used;
    if (textWidth(part, size) <= widthMm) put(part);
    else {
      if (before > 0) lines++;
      used = 0;
      for (const character of part) put(character);
    }
  }
  return lines;
}
