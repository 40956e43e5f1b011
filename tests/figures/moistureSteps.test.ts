import {expect, test} from "vitest";
import {moistureSteps} from "../../lib/figures/moistureSteps.ts";
import {moistureLosses} from "../../lib/seasoning/moistureLosses.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

const stages = now.settings.stages.slice(0, -1).map(({name}) => name);

test("moistureSteps(sample book) is sound, its table holds the rows, alt names every rest", () => {
  const rows = moistureLosses(now);
  const figure = moistureSteps(rows, {stages, equilibriumPct: 9.4, period: "all years"});
  expectSound(figure);
  expect(figure.table.rows).toEqual(rows);
  for (const {species, stage} of rows) expect(figure.alt).toContain(`${species} ${stage}`);
});

test("moistureSteps of a single stage does not call it the one where most is lost", () => {
  const rows = moistureLosses(now).filter(({stage}) => stage === stages[0]);
  const figure = moistureSteps(rows, {stages, period: "all years"});
  expectSound(figure);
  expect(figure.title).toBe("Water lost at the square rest; no other known");
});

test("moistureSteps([]) draws and says that nothing was weighed twice", () => {
  expectSound(moistureSteps([], {stages, period: "no time"}));
});
