import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {storeAir} from "../../lib/seasoning/storeAir.ts";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";

const reading = (date: string, temperatureC: number, humidityPct: number) => ({date, temperatureC, humidityPct});

test("storeAir(climate, asOf, {days: 10}) means the readings after the first day up to the last", () => {
  const climate = [
    reading("2026-01-21", 10, 40),
    reading("2026-01-31", 20, 60),
    reading("2026-01-25", 16, 50),
    reading("2026-02-01", 0, 90)
  ];
  const air = storeAir(climate, dayNumber("2026-01-31"), {days: 10})!;
  expect(air).toMatchObject({from: "2026-01-25", to: "2026-01-31", readings: 2, temperatureC: 18, humidityPct: 55});
  const each = [climate[1]!, climate[2]!].map((one) => equilibriumMoisture(one));
  expect(air.equilibriumPct).toBeCloseTo((each[0]! + each[1]!) / 2, 12);
});

test("storeAir without a reading in the time is undefined", () => {
  expect(storeAir([], 100)).toBeUndefined();
  expect(storeAir([reading("2020-01-01", 20, 50)], dayNumber("2026-01-31"))).toBeUndefined();
});
