import {expect, it} from "vitest";
import {cellData, cellInterval, cellText, headingText} from "../../lib/report/cell.ts";
import {lots} from "./tables.ts";

const share = lots.columns[2]!;

it("cellText(cell, unit) rounds a number, leaves a text, and shows nothing as a dash", () => {
  expect(cellText(0.6667, "fraction")).toBe("66.7");
  expect(cellText("A-031", "text")).toBe("A-031");
  expect(cellText(undefined, "g")).toBe("–");
  expect(cellText("too few", "fraction")).toBe("too few");
});

it('cellText(7, "text") is a number used as a name, so it is not rounded', () => {
  expect(cellText(7.25, "text")).toBe("7.25");
});

it("cellInterval(row, column) is low to high, and undefined where an end is missing", () => {
  expect(cellInterval(lots.rows[0]!, share)).toBe("52.0 to 78.1");
  expect(cellInterval(lots.rows[1]!, share)).toBeUndefined();
  expect(cellInterval(lots.rows[0]!, lots.columns[4]!)).toBeUndefined();
});

it("cellData(cell, unit) is the number as shown; what is no number is nothing", () => {
  expect(cellData(0.6667, "fraction")).toBe(66.7);
  expect(cellData(Number.NaN, "g")).toBeUndefined();
  expect(cellData(Number.POSITIVE_INFINITY, "g")).toBeUndefined();
  expect(cellData("A", "text")).toBe("A");
});

it("headingText(column) names the unit, the currency and the end of the interval", () => {
  expect(headingText(share)).toBe("Yield (%)");
  expect(headingText(share, {part: "low"})).toBe("Yield low (%)");
  expect(headingText(lots.columns[4]!, {currency: "£"})).toBe("Cost (£)");
  expect(headingText(lots.columns[0]!)).toBe("Lot");
});
