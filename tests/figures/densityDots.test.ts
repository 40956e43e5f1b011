import {expect, test} from "vitest";
import {densityBySupplier} from "../../lib/density/densityBySupplier.ts";
import {densityDots, slug} from "../../lib/figures/densityDots.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

test.each(["ash", "maple"])("densityDots(sample book, %s) is sound; table and alt have every supplier", (species) => {
  const rows = densityBySupplier(now);
  const window = now.settings.species[species]!.windowKgM3;
  const figure = densityDots(rows, now.pieces, {species, window, period: "all years"});
  expectSound(figure);
  const own = rows.filter((row) => row.species === species);
  expect(figure.table.rows).toEqual(own);
  for (const {supplier} of own) expect(figure.alt).toContain(supplier);
});

test("densityDots of no squares does not crash", () => {
  expectSound(densityDots([], [], {species: "ash", window: {low: 640, high: 740}, period: "no time"}));
});

test("slug(name) is fit for an anchor, and names that differ stay different", () => {
  expect(slug("sugar-maple")).toBe("sugar-maple");
  const names = ["Sugar Maple", "sugar maple", "ash (brown)", "ash brown", "érable", "клён", "дуб", "–"];
  const slugs = names.map(slug);
  for (const one of slugs) expect(one).toMatch(/^[a-z0-9][a-z0-9-]*$/);
  expect(new Set(slugs).size).toBe(names.length);
});
