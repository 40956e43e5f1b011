import {expect, test} from "vitest";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {demandMonths} from "../../lib/figures/demandMonths.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test.each(["ash", "maple"])("demandMonths(sample book, %s) is sound, its table holds the months", (species) => {
  const forecast = demandForecast(now, species, "2028-05-31")!;
  const figure = demandMonths(forecast);
  expectSound(figure);
  expect(figure.table.rows).toEqual(forecast.months);
  expect(figure.alt).toContain(forecast.months.toSorted((a, b) => b.expected - a.expected)[0]!.month);
});

test("demandMonths(forecast) tells growth or shrinking only where the whole interval does", () => {
  const forecast = demandForecast(now, "ash", "2028-05-31")!;
  const {growthLow: _low, growthHigh: _high, growthFraction: _growth, ...young} = forecast;
  const title = (growthLow: number, growthHigh: number) => demandMonths({...young, growthLow, growthHigh}).title;
  expect(title(0.1, 0.25)).toBe("Orders grow 10.0 to 25.0\u00a0% a year");
  expect(title(-0.25, -0.1)).toBe("Orders shrink 10.0 to 25.0\u00a0% a year");
  expect(title(-0.01, 0.25)).toBe("No growth of orders beyond chance");
  expect(demandMonths(young).title).toBe("Too few months to tell whether orders grow");
});

test("demandMonths(forecast) tells each month to come at a mark of its own", () => {
  const forecast = demandForecast(now, "ash", "2028-05-31")!;
  const {wide} = expectSound(demandMonths(forecast));
  const coming = forecast.months.filter(({ordered}) => ordered === undefined);
  expect(wide.match(/about \d+ expected/g)).toHaveLength(coming.length);
});
