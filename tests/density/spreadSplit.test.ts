import {expect, test} from "vitest";
import {spreadSplit} from "../../lib/density/spreadSplit.ts";
import {nestedVarianceComponents} from "../../lib/stats/nestedVarianceComponents.ts";
import {makeHistories, makePiece, settings} from "../pieces.ts";
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

// By hand: within a lot 4 · 2 · 10² = 800, 4 degrees of freedom: 200; between lots 4 · 2 · 10² = 800, 2: 400, (400 − 200)/2 = 100; between suppliers
// 8 · 25² = 5000, 1: (5000 − 400)/4 = 1150; together 1450. A scale of 10 g alone on 2.4 litres is wrong by 10/2.4 kg/m³.
test("spreadSplit(two suppliers, two lots of two each, a scale good to 10 g), worked by hand", () => {
  const pieces = [
    ...made("S0", "A", [690, 710]),
    ...made("S0", "B", [710, 730]),
    ...made("S1", "C", [640, 660]),
    ...made("S1", "D", [660, 680])
  ];
  const accuracy = {scaleG: 10, calliperMm: 0, tapeMm: 0, meterPct: 0};
  const [row] = spreadSplit({settings: {...settings, accuracy}, pieces});
  expect(row!.betweenSuppliersFraction).toBeCloseTo(1150 / 1450, 12);
  expect(row!.betweenLotsFraction).toBeCloseTo(100 / 1450, 12);
  expect(row!.measuringFraction).toBeCloseTo((10 / 2.4) ** 2 / 1450, 9);
  expect(row!.withinLotFraction).toBeCloseTo((200 - (10 / 2.4) ** 2) / 1450, 9);
  // A scale so bad that it explains more than there is takes all of the part within a lot.
  const [blind] = spreadSplit({settings: {...settings, accuracy: {...accuracy, scaleG: 100}}, pieces});
  expect(blind!.measuringFraction).toBeCloseTo(200 / 1450, 12);
  expect(blind!.withinLotFraction).toBe(0);
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
