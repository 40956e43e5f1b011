import {expect, test} from "vitest";
import {clearWoodVariation} from "../../lib/wood/clearWoodVariation.ts";

// The printed percentages, from memory; what grounds them is in tests/reference/wood-species.test.ts.
test("clearWoodVariation is 10 % of gravity, 16 % of rupture and 22 % of modulus", () => {
  expect(clearWoodVariation).toEqual({specificGravity: 0.1, rupture: 0.16, modulus: 0.22});
});

test("stiffness varies more than strength, and strength more than density", () => {
  const {specificGravity, rupture, modulus} = clearWoodVariation;
  expect(specificGravity).toBeGreaterThan(0);
  expect(rupture).toBeGreaterThan(specificGravity);
  expect(modulus).toBeGreaterThan(rupture);
  expect(modulus).toBeLessThan(1);
});
