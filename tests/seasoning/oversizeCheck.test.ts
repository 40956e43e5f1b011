import {describe, expect, test} from "vitest";
import {latheSpread, oversizeCheck} from "../../lib/seasoning/oversizeCheck.ts";
import {ovality} from "../../lib/wood/ovality.ts";
import {makeHistories, makePiece, settings} from "../pieces.ts";
import {dice} from "./simulatedDrying.ts";

const store = {equilibriumPct: 9, source: "workshop.json" as const, readings: 0};
const came = (pct: number, sd = 1) =>
  new Map([["S1", {pct, low: 0, high: 30, by: [], cameWithPct: pct, cameWithSdPct: sd}]]);
const noBow = {bowMmPerM: {mean: 0, sd: 0}};
const check = (piece: ReturnType<typeof makePiece>, pct: number, options?: Parameters<typeof oversizeCheck>[2]) =>
  oversizeCheck(makeHistories([piece], {asOf: 100}), {store, moisture: came(pct)}, options)[0]!;
const turnedTo = (stage: string, diameterMm?: number) => [
  {day: 60, stage, turned: true, massG: 1000, ...(diameterMm !== undefined && {diameterMm})}
];

describe("oversizeCheck, by hand", () => {
  // European ash: tangential 8 %, radial 5 %, S = 30 %. From 15 to 9 %: f(15) = 1 − 0.08 · 15/30 = 0.96, f(9) = 1 − 0.08 · 21/30 = 0.944:
  // 39.5 mm shrink by 39.5 (1 − 0.944/0.96) = 0.6583; along the radius 39.5 (1 − 0.965/0.975) = 0.4051.
  test("a square: the smaller side, shrunk along the rings, against the round of 37 mm", () => {
    const row = check(makePiece({intake: {widthMm: 40.2, thicknessMm: 39.5}}), 15, noBow);
    expect(row).toMatchObject({
      sizeBy: "square",
      sizeMm: 39.5,
      targetMm: 37,
      nextStage: "rough-round",
      verdict: "clears"
    });
    expect(row.shrinkMm).toBeCloseTo(0.6583, 3);
    expect(row.ovalMm).toBeCloseTo(0.6583 - 0.4051, 3);
    expect(row.marginMm).toBeCloseTo(39.5 - 0.6583 - 37, 3);
    // 0.08/30 a point of 0.96 of the green size is 0.1097 mm; the calliper's 0.1, a fifth of 0.6583, and 0.1036 · √(1² + 0.5²), 0.944/0.96² of it.
    const perPoint = (39.5 * 0.944 * (0.08 / 30)) / 0.96 ** 2;
    expect(row.sdMm).toBeCloseTo(Math.hypot(0.1, 0.2 * 0.6583, perPoint * Math.hypot(1, 0.5)), 3);
  });

  test("a round measured: its smaller diameter is that of ovality", () => {
    const row = check(makePiece({turned: [60], measurements: turnedTo("rough-round", 37.2)}), 12, noBow);
    const {tangentialMm} = ovality({diameterMm: 37.2, fromPct: 12, toPct: 9, species: "european-ash"});
    expect(row).toMatchObject({end: "large", sizeBy: "measured", sizeMm: 37.2, targetMm: 33.5, verdict: "clears"});
    expect(row.marginMm).toBeCloseTo(tangentialMm - 33.5, 9);
  });

  test("a round that was not measured is its target and what the lathe gives on average", () => {
    const row = check(makePiece({turned: [60], measurements: turnedTo("rough-round")}), 9, noBow);
    expect(row).toMatchObject({sizeBy: "target", sizeMm: 37.1, shrinkMm: 0});
    expect(row.sdMm).toBeGreaterThan(0.19);
  });

  test("the small end decides where its target is nearer", () => {
    const stages = settings.stages.map((stage) => (stage.name === "proud-round" ? {...stage, smallMm: 17.1} : stage));
    const piece = makePiece({turned: [60, 90], measurements: turnedTo("second-round", 33.5)});
    const histories = {...makeHistories([piece], {asOf: 100}), settings: {...settings, stages}};
    const [row] = oversizeCheck(histories, {store, moisture: came(9)}, noBow);
    expect(row).toMatchObject({end: "small", sizeMm: 17.1, targetMm: 17.1, verdict: "too small"});
    expect(row!.marginMm).toBeCloseTo(0, 9);
  });

  test("bow takes its length's share off the diameter: by hand, 1 mm a metre of 1490 mm", () => {
    const piece = makePiece({turned: [60], measurements: turnedTo("rough-round", 35.6)});
    const row = check(piece, 9, {bowMmPerM: {mean: 1, sd: 0}});
    expect(row.bowMm).toBeCloseTo(1.49, 9);
    // 35.6 − 1.49 − 33.5 = 0.61, where 0.5 is wanted and the calliper alone leaves 0.1 of doubt.
    expect(row.marginMm).toBeCloseTo(0.61, 9);
    expect(row.verdict).toBe("doubtful");
  });

  test("says nothing of finished pieces, of the last stage, and where the moisture is not known", () => {
    const rows = oversizeCheck(
      makeHistories([makePiece({turned: [1, 2, 3, 4]}), makePiece({square: "S2"})], {asOf: 9}),
      {
        store,
        moisture: came(12)
      }
    );
    expect(rows).toEqual([]);
  });

  test("refuses a bow below nothing", () => {
    expect(() => check(makePiece(), 12, {bowMmPerM: {mean: -1, sd: 0}})).toThrow(
      new RangeError("oversizeCheck: bowMmPerM.mean must be 0 or more, got -1.")
    );
  });
});

