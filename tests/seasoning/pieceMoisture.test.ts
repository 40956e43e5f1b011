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

// Generalised least squares: of readings y = ln D at the stage asked + errors with the covariance V, the best guess is (1ᵀV⁻¹y)/(1ᵀV⁻¹1), its variance
// 1/(1ᵀV⁻¹1). Errors of two readings have in common the cuts that both are carried over.
test("dryMasses is the best linear guess with all covariances, at every stage of a chain", () => {
  const rough = {...accuracy, scaleG: 8};
  const measurements = [
    at(0, "square", 1680, 12),
    at(60, "square", 1650, 11),
    at(60, "rough-round", 1100, 10, true),
    at(80, "rough-round", 1085, undefined),
    at(80, "second-round", 700, undefined, true),
    at(99, "second-round", 690, 8),
    at(99, "proud-round", 500, 9, true)
  ];
  const [square, round, second] = [
    [1650, 1100],
    [1085, 700],
    [690, 500]
  ].map(([before, after]) => ({ln: Math.log(after! / before!), variance: (8 / before!) ** 2 + (8 / after!) ** 2}));
  const cuts = [square!, round!, second!];
  const read = measurements
    .filter(({moisturePct}) => moisturePct !== undefined)
    .map(({stage, massG, moisturePct: pct}) => ({
      place: ["square", "rough-round", "second-round", "proud-round"].indexOf(stage),
      ln: Math.log((100 * massG!) / (100 + pct!)),
      variance: (1.2 / (100 + pct!)) ** 2 + (8 / massG!) ** 2
    }));
  const made = dryMasses(makePiece({turned: [60, 80, 99], measurements}), rough);
  expect(made).toHaveLength(4);
  made.forEach(({dryG, sdFraction, readings}, stage) => {
    const over = (place: number) => cuts.map((_, cut) => cut >= Math.min(place, stage) && cut < Math.max(place, stage));
    const y = read.map(({place, ln}) =>
      over(place).reduce((all, is, cut) => all + (is ? Math.sign(stage - place) * cuts[cut]!.ln : 0), ln)
    );
    const covariance = read.map((a, i) =>
      read.map((b, j) =>
        cuts.reduce(
          (all, {variance}, cut) => all + (over(a.place)[cut] && over(b.place)[cut] ? variance : 0),
          i === j ? a.variance : 0
        )
      )
    );
    const weights = solved(
      covariance,
      read.map(() => 1)
    );
    const weight = weights.reduce((all, one) => all + one, 0);
    expect(dryG).toBeCloseTo(Math.exp(weights.reduce((all, one, i) => all + one * y[i]!, 0) / weight), 8);
    expect(sdFraction).toBeCloseTo(1 / Math.sqrt(weight), 12);
    expect(readings).toBe(read.length);
  });
});

/** x of A x = b, by Gauss–Jordan; A is positive definite. */
function solved(matrix: readonly (readonly number[])[], b: readonly number[]): number[] {
  const rows = matrix.map((row, i) => [...row, b[i]!]);
  rows.forEach((pivot, i) => {
    rows.forEach((row, j) => {
      const factor = i === j ? 0 : row[i]! / pivot[i]!;
      rows[j] = row.map((one, k) => one - factor * pivot[k]!);
    });
  });
  return rows.map((row, i) => row.at(-1)! / row[i]!);
}

// Law: 95 of 100 intervals hold the true moisture. 2000 pieces: chance moves the share by ∓ 1.5 at three standard errors; that a weighing counts in a
// reading and in a cut is left out.
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
