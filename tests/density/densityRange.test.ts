import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {expect, test} from "vitest";
import {densityRange} from "../../lib/density/densityRange.ts";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {toleranceFactor} from "../../lib/stats/toleranceFactor.ts";
import {makePiece} from "../pieces.ts";

test("densityRange of lots that do not differ is that of independent squares", () => {
  // Every lot 690, 700, 710: between 0, within 10² · 3/2 · … = SD² within of three values, 100; n* = all 18.
  const pieces = ["A", "B", "C", "D", "E", "F"].flatMap((lot) =>
    [690, 700, 710].map((density) => makePiece({lot, density}))
  );
  const [row] = densityRange({pieces});
  const half = toleranceFactor({n: 18, coverage: 0.95}) * 10;
  expect(row).toMatchObject({squares: 18, lots: 6, effective: 18});
  expect(row!.lowKgM3).toBeCloseTo(700 - half, 6);
  expect(row!.highKgM3).toBeCloseTo(700 + half, 6);
});

test("densityRange of lots of alike squares rests on the lots, and says nothing of fewer than four", () => {
  const pieces = [660, 680, 700, 720, 740].flatMap((density) =>
    Array.from({length: 20}, () => makePiece({lot: `L${density}`, density}))
  );
  expect(densityRange({pieces})[0]!.effective).toBe(5);
  expect(densityRange({pieces: pieces.slice(0, 60)})).toEqual([]);
});

// Lots of 40, 1, 1 and 1 squares: the one big lot's level is all that is known well. A factor of two squares would be 37.
test("densityRange of one big lot and three of one square is none, not one below 0", () => {
  const sizes = [40, 1, 1, 1];
  const pieces = sizes.flatMap((size, lot) =>
    Array.from({length: size}, (_, i) => makePiece({lot: `L${lot}`, density: 640 + 40 * lot + (i % 2)}))
  );
  expect(densityRange({pieces})).toEqual([]);
});

// Truth known: mean 700, SD 15 to 30 between and 30 within lots; 300 suppliers. Of 100 ranges 95 should hold 19 of 20 squares, with four
// lots about 90, as how lots differ is hardly known: chance alone (3 standard errors of 300 trials, 5 of 100) lets it be 85, and 90 with eight lots.
test.each([
  [[25, 25, 25, 25, 25, 25, 25, 25], 20, 0.9],
  [[25, 25, 25, 25], 20, 0.85],
  [[25, 25, 25, 25], 30, 0.85],
  [[3, 5, 8, 40], 15, 0.9]
])(
  "densityRange of lots of %j, SD %i between them, holds 19 of 20 squares as often as it says",
  (sizes, between, least) => {
    const random = randomStream(11);
    const normal = () => normalQuantile(Math.min(1 - 1e-12, Math.max(1e-12, random())));
    const total = Math.hypot(between, 30);
    let [held, given] = [0, 0];
    for (let i = 0; i < 300; i++) {
      const pieces = sizes.flatMap((size, lot) => {
        const level = 700 + between * normal();
        return Array.from({length: size}, () => makePiece({lot: `L${lot}`, density: level + 30 * normal()}));
      });
      const [row] = densityRange({pieces});
      if (!row) continue;
      given++;
      const {lowKgM3, highKgM3} = row;
      expect(lowKgM3).toBeGreaterThan(0);
      const inside = normalCdf((highKgM3 - 700) / total, 0, 1) - normalCdf((lowKgM3 - 700) / total, 0, 1);
      if (inside >= 0.95) held++;
    }
    expect(given).toBeGreaterThan(250);
    expect(held / given).toBeGreaterThan(least);
    expect(held / given).toBeLessThan(1);
  }
);
