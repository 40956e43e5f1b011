import fc from "fast-check";
import {expect, test} from "vitest";
import {moistureByMass, ovenDryMass} from "../../lib/wood/moisture.ts";

test("a square of 1680 g at 12 % holds 1500 g of wood", () => {
  expect(ovenDryMass({massG: 1680, moisturePct: 12})).toBe(1500);
});

test("1680 g with 1500 g of wood is at 12 %", () => {
  expect(moistureByMass({massG: 1680, ovenDryMassG: 1500})).toBe(12);
});

test("moistureByMass of oven-dry wood is 0", () => {
  expect(moistureByMass({massG: 1500, ovenDryMassG: 1500})).toBe(0);
});

test("ovenDryMass and moistureByMass lead there and back", () => {
  const mass = fc.double({min: 1, max: 5000, noNaN: true});
  fc.assert(
    fc.property(mass, fc.double({min: 0.001, max: 200, noNaN: true}), (massG, moisturePct) => {
      const ovenDryMassG = ovenDryMass({massG, moisturePct});
      expect(moistureByMass({massG, ovenDryMassG})).toBeCloseTo(moisturePct, 8);
    })
  );
});

test.each<[string, () => unknown, string]>([
  ["no mass", () => ovenDryMass({massG: 0, moisturePct: 12}), "ovenDryMass: massG must be positive, got 0."],
  [
    "a mistyped moisture",
    () => ovenDryMass({massG: 1, moisturePct: 1200}),
    "ovenDryMass: moisturePct must be from 0 to 200, got 1200."
  ],
  [
    "no dry mass",
    () => moistureByMass({massG: 1, ovenDryMassG: 0}),
    "moistureByMass: ovenDryMassG must be positive, got 0."
  ],
  [
    "a piece lighter than its wood",
    () => moistureByMass({massG: 1490, ovenDryMassG: 1500}),
    "moistureByMass: massG must be at least the oven-dry mass (1500), got 1490."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
