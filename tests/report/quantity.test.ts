import fc from "fast-check";
import {expect, it} from "vitest";
import {rounded, shown, shownInterval, type Unit, unitSymbol} from "../../lib/report/quantity.ts";

const places: [Unit, number][] = [
  ["count", 0],
  ["number", 2],
  ["percent", 1],
  ["kg/m³", 0],
  ["mm", 1],
  ["money", 2]
];

it("rounded(value, unit) agrees with the platform’s own rounding half away from zero", () => {
  for (const [unit, digits] of places) {
    const platform = new Intl.NumberFormat("en", {
      maximumFractionDigits: digits,
      useGrouping: false,
      roundingMode: "halfExpand"
    } as Intl.NumberFormatOptions);
    fc.assert(
      fc.property(fc.integer({min: -10_000_000, max: 10_000_000}), (thousandths) => {
        const value = thousandths / 1000;
        expect(rounded(value, unit)).toBe(Number(platform.format(value)) + 0);
      })
    );
  }
});

it('rounded(0.12345, "fraction") is in percent, and a half goes away from zero on both sides', () => {
  expect(rounded(0.12345, "fraction")).toBe(12.3);
  expect(rounded(1.005, "money")).toBe(1.01);
  expect(rounded(-2.5, "count")).toBe(-3);
  expect(Object.is(rounded(-0.001, "mm"), 0)).toBe(true);
});

it("what could not be computed is a dash, never 0", () => {
  for (const value of [undefined, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
    expect(rounded(value, "g")).toBeUndefined();
    expect(shown(value, "g")).toBe("–");
  }
});

it("shown(value, unit) parts thousands, has a true minus and its unit behind, money before", () => {
  expect(shown(0.7315, "fraction")).toBe("73.2\u00a0%");
  expect(shown(-1250, "money whole", {currency: "£"})).toBe("−£1\u202f250");
  expect(shown(1234567, "g", {bare: true})).toBe("1\u202f234\u202f567");
  expect(shown(5, "mm")).toBe("5.0\u00a0mm");
  expect(shown(12, "count")).toBe("12");
});

it("shownInterval(interval, unit) says the unit once", () => {
  expect(shownInterval({low: 0.69, high: 0.77}, "fraction")).toBe("69.0 to 77.0\u00a0%");
  expect(shownInterval({low: 20, high: 24}, "money", {currency: "£"})).toBe("£20.00 to £24.00");
  expect(shownInterval(undefined, "g")).toBe("–");
});

it("unitSymbol(unit) is what stands in a heading", () => {
  expect(unitSymbol("fraction")).toBe("%");
  expect(unitSymbol("money", "€")).toBe("€");
  expect(unitSymbol("count")).toBe("");
  expect(unitSymbol("kg/m³")).toBe("kg/m³");
});
