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
