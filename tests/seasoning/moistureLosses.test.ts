import {expect, test} from "vitest";
import type {Measurement} from "../../lib/book/histories.ts";
import {moistureLosses} from "../../lib/seasoning/moistureLosses.ts";
import {frozen, makePiece, settings} from "../pieces.ts";

const weighed = (day: number, stage: string, massG: number, moisturePct?: number): Measurement => ({
  day,
  stage,
  turned: false,
  massG,
  ...(moisturePct !== undefined && {moisturePct})
});
const turned = (day: number, stage: string, massG: number): Measurement => ({
  ...weighed(day, stage, massG),
  turned: true
});

// By hand: 1120 g at 12 % is 1000 g dry; 1080 g at the end of the rest is 8 %: 4 points, 40 g of water; the cut leaves 700 g: 380 g.
// At the next stage the meter is not used: 700 g carries 8 %, 648.148 g dry; 690 g at its end is 6.457 %.
test("moistureLosses: water from mass, what the lathe takes kept apart, moisture carried over the cut", () => {
  const piece = makePiece({
    turned: [70],
    measurements: [
      weighed(0, "square", 1120, 12),
      weighed(70, "square", 1080),
      turned(70, "rough-round", 700),
      weighed(100, "rough-round", 690)
    ]
  });
  const [square, rough, second] = moistureLosses({settings, pieces: frozen([piece])});
  expect(square).toMatchObject({species: "ash", stage: "square", pieces: 1, restDays: 70, startPct: 12, waterG: 40});
  expect(square!.endPct).toBeCloseTo(8, 10);
  expect(square!.lossPct).toBeCloseTo(4, 10);
  expect(square!.turnedOffG).toBe(380);
  expect(square).not.toHaveProperty("lossLow");
  expect(rough!.startPct).toBeCloseTo(8, 10);
  expect(rough!.endPct).toBeCloseTo(100 * ((690 / 700) * 1.08 - 1), 10);
  expect(rough).not.toHaveProperty("turnedOffG");
  expect(second).toEqual({species: "ash", stage: "second-round", pieces: 0});
});

// Read once at 14 %, not weighed before the cut: in 70 days it dried, nobody knows how far, and 14 % at the next stage would be wrong.
test("moistureLosses: moisture is not carried over days in which a piece dried unweighed", () => {
  const over = (lastWeighing: number) =>
    moistureLosses({
      settings,
      pieces: frozen([
        makePiece({
          turned: [70],
          measurements: [
            weighed(0, "square", 1140, 14),
            weighed(lastWeighing, "square", 1100),
            turned(70, "rough-round", 700),
            weighed(100, "rough-round", 690)
          ]
        })
      ])
    }).map(({pieces}) => pieces);
  expect(over(67).slice(0, 2)).toEqual([1, 1]);
  expect(over(66).slice(0, 2)).toEqual([1, 0]);
});

// 1680 g at 12 % are 1500 g dry: at 1100 g wood was turned off, and what is weighed later says nothing of its water.
test("moistureLosses: a rest after which a piece weighs less than its dry wood is none, nor is moisture carried on from it", () => {
  const piece = makePiece({
    turned: [70],
    measurements: [
      weighed(0, "square", 1680, 12),
      weighed(60, "square", 1100),
      turned(70, "rough-round", 1090),
      weighed(100, "rough-round", 1080)
    ]
  });
  expect(moistureLosses({settings, pieces: frozen([piece])}).every(({pieces}) => pieces === 0)).toBe(true);
});

test("moistureLosses leaves out a piece weighed once at a stage, and one whose moisture nobody knows", () => {
  const once = makePiece({measurements: [weighed(0, "square", 1120, 12)]});
  const dry = makePiece({
    measurements: [0, 50].map((day) => weighed(day, "square", 1120))
  });
  expect(moistureLosses({settings, pieces: [once, dry]}).every(({pieces}) => pieces === 0)).toBe(true);
  expect(moistureLosses({settings, pieces: []})).toEqual([]);
});
