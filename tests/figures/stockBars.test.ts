import {expect, test} from "vitest";
import {stockBars} from "../../lib/figures/stockBars.ts";
import {stockOnHand} from "../../lib/seasoning/stockOnHand.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test("stockBars(sample book) is sound and its table holds the rows drawn", () => {
  const rows = stockOnHand(now);
  const figure = stockBars(rows, {asOf: "2026-10-31"});
  const {wide} = expectSound(figure);
  expect(figure.table.rows).toEqual(rows);
  const most = Math.max(...rows.map(({pieces}) => pieces));
  expect(figure.alt).toContain(String(most));
  expect(wide).toContain(`>${most}<`);
});

test("stockBars([]) draws and says that the store is empty", () => {
  const figure = stockBars([], {asOf: "2026-10-31"});
  expectSound(figure);
  expect(figure.title).toBe("The store is empty");
});
