import {expect, test} from "vitest";
import {textWidth} from "../../../lib/report/textWidth.ts";
import {a4, armsLengthPt, labelFit, labelLayout} from "../../../scripts/pages/labelFit.ts";

test("labelLayout() is a plain division of A4: 3 × 8 of 70 × 37.125 mm", () => {
  const layout = labelLayout();
  expect(layout).toEqual({columns: 3, rows: 8, widthMm: 70, heightMm: 37.125, gapAcrossMm: 0, gapDownMm: 0, skip: 0});
  expect([layout.columns * layout.widthMm, layout.rows * layout.heightMm]).toEqual([a4.widthMm, a4.heightMm]);
});

test("labelLayout divides what the gaps leave, and takes sizes as given", () => {
  expect(labelLayout({columns: 2, rows: 4, gapAcrossMm: 10, gapDownMm: 3})).toMatchObject({widthMm: 100, heightMm: 72});
  expect(labelLayout({columns: 3, widthMm: 60, heightMm: 30})).toMatchObject({widthMm: 60, heightMm: 30, rows: 8});
});

test.each([
  [{columns: 0}, "--columns must be a whole number from 1 to 8, got 0."],
  [{rows: Number.NaN}, "--rows must be a whole number from 1 to 24, got NaN."],
  [{columns: 8, gapAcrossMm: 5}, 'The labels must be at least 25 × 12 mm each, got "8 × 8 of 21.875 × 37.125 mm".'],
  [
    {widthMm: 71},
    'The labels and gaps together must be no larger than A4, 210 × 297 mm, got "3 × 8 of 71 × 37.125 mm".'
  ],
  [{skip: 24}, "--skip must be a whole number below 24, the labels of a sheet, got 24."],
  [{skip: -1}, "--skip must be a whole number below 24, the labels of a sheet, got -1."]
])("labelLayout(%j) says what would be right", (given, sentence) => expect(() => labelLayout(given)).toThrow(sentence));

const details = ["Ash, rough-round", "ready 2026-10-31", "690 kg/m³ at 12 %"];

test("labelFit keeps a usual number large, and everything within the label", () => {
  const layout = labelLayout();
  const fit = labelFit("A0001", details, layout);
  expect(fit.numberPt).toBeGreaterThan(20);
  expect(fit.detailPt).toBeGreaterThanOrEqual(8);
  expect(2 * fit.padMm + fit.codeMm + fit.textWidthMm).toBeLessThanOrEqual(layout.widthMm);
  expect(2 * fit.padMm + fit.codeMm).toBeLessThanOrEqual(layout.heightMm);
});

test("labelFit shrinks for longer numbers, names and smaller labels, never below 1 point", () => {
  const sizes = [20, 40, 80, 400, 5000].map((length) => labelFit("W".repeat(length), details, labelLayout()).numberPt);
  expect(sizes).toEqual(sizes.toSorted((a, b) => b - a));
  expect(sizes.at(-1)).toBe(1);
  expect(labelFit("A1", ["x".repeat(200)], labelLayout()).detailPt).toBeLessThan(
    labelFit("A1", details, labelLayout()).detailPt
  );
  expect(labelFit("A0001", details, labelLayout({columns: 5, rows: 13})).numberPt).toBeLessThan(
    labelFit("A0001", details, labelLayout()).numberPt
  );
});

test("labelFit keeps a number on one line while it can be read at arm's length so, then breaks at dashes, then anywhere", () => {
  const layout = labelLayout({columns: 2});
  const {numberPt, textWidthMm, isBroken} = labelFit("ASH-2026-117", details, layout);
  expect([isBroken, numberPt >= armsLengthPt]).toEqual([false, true]);
  expect(textWidth("ASH-2026-117", (numberPt * 25.4) / 72)).toBeLessThanOrEqual(textWidthMm);
  // Wider than the label at 14 points, but its longest part is not.
  const narrow = labelFit("ASH-2026-117", details, labelLayout({columns: 4}));
  expect(narrow.isBroken).toBe(false);
  expect(textWidth("ASH-2026-117", (narrow.numberPt * 25.4) / 72)).toBeGreaterThan(narrow.textWidthMm);
  expect(textWidth("2026-", (narrow.numberPt * 25.4) / 72)).toBeLessThanOrEqual(narrow.textWidthMm);
  expect(labelFit("ASH2026117SEVENTEEN", details, labelLayout({columns: 8})).isBroken).toBe(true);
});
