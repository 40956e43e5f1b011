import {expect, test} from "vitest";
import {steadiness, steadyLimit} from "../../lib/seasoning/steadiness.ts";
import {makePiece, settings} from "../pieces.ts";

const weighed = (...all: [day: number, massG: number][]) =>
  makePiece({
    turned: [60],
    measurements: [
      {day: 0, stage: "square", turned: false, massG: 1680, moisturePct: 12},
      ...all.map(([day, massG]) => ({day, stage: "rough-round", turned: day === 60, massG}))
    ]
  });

// By hand: 1 g of scale, two of them are 2 g; 0.1 % of 1100 g is less.
test("the last weighing is held against the latest one at least a week before it", () => {
  expect(steadiness(weighed([60, 1100], [80, 1092], [84, 1091], [88, 1091]), settings)).toEqual({
    weighings: 4,
    weighedOn: 88,
    massG: 1091,
    days: 8,
    lostG: 1,
    limitG: 2,
    steady: true,
    // The next is held against that of day 84, once it is a week old.
    tellsFrom: 91
  });
});

test("a long time between shows more than the piece still does: not steady, and the next weighing tells", () => {
  const found = steadiness(weighed([60, 1100], [90, 1090]), settings);
  expect(found).toMatchObject({days: 30, lostG: 10, steady: false, tellsFrom: 97});
});

test("weighed once, or twice in a week, tells nothing; from when on it would", () => {
  expect(steadiness(weighed([60, 1100]), settings)).toEqual({weighings: 1, weighedOn: 60, massG: 1100, tellsFrom: 67});
  expect(steadiness(weighed([60, 1100], [65, 1100]), settings).tellsFrom).toBe(67);
  expect(steadiness(weighed([60, 1100], [65, 1100]), settings).steady).toBeUndefined();
});

test("weighings before the last cut count for nothing", () => {
  expect(steadiness(weighed(), settings)).toEqual({weighings: 0});
});

test("a scale without error shows any change beyond 0.1 %: by hand, 1.0 of 1100 g is steady, 1.2 is not", () => {
  const exact = {...settings, accuracy: {...settings.accuracy, scaleG: 0}};
  expect(steadiness(weighed([60, 1100], [70, 1099]), exact).steady).toBe(true);
  expect(steadiness(weighed([60, 1100], [70, 1098.8]), exact).steady).toBe(false);
  expect(steadyLimit(1100, exact)).toBeCloseTo(1.1, 12);
  expect(steadyLimit(1100, settings)).toBe(2);
});
