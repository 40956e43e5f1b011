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
    fc.property(mass, fc.double({min: 0.001, max: 199, noNaN: true}), (massG, moisturePct) => {
      const ovenDryMassG = ovenDryMass({massG, moisturePct});
      expect(moistureByMass({massG, ovenDryMassG})).toBeCloseTo(moisturePct, 8);
    })
  );
});

test("dry wood and water add up to the piece, and a piece that loses water comes to the moisture that is left", () => {
  const moisture = fc.double({min: 0.001, max: 199, noNaN: true});
  fc.assert(
    fc.property(fc.double({min: 1, max: 5000, noNaN: true}), moisture, moisture, (dryG, fromPct, toPct) => {
      const massG = dryG + (dryG * fromPct) / 100;
      const ovenDryMassG = ovenDryMass({massG, moisturePct: fromPct});
      expect(ovenDryMassG / dryG).toBeCloseTo(1, 12);
      const lostG = (dryG * (fromPct - toPct)) / 100;
      expect(moistureByMass({massG: massG - lostG, ovenDryMassG})).toBeCloseTo(toPct, 8);
    })
  );
});

test("the wetter the reading, the less dry wood; the heavier the piece, the wetter", () => {
  fc.assert(
    fc.property(fc.double({min: 0, max: 199, noNaN: true}), (moisturePct) => {
      const dry = (pct: number) => ovenDryMass({massG: 1680, moisturePct: pct});
      expect(dry(moisturePct + 1)).toBeLessThan(dry(moisturePct));
      const wet = (massG: number) => moistureByMass({massG, ovenDryMassG: 1500});
      expect(wet(1501 + moisturePct)).toBeGreaterThan(wet(1500 + moisturePct));
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
    "moistureByMass: massG must be from 1 to 3 times the oven-dry mass (1500), got 1490."
  ],
  [
    "a lost comma",
    () => moistureByMass({massG: 16_800, ovenDryMassG: 1500}),
    "moistureByMass: massG must be from 1 to 3 times the oven-dry mass (1500), got 16800."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
