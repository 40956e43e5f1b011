import {expect, test} from "vitest";
import {squaresFlow} from "../../lib/figures/squaresFlow.ts";
import {whereSquaresGo} from "../../lib/yield/whereSquaresGo.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test("squaresFlow(sample book) is sound; the classes of each row of its table add up to 100", () => {
  const figure = squaresFlow(whereSquaresGo(now, now.pieces), now.settings, {period: "all years"});
  expectSound(figure);
  for (const row of figure.table.rows) {
    const parts = ["finished", "stock", "diverted", "growth", "drying", "other"].map((name) => row[name] as number);
    expect(parts.reduce((a, b) => a + b, 0)).toBeCloseTo(100, 6);
  }
  expect(figure.alt).toContain(`${figure.table.rows.at(-1)!.weeks} weeks`);
});

test("squaresFlow([]) draws and says that nothing has been followed", () => {
  const figure = squaresFlow([], now.settings, {period: "no time"});
  expectSound(figure);
  expect(figure.table.rows).toEqual([]);
});