// The bent piece is hung so that the straight axis of the next stage lies b/2 from its own at the middle and at both ends; between, as a parabola.
test("nowhere along the piece is less left than at the worse end, bow included", () => {
  const {uniform} = dice(3);
  for (let i = 0; i < 200; i++) {
    const [large, small] = [37 * (0.9 + 0.1 * uniform()), 12 + 25 * uniform()];
    const [nextLarge, nextSmall] = [33.5 * uniform(), 11 * uniform()];
    const bow = 2 * uniform();
    const at = (x: number) => {
      const off = bow / 2 - 4 * bow * x * (1 - x);
      return large + (small - large) * x - (nextLarge + (nextSmall - nextLarge) * x) - 2 * Math.abs(off);
    };
    // At an end 2 · b/2 is lost: what the check takes off.
    const worse = Math.min(large - nextLarge, small - nextSmall) - bow;
    const along = Array.from({length: 101}, (_, k) => at(k / 100));
    expect(Math.min(...along)).toBeGreaterThan(worse - 1e-9);
    expect(Math.min(at(0), at(1))).toBeCloseTo(worse, 9);
  }
});

// Law: the chance is that of pieces drawn with every error. 20,000 of them know a share of 0.7 to ± 0.01 at three standard errors; shrinkage is bent by 1 %.
test("the chance to clear is that of simulated pieces", () => {
  const {normal} = dice(11);
  const piece = makePiece({turned: [60], measurements: turnedTo("rough-round", 34.9)});
  const row = check(piece, 13, {bowMmPerM: {mean: 0.3, sd: 0.2}});
  let clears = 0;
  const n = 20_000;
  for (let i = 0; i < n; i++) {
    const diameterMm = 34.9 + 0.1 * normal();
    const [fromPct, toPct] = [13 + normal(), 9 + 0.5 * normal()];
    const {tangentialMm} = ovality({diameterMm, fromPct, toPct, species: "european-ash"});
    const shrunk = (diameterMm - tangentialMm) * (1 + 0.2 * normal());
    const bow = 1.49 * (0.3 + 0.2 * normal());
    if (diameterMm - shrunk - bow - 33.5 >= settings.ready.clearanceMm) clears++;
  }
  expect(row.clearsFraction).toBeGreaterThan(0.3);
  expect(row.clearsFraction).toBeLessThan(0.9);
  expect(Math.abs(row.clearsFraction - clears / n)).toBeLessThan(0.015);
});

test("latheSpread by hand: eight diameters, the calliper's variance taken off; seven are too few", () => {
  const over = [0.1, 0.3, 0.1, 0.3, 0.1, 0.3, 0.1, 0.3];
  const pieces = over.map((mm, i) =>
    makePiece({square: `S${i}`, turned: [60], measurements: turnedTo("rough-round", 37 + mm)})
  );
  const [rough, second] = latheSpread({settings, pieces});
  // s² = 8 · 0.01/7; less 0.01.
  expect(rough).toEqual({
    stage: "rough-round",
    measured: 8,
    overMm: expect.closeTo(0.2, 9),
    sdMm: expect.closeTo(Math.sqrt(0.08 / 7 - 0.01), 9),
    isDefault: false
  });
  expect(second).toMatchObject({measured: 0, isDefault: true});
  expect(latheSpread({settings, pieces: pieces.slice(1)})[0]).toMatchObject({measured: 7, isDefault: true});
});
