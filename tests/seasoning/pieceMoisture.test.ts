import {describe, expect, test} from "vitest";
import type {Measurement} from "../../lib/book/histories.ts";
import {dryMasses, moistureAt, pieceMoisture} from "../../lib/seasoning/pieceMoisture.ts";
import {makePiece} from "../pieces.ts";
import {dice} from "./simulatedDrying.ts";

const accuracy = {scaleG: 0, calliperMm: 0.1, tapeMm: 1, meterPct: 1.2};
const at = (day: number, stage: string, massG: number, moisturePct?: number, turned = false): Measurement => ({
  day,
  stage,
  turned,
  massG,
  ...(moisturePct !== undefined && {moisturePct})
});

describe("dryMasses", () => {
  test("by hand: one reading", () => {
    const piece = makePiece({measurements: [at(0, "square", 1680, 12)]});
    expect(dryMasses(piece, accuracy)).toEqual([
      {stage: "square", dryG: expect.closeTo(1500, 9), sdFraction: expect.closeTo(1.2 / 112, 12), readings: 1}
    ]);
  });

  // By hand: 1680 g at 12 % and 1650 g at 10 % are both 1500 g dry; the cut takes 1650 to 1100 g, two thirds: 1000 g dry. A third reading there, 1080 g
  // at 8 %, agrees. u = 1.2/112, 1.2/110, 1.2/108; without a scale's error the weights are 1/u².
  test("by hand: three readings over a cut, carried both ways", () => {
    const measurements = [
      at(0, "square", 1680, 12),
      at(60, "square", 1650, 10),
      at(60, "rough-round", 1100, undefined, true),
      at(90, "rough-round", 1080, 8)
    ];
    const sd = 1 / Math.sqrt([112, 110, 108].reduce((all, one) => all + (one / 1.2) ** 2, 0));
    expect(dryMasses(makePiece({turned: [60], measurements}), accuracy)).toEqual([
      {stage: "square", dryG: expect.closeTo(1500, 9), sdFraction: expect.closeTo(sd, 12), readings: 3},
      {stage: "rough-round", dryG: expect.closeTo(1000, 9), sdFraction: expect.closeTo(sd, 12), readings: 3}
    ]);
  });

  test("a cut not weighed on both sides breaks the chain; three days before it is near enough, four are not", () => {
    const cut = (before: number) =>
      dryMasses(
        makePiece({
          turned: [60],
          measurements: [
            at(0, "square", 1680, 12),
            at(before, "square", 1650),
            at(60, "rough-round", 1100, undefined, true)
          ]
        }),
        accuracy
      ).map(({stage}) => stage);
    expect(cut(57)).toEqual(["square", "rough-round"]);
    expect(cut(56)).toEqual(["square"]);
  });

  test("a scale's error widens what is carried over a cut: by hand, 2 g of 1650 and 2 g of 1100", () => {
    const measurements = [at(60, "square", 1650, 10), at(60, "rough-round", 1100, undefined, true)];
    const [, second] = dryMasses(makePiece({turned: [60], measurements}), {...accuracy, scaleG: 2});
    const own = (1.2 / 110) ** 2 + (2 / 1650) ** 2;
    expect(second!.sdFraction).toBeCloseTo(Math.sqrt(own + (2 / 1650) ** 2 + (2 / 1100) ** 2), 12);
  });
});

// Law: 95 of 100 intervals hold the true moisture. 2000 pieces: chance moves the share by ∓ 1.5 at three standard errors; errors of the cuts are taken as
// independent between readings, which they are not quite.
test("pieceMoisture holds the true moisture by mass in 95 of 100, over two cuts", () => {
  const {normal, uniform} = dice(7);
  const exact = {...accuracy, scaleG: 1};
  let held = 0;
  const n = 2000;
  for (let i = 0; i < n; i++) {
    const measurements: Measurement[] = [];
    const weigh = (day: number, stage: string, dryG: number, pct: number, read: boolean, turned = false) =>
      measurements.push(
        at(day, stage, dryG * (1 + pct / 100) + normal(), read ? pct + 1.2 * normal() : undefined, turned)
      );
    weigh(0, "square", 1500, 14, true);
    weigh(60, "square", 1500, 11, uniform() < 0.3);
    weigh(60, "rough-round", 950, 11, uniform() < 0.3, true);
    weigh(90, "rough-round", 950, 10, uniform() < 0.3);
    weigh(90, "second-round", 500, 10, false, true);
    weigh(115, "second-round", 500, 9.5, false);
    const {mass} = pieceMoisture(makePiece({turned: [60, 90], measurements}), exact);
    if (mass!.low <= 9.5 && 9.5 <= mass!.high) held++;
  }
  expect(held / n).toBeGreaterThan(0.935);
  expect(held / n).toBeLessThan(0.968);
});

test("pieceMoisture: the meter's last reading and its day; by mass only where the piece was weighed at its stage", () => {
  const measurements = [at(0, "square", 1680, 12), {day: 70, stage: "rough-round", turned: true, moisturePct: 10}];
  const {meter, mass} = pieceMoisture(makePiece({turned: [70], measurements}), accuracy);
  expect(meter).toEqual({pct: 10, low: expect.closeTo(7.648, 3), high: expect.closeTo(12.352, 3), day: 70});
  expect(mass).toBeUndefined();
  expect(pieceMoisture(makePiece(), accuracy)).toEqual({});
});

test("moistureAt by hand: 1620 g of 1500 g dry is 8 %", () => {
  const dry = {stage: "square", dryG: 1500, sdFraction: 0.01, readings: 1};
  expect(moistureAt(1620, dry, {...accuracy, scaleG: 1.62})).toEqual({
    pct: expect.closeTo(8, 10),
    sdPct: expect.closeTo(108 * Math.hypot(0.01, 0.001), 10)
  });
});
