import {expect, test} from "vitest";
import {dayNumber, months} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";

/** A book that has nothing but orders: `shafts` of ash in each month from the first on. */
function ordersOf(first: string, shafts: readonly number[], asOf: string): Histories {
  const last = months(first, "2099-12")[shafts.length - 1]!;
  const orders = months(first, last).flatMap((month, i) =>
    shafts[i] === 0
      ? []
      : [{order: `O${i}`, orderedOn: `${month}-10`, species: "ash", quantity: shafts[i]!, row: i + 2}]
  );
  return {settings: Settings.parse({}), asOf: dayNumber(asOf), lots: [], orders, pieces: [], problems: []};
}

test("demandForecast(12 like months) expects as much for each month to come, and Poisson scatter at least", () => {
  const forecast = demandForecast(ordersOf("2025-01", Array(12).fill(10), "2025-12-31"), "ash", "2026-06-30")!;
  expect(forecast.mean).toBeCloseTo(60, 6);
  expect(forecast.sd).toBeGreaterThanOrEqual(Math.sqrt(60));
  expect(forecast.growthFraction).toBeUndefined();
});

test("demandForecast(48 months that grow by a fifth a year with a season) carries both on", () => {
  const season = [0.8, 0.7, 0.7, 0.7, 0.7, 0.8, 0.9, 1.1, 1.5, 1.6, 1.4, 1.1];
  const shafts = Array.from({length: 48}, (_, i) => Math.round(40 * season[i % 12]! * 1.2 ** (i / 12)));
  const forecast = demandForecast(ordersOf("2022-01", shafts, "2025-12-31"), "ash", "2026-12-31")!;
  const want = Array.from({length: 12}, (_, i) => 40 * season[i]! * 1.2 ** ((48 + i) / 12)).reduce((a, b) => a + b, 0);
  expect(Math.abs(forecast.mean / want - 1)).toBeLessThan(0.05);
  expect(forecast.growthFraction).toBeGreaterThan(0.17);
  expect(forecast.growthFraction).toBeLessThan(0.23);
});

test("demandForecast: orders not yet served are counted apart, pieces allotted taken off", () => {
  const histories = ordersOf("2025-01", Array(12).fill(2), "2025-12-31");
  const allotted = {allottedTo: "O0"} as Histories["pieces"][number];
  const open = demandForecast({...histories, pieces: [allotted]}, "ash", "2026-06-30")!.open;
  expect(open).toBe(23);
});

test("demandForecast: a month that is half over counts with the half to come", () => {
  const histories = ordersOf("2025-01", Array(12).fill(10), "2026-01-15");
  expect(demandForecast(histories, "ash", "2026-01-31")!.mean).toBeCloseTo((10 * 16) / 31, 6);
});

test("demandForecast(five months, or four shafts, or another species) cannot say", () => {
  expect(demandForecast(ordersOf("2025-08", Array(5).fill(10), "2025-12-31"), "ash", "2026-06-30")).toBeUndefined();
  expect(
    demandForecast(ordersOf("2025-01", [1, ...Array(10).fill(0), 3], "2025-12-31"), "ash", "2026-06-30")
  ).toBeUndefined();
  expect(demandForecast(ordersOf("2025-01", Array(12).fill(10), "2025-12-31"), "maple", "2026-06-30")).toBeUndefined();
});

test("demandForecast(until a day that is past) is refused", () => {
  expect(() => demandForecast(ordersOf("2025-01", [5], "2025-12-31"), "ash", "2025-12-31")).toThrow(
    "demandForecast: until must be after 2025-12-31"
  );
});
