import {readdirSync} from "node:fs";
import {expect, test} from "vitest";
import * as lib from "../lib/index.ts";

test("lib/index.ts names every file of the public folders that exports a function", async () => {
  for (const folder of ["wood", "stats", "book", "yield", "defects", "density", "seasoning", "buying", "rack"]) {
    for (const file of readdirSync(`lib/${folder}`).filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts"))) {
      const path = new URL(`../lib/${folder}/${file}`, import.meta.url).href;
      const module = await import(/* @vite-ignore */ path);
      const missing = Object.keys(module).filter((name) => !(name in lib));
      expect({file: `${folder}/${file}`, missing}).toEqual({file: `${folder}/${file}`, missing: []});
    }
  }
});

test("lib/index.ts: the example of the README holds", () => {
  const volumeMm3 = lib.barVolume({lengthMm: 1500, widthMm: 40, thicknessMm: 40});
  expect(volumeMm3).toBe(2_400_000);
  const densityKgM3 = lib.density({massG: 1680, volumeMm3});
  expect(densityKgM3).toBe(700);
  expect(lib.densityAt12({densityKgM3, moisturePct: 14, species: "white-ash"})).toBeCloseTo(694.3, 1);
  expect(lib.wilson(12, 20)!.low).toBeCloseTo(0.387, 3);
  expect(lib.wilson(12, 20)!.high).toBeCloseTo(0.781, 3);
});
