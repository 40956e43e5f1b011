import {expect, test} from "vitest";
import {spreadSplit} from "../../lib/density/spreadSplit.ts";
import {nestedVarianceComponents} from "../../lib/stats/nestedVarianceComponents.ts";
import {makeHistories, makePiece} from "../pieces.ts";
import {now} from "../recovery/sample.ts";

const made = (supplier: string, lot: string, densities: readonly number[]) =>
  densities.map((density) => makePiece({supplier, lot, density}));

test("spreadSplit's shares add up to 1 and are the nested components, measuring error taken from within", () => {
  const groups = [
    [
      [700, 705, 695],
      [710, 714, 707]
    ],
    [
      [640, 655, 648],
      [660, 668, 652]
    ]
  ];
  const pieces = groups.flatMap((lots, s) => lots.flatMap((lot, l) => made(`S${s}`, `S${s}L${l}`, lot)));
  const [row] = spreadSplit(makeHistories(pieces, {asOf: 100}));
  const parts = nestedVarianceComponents(groups)!;
  const total = parts.outer + parts.inner + parts.within;
  expect(row).toMatchObject({species: "ash", suppliers: 2, lots: 4, squares: 12});
  expect(row!.betweenSuppliersFraction).toBeCloseTo(parts.outer / total, 9);
  expect(row!.betweenLotsFraction).toBeCloseTo(parts.inner / total, 9);
  expect(row!.withinLotFraction + row!.measuringFraction).toBeCloseTo(parts.within / total, 9);
  expect(row!.measuringFraction).toBeGreaterThan(0);
});

test("spreadSplit of one supplier, or of one lot each, is no split", () => {
  expect(spreadSplit(makeHistories(made("S", "L", [700, 710]), {asOf: 100}))).toEqual([]);
});

test("spreadSplit(sample book): measuring is a small part, and most lies within lots, as the book was made", () => {
  for (const row of spreadSplit(now)) {
    expect(row.measuringFraction).toBeLessThan(0.1);
    expect(row.withinLotFraction).toBeGreaterThan(0.4);
  }
});
