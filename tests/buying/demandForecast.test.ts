import {expect, test} from "vitest";
import {dayNumber, months} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {demandForecast, demandForecasts} from "../../lib/buying/demandForecast.ts";

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

// R only (R 4.2.2): glm(y ~ …, family = poisson, control = list(epsilon = 1e-15)) with the six sets of terms; weights by bbmle's ICtab(…, type = "qAICc", dispersion = phi);
// mean <- Σ w m; V <- Σ w (g' vcov g phi + (m − mean)²); theta.mm(y, fitted(full), 42); sd <- √(mean + (V + Σ mu²/theta)(qt(.975, 42)/qnorm(.975))²);
// qnbinom(c(.025, .975), size = mean²/(sd² − mean), mu = mean). Made-up months.
test("demandForecast(48 months) averages its curves as R does", () => {
  const shafts = [
    4, 19, 7, 15, 11, 22, 5, 8, 24, 13, 30, 6, 17, 5, 12, 20, 8, 25, 9, 21, 14, 33, 11, 27, 6, 22, 10, 18, 31, 9, 26,
    12, 19, 35, 8, 24, 21, 13, 29, 7, 23, 16, 34, 11, 38, 20, 42, 15
  ];
  const forecast = demandForecast(ordersOf("2022-01", shafts, "2025-12-31"), "ash", "2026-12-31")!;
  expect(forecast.mean).toBeCloseTo(319.71668138116, 6);
  expect(forecast.sd).toBeCloseTo(75.169220288728, 6);
  expect([forecast.low, forecast.high]).toEqual([189, 483]);
  expect(forecast.growthFraction).toBeCloseTo(0.16860878624088, 9);
});

// NumPy: the same months, Newton's method for the log-linear Poisson curve of trend and two waves, e^(c'b ∓ t(.975, 42) √(φ c' (X'WX)⁻¹ c)).
test("demandForecast(48 months) tells the busiest and the quietest month, and their ratio with its interval, as NumPy does", () => {
  const shafts = [
    4, 19, 7, 15, 11, 22, 5, 8, 24, 13, 30, 6, 17, 5, 12, 20, 8, 25, 9, 21, 14, 33, 11, 27, 6, 22, 10, 18, 31, 9, 26,
    12, 19, 35, 8, 24, 21, 13, 29, 7, 23, 16, 34, 11, 38, 20, 42, 15
  ];
  const {season} = demandForecast(ordersOf("2022-01", shafts, "2025-12-31"), "ash", "2026-12-31")!;
  expect(season).toMatchObject({busiest: 10, quietest: 2});
  expect(season!.ratio).toBeCloseTo(1.7549689324886337, 8);
  expect(season!.low).toBeCloseTo(1.0460763502619366, 8);
  expect(season!.high).toBeCloseTo(2.9442554104478953, 8);
  // Its months hop up and down: a season is not borne out.
  expect(season!.weight).toBeLessThan(0.5);
  expect(
    demandForecast(ordersOf("2025-01", Array(12).fill(10), "2025-12-31"), "ash", "2026-06-30")!.season
  ).toBeUndefined();
});

test("demandForecast(a plain season, years that do not start in January) names the months of the calendar", () => {
  const byMonth = [8, 7, 6, 5, 4, 5, 8, 14, 20, 24, 18, 11];
  const shafts = Array.from({length: 36}, (_, i) => byMonth[(i + 4) % 12]!);
  const {season} = demandForecast(ordersOf("2022-05", shafts, "2025-04-30"), "ash", "2026-04-30")!;
  expect(season).toMatchObject({busiest: 10, quietest: 5});
  expect(season!.weight).toBeGreaterThan(0.999);
  expect(Math.abs(season!.ratio - 6)).toBeLessThan(1);
});

// A fair once a year, a first order and then years of none, an order of long ago and sudden ones at the end: no curve may run away or break off.
test.each([
  ["one month of 36", [30, ...Array(35).fill(0)], 12],
  ["one month of 120", [10, ...Array(119).fill(0)], 12],
  ["each December", Array.from({length: 48}, (_, i) => (i % 12 === 11 ? 20 : 0)), 17],
  ["sudden growth", [1, ...Array(17).fill(0), 2, 3, 4, 5, 6, 8], 17],
  ["sudden and steep", [1, ...Array(20).fill(0), 6, 10, 12], 17],
  ["sudden and steeper", [1, ...Array(21).fill(0), 20, 40], 17]
])("demandForecast(%s) is no more than three times the busiest year", (_name, shafts, monthsAhead) => {
  const last = months("2022-01", "2099-12")[shafts.length - 1]!;
  const asOf = `${last}-28`;
  const until = `${months(last, "2099-12")[monthsAhead]!}-28`;
  const forecast = demandForecast(ordersOf("2022-01", shafts, asOf), "ash", until);
  if (forecast === undefined) return;
  const busiest = Math.max(...shafts.map((_, i) => shafts.slice(i, i + 12).reduce((a, b) => a + b, 0)));
  expect(forecast.mean).toBeLessThanOrEqual((3 * busiest * (monthsAhead + 1)) / 12);
  expect(forecast.low).toBeLessThanOrEqual(forecast.mean);
  expect(forecast.high).toBeGreaterThanOrEqual(Math.floor(forecast.mean));
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

test("demandForecasts: no answer hangs on what was asked before", () => {
  const shafts = Array.from({length: 40}, (_, i) => 8 + ((5 * i) % 7));
  const histories = ordersOf("2022-01", shafts, "2025-04-30");
  const asked = [
    ["2026-04-30", {}],
    ["2025-06-15", {growthFraction: 0.5}],
    ["2026-04-30", {growthFraction: -0.5}],
    ["2026-04-30", {}]
  ] as const;
  const forecast = demandForecasts(histories, "ash");
  for (const [until, options] of asked)
    expect(forecast(until, options)).toEqual(demandForecast(histories, "ash", until, options));
});

test("demandForecast(until a day that is past) is refused", () => {
  expect(() => demandForecast(ordersOf("2025-01", [5], "2025-12-31"), "ash", "2025-12-31")).toThrow(
    "demandForecast: until must be after 2025-12-31"
  );
});
