import {expect, test} from "vitest";
import * as units from "../../lib/wood/units.ts";

// From memory: the yard-and-pound agreement of 1959; NIST SP 811. Exact by definition.
test("the definitions, to the digit", () => {
  expect(units.mmPerInch).toBe(25.4);
  expect(units.mmPerFoot).toBe(304.8);
  expect(units.gPerPound).toBe(453.59237);
  expect(units.gPerOunce).toBe(28.349523125);
  expect(units.mm3PerCubicFoot).toBeCloseTo(28_316_846.592, 6);
  expect(units.mm3PerBoardFoot).toBeCloseTo(2_359_737.216, 6);
});

test("an inch is 25.4 mm and a foot twelve of them", () => {
  expect(units.mmPerFoot).toBeCloseTo(12 * units.mmPerInch, 12);
});

test("a pound is 16 ounces", () => {
  expect(16 * units.gPerOunce).toBeCloseTo(units.gPerPound, 12);
});

test("a board foot is a twelfth of a cubic foot, a cubic foot 28.3 litres", () => {
  expect(12 * units.mm3PerBoardFoot).toBeCloseTo(units.mm3PerCubicFoot, 4);
  expect(units.mm3PerCubicFoot).toBeCloseTo(28_316_846.592, 6);
});

// From memory (1959 yard-and-pound agreement; NIST SP 811), each also a quotient of the definitions above.
test("a cubic metre is 35.3147 cubic feet and 423.776 board feet", () => {
  expect(1e9 / units.mm3PerCubicFoot).toBeCloseTo(35.3146667, 7);
  expect(1e9 / units.mm3PerBoardFoot).toBeCloseTo(423.776, 3);
});

// Water weighs 62.43 lb/ft³ at 1000 kg/m³: Wood Handbook, FPL-GTR-190 (2010), p. 4-9, read in a secondary source, 4 digits.
test("1000 kg/m³ is 62.43 lb/ft³, and 1 lb/ft³ 16.0185 kg/m³", () => {
  expect(1000 / units.kgM3PerPoundPerCubicFoot).toBeCloseTo(62.43, 2);
  expect(units.kgM3PerPoundPerCubicFoot).toBeCloseTo(16.0184634, 7);
});

// 4/π = 1.2732, and π/4 = 78.54 %: read in a secondary source, as printed.
test("a hoppus foot is 1.2732 cubic feet: a cylinder measured by its quarter girth", () => {
  expect(units.mm3PerHoppusFoot / units.mm3PerCubicFoot).toBeCloseTo(1.2732, 4);
  const girth = Math.PI * 300;
  const byHoppus = (girth / 4) ** 2 * 1000;
  expect(byHoppus / ((Math.PI / 4) * 300 ** 2 * 1000)).toBeCloseTo(0.7854, 4);
});

test("a thousand psi is 6.895 MPa", () => {
  expect(1000 * units.mpaPerPsi).toBeCloseTo(6.894757, 6);
});
