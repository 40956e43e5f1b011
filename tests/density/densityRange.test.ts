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

// Truth known: mean 700, SD 20 or 15 between and 30 within lots; 300 suppliers. Of 100 ranges 95 should hold 19 of 20 squares; the
// approximation and 300 trials leave room: no fewer than 88.
test.each([
  [[25, 25, 25, 25, 25, 25, 25, 25], 20],
  [[3, 5, 8, 40], 15]
])("densityRange of lots of %j holds 19 of 20 squares in about 95 of 100 simulated suppliers", (sizes, between) => {
  const random = randomStream(11);
  const normal = () => normalQuantile(Math.min(1 - 1e-12, Math.max(1e-12, random())));
  const total = Math.hypot(between, 30);
  let held = 0;
  for (let i = 0; i < 300; i++) {
    const pieces = sizes.flatMap((size, lot) => {
      const level = 700 + between * normal();
      return Array.from({length: size}, () => makePiece({lot: `L${lot}`, density: level + 30 * normal()}));
    });
    const {lowKgM3, highKgM3} = densityRange({pieces})[0]!;
    const inside = normalCdf((highKgM3 - 700) / total, 0, 1) - normalCdf((lowKgM3 - 700) / total, 0, 1);
    if (inside >= 0.95) held++;
  }
  expect(held / 300).toBeGreaterThan(0.88);
  expect(held / 300).toBeLessThan(1);
});
