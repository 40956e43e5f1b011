import {expect, test} from "vitest";
import {demandBackTest as backTest} from "../../lib/buying/demandBackTest.ts";
import {demandBackTest} from "../../lib/figures/demandBackTest.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test.each(["ash", "maple"])(
  "demandBackTest(sample book, %s) is sound, each forecast and number at a mark of its own",
  (species) => {
    const test = backTest(now, species)!;
    const figure = demandBackTest(test);
    const {wide} = expectSound(figure);
    expect(figure.table.rows.map(({from, ordered}) => [from, ordered])).toEqual(
      test.forecasts.map(({from, ordered}) => [from, ordered])
    );
    expect(wide.match(/about \d+ expected/g)).toHaveLength(2 * test.forecasts.length);
  }
);

test("demandBackTest(rows) counts in its title what lay in the interval", () => {
  const rows = backTest(now, "ash")!;
  const n = rows.forecasts.length;
  expect(demandBackTest({...rows, inside: n}).title).toBe(`All ${n} past forecasts held what came`);
  expect(demandBackTest({...rows, inside: n - 1}).title).toBe(`${n - 1} of ${n} past forecasts held what came`);
  const one = {...rows, forecasts: rows.forecasts.slice(0, 1), apart: 1};
  expect(demandBackTest({...one, inside: 1}).title).toBe("The one past forecast held what came");
  expect(demandBackTest({...one, inside: 0}).title).toBe("The one past forecast missed what came");
  expect(demandBackTest({...rows, apart: 1}).note).toContain("they all overlap");
});
