import {expect, it} from "vitest";
import {extremes} from "../../../scripts/pages/extremes.ts";

it("extremes(values, unit) names the lowest and the highest, and how many there are", () => {
  const values = [
    {name: "ash", value: 0.9},
    {name: "oak", value: undefined},
    {name: "maple", value: 0.7}
  ];
  expect(extremes(values, "fraction")).toBe("Lowest: maple with 70.0\u00a0%; highest: ash with 90.0\u00a0%; 2 in all.");
  expect(extremes([{name: "ash", value: 12.5}], "money", {currency: "£"})).toBe(
    "Lowest: ash with £12.50; highest: ash with £12.50; 1 in all."
  );
});

it("extremes(no values) says that there are none", () => {
  expect(extremes([{name: "ash", value: undefined}], "count")).toBe("No data yet.");
});
