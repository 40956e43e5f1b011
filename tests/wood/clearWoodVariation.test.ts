import {expect, test} from "vitest";
import {clearWoodVariation} from "../../lib/wood/clearWoodVariation.ts";

test("stiffness varies more than strength, and strength more than density", () => {
  const {specificGravity, rupture, modulus} = clearWoodVariation;
  expect(specificGravity).toBeGreaterThan(0);
  expect(rupture).toBeGreaterThan(specificGravity);
  expect(modulus).toBeGreaterThan(rupture);
  expect(modulus).toBeLessThan(1);
});
