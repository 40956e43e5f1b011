import {describe, expect, test} from "vitest";
import {dayText} from "../../lib/book/day.ts";
import {Settings} from "../../lib/book/settings.ts";
import {storeCourse, storeMoisture} from "../../lib/seasoning/storeMoisture.ts";

const reading = (day: number, humidityPct: number, temperatureC = 70 * (5 / 9) - 160 / 9) => ({
  date: dayText(day),
  temperatureC,
  humidityPct
});
const by = (store: object) => Settings.parse({store});

// Wood Handbook, FPL-GTR-190 (2010), table 4-2 at 70 °F: 30 % humidity 6.2, 50 % 9.2, 70 % 13.1 (as in tests/reference/wood-equilibriumMoisture.test.ts).
describe("storeMoisture", () => {
  test("is the mean of the last 60 days' readings, and says from when", () => {
    const climate = [reading(30, 30), reading(100, 50), reading(110, 70), reading(130, 30)];
    const store = storeMoisture(climate, {settings: by({moisturePct: 8}), asOf: 120})!;
    expect(store.equilibriumPct).toBeCloseTo((9.2 + 13.1) / 2, 0);
    expect(store).toMatchObject({source: "climate.csv", readings: 2, from: dayText(100), to: dayText(110)});
  });

  test("is the setting where no reading is recent enough, and not known without both", () => {
    const climate = [reading(30, 30)];
    expect(storeMoisture(climate, {settings: by({moisturePct: 8}), asOf: 120})).toEqual({
      equilibriumPct: 8,
      source: "workshop.json",
      readings: 0
    });
    expect(storeMoisture(climate, {settings: by({}), asOf: 120})).toBeUndefined();
    expect(storeMoisture(climate, {settings: by({days: 100}), asOf: 120})!.readings).toBe(1);
  });
});

describe("storeCourse", () => {
  test("follows the reading in force, the mean of a day's, and falls to the setting when it is too old", () => {
    const climate = [reading(12, 70), reading(12, 50), reading(10, 30)];
    const course = storeCourse(climate, {settings: by({moisturePct: 8, days: 3}), from: 9, to: 16});
    expect(course.map((pct) => Math.round(pct! * 10) / 10)).toEqual([8, 6.2, 6.2, 11.2, 11.2, 11.2, 8, 8]);
  });

  test("has no value where there is neither", () => {
    const course = storeCourse([reading(10, 30)], {settings: by({days: 2}), from: 9, to: 12});
    expect(course.map((pct) => pct !== undefined)).toEqual([false, true, true, false]);
  });
});
