import {expect, it} from "vitest";
import {textWidth} from "../../lib/report/textWidth.ts";

// That it is wide enough is measured in tests/browser/textWidth.test.ts.

it("textWidth(text, size) grows with the size, and with each letter", () => {
  expect(textWidth("Density", 24)).toBeCloseTo(2 * textWidth("Density", 12), 10);
  expect(textWidth("Density", 12) + textWidth("s", 12)).toBeCloseTo(textWidth("Densitys", 12), 10);
});

it("textWidth of several lines is that of the widest", () => {
  expect(textWidth("Elverstone\nMill", 12)).toBe(textWidth("Elverstone", 12));
});

it("textWidth sets i below n below W, and counts a character of two code units once", () => {
  expect(textWidth("i", 12)).toBeLessThan(textWidth("n", 12));
  expect(textWidth("n", 12)).toBeLessThan(textWidth("W", 12));
  expect(textWidth("𝟙", 12)).toBeLessThan(2 * textWidth("n", 12));
  expect(textWidth("", 12)).toBe(0);
});
