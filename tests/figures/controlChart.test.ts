import {expect, test} from "vitest";
import {discardChart} from "../../lib/defects/discardChart.ts";
import {controlChart} from "../../lib/figures/controlChart.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test("controlChart(sample book) is sound, its table holds the last 36 months, alt names the highest", () => {
  const chart = discardChart(now, now.pieces);
  const figure = controlChart(chart, {period: "all years"});
  expectSound(figure);
  expect(figure.table.rows.map(({month, fraction}) => [month, fraction])).toEqual(
    chart.months.slice(-36).map(({month, fraction}) => [month, fraction])
  );
  const highest = chart.months.slice(-36).toSorted((a, b) => (b.fraction ?? 0) - (a.fraction ?? 0))[0]!;
  expect(figure.alt).toContain(highest.month);
});

test("controlChart without months draws and says so", () => {
  const figure = controlChart({months: []}, {period: "no time"});
  expectSound(figure);
  expect(figure.alt).toMatch(/no month/);
});
