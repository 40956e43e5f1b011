import {describe, expect, test} from "vitest";
import {dayText} from "../../lib/book/day.ts";
import type {Measurement} from "../../lib/book/histories.ts";
import {readyToTurn} from "../../lib/seasoning/readyToTurn.ts";
import {makeHistories, makePiece, settings} from "../pieces.ts";

const store = {equilibriumPct: 9, source: "workshop.json" as const, readings: 0};
const time = {
  species: "ash",
  stage: "rough-round",
  entered: "all year" as const,
  lots: 9,
  pieces: 99,
  days: 30,
  daysLow: 25,
  daysHigh: 36
};
const weighings = (...all: [day: number, massG: number, moisturePct?: number][]): Measurement[] =>
  all.map(([day, massG, moisturePct]) => ({
    day,
    stage: "rough-round",
    turned: day === 60,
    massG,
    ...(moisturePct !== undefined && {moisturePct})
  }));
/** A piece that came to rough-round on day 60, and what is said of it; least rest there 30 days. */
function row(
  asOf: number,
  measurements: Measurement[],
  expected?: {pct: number; half?: number},
  {hasStore = true} = {}
) {
  const piece = makePiece({turned: [60], measurements});
  const moisture = new Map(
    expected
      ? [
          [
            "S1",
            {
              pct: expected.pct,
              low: expected.pct - (expected.half ?? 0.3),
              high: expected.pct + (expected.half ?? 0.3),
              by: ["lot" as const]
            }
          ]
        ]
      : []
  );
  return readyToTurn(makeHistories([piece], {asOf}), {
    store: hasStore ? store : undefined,
    times: [time],
    moisture
  })[0]!;
}

describe("readyToTurn: verdicts, by hand", () => {
  test("a wet reading of late holds it back, with a mass beside it or without; one from before the last weighing does not", () => {
    const old = {day: 70, stage: "rough-round", turned: false, moisturePct: 19};
    const [cut, ...later] = weighings([60, 1100], [85, 1084], [94, 1083]);
    const steady = [cut!, old, ...later];
    const wet = {day: 95, stage: "rough-round", turned: false, moisturePct: 19};
    expect(row(95, steady, {pct: 9.3}).verdict).toBe("ready");
    for (const expected of [{pct: 9.3}, undefined]) {
      const held = row(95, [...steady, wet], expected);
      expect(held).toMatchObject({
        verdict: "not yet",
        reason: "the meter read 19.0 % on 1970-04-06, 10.0 points above the store: read it again",
        weigh: false
      });
      // The course has it ready today: it cannot say until when what the meter says will hold.
      expect(held).not.toHaveProperty("until");
      expect(held).not.toHaveProperty("untilLow");
    }
    // 13 % less 95 of 100 errors of 1.5 points is 10.06 %, within 2 points of the store's 9.
    expect(row(95, [...steady, {...wet, moisturePct: 13}], {pct: 9.3}).verdict).toBe("ready");
  });

  test("too wet, and no pace known: no day is told; a weighing is asked for only where it is not seen to be steady", () => {
    const moisture = new Map([["S1", {pct: 14, low: 13, high: 15, by: ["lot" as const]}]]);
    const found = (measurements: Measurement[]) =>
      readyToTurn(makeHistories([makePiece({turned: [60], measurements})], {asOf: 100}), {
        store,
        times: [],
        moisture
      })[0]!;
    const moving = found(weighings([60, 1100], [80, 1095]));
    expect(moving).toMatchObject({verdict: "not yet", weigh: true});
    expect(moving.reason).toContain("weigh it today");
    const still = found(weighings([60, 1100], [80, 1095], [92, 1095]));
    expect(still).toMatchObject({verdict: "not yet", weigh: false});
    for (const one of [moving, still]) expect(one).not.toHaveProperty("until");
  });

  test("an old wet reading does not hold a piece back for good: the course takes it on", () => {
    const found = row(400, weighings([60, 1100, 16], [64, 1099]), {pct: 9.3});
    expect(found).toMatchObject({verdict: "never weighed", weigh: true});
  });

  test("steady, near by its course, but wet by mass as read at the turning: held back, and no day is told", () => {
    // 22 % at 1100 g: 901.6 g dry, so 20.1 % at 1083 g; the meter's 95 of 100 errors of 1.5 points leave 17 at least.
    const read = weighings([60, 1100, 22], [85, 1084], [94, 1083]);
    for (const expected of [{pct: 9.3}, undefined]) {
      const held = row(95, read, expected);
      expect(held.massPct).toBeCloseTo((1083 / (1100 / 1.22) - 1) * 100, 9);
      expect(held).toMatchObject({
        verdict: "not yet",
        reason: "steady, but by its own readings far wetter than the store: read the meter again",
        weigh: false
      });
      expect(held).not.toHaveProperty("until");
    }
  });

  test("rested, steady, near: ready, and without a day", () => {
    const found = row(95, weighings([60, 1100], [85, 1084], [94, 1083]), {pct: 9.3});
    expect(found).toMatchObject({verdict: "ready", reason: "rested, steady, near the store's moisture", weigh: false});
    expect(found).toMatchObject({restedDays: 35, restDays: 30, restLeftDays: 0, lostG: 1, lostDays: 9, limitG: 2});
    expect(found.nextStage).toBe("second-round");
    expect(found.gapPct).toBeCloseTo(0.3, 9);
    expect(found.until).toBeUndefined();
  });

  test("a piece that still rests is not yet ready, however steady, and not called unweighed", () => {
    expect(row(80, weighings([60, 1100]), {pct: 9.1})).toMatchObject({
      verdict: "not yet",
      reason: "the least rest has 10 days to go",
      weigh: false,
      until: dayText(90)
    });
  });

  test("rested but weighed once, long ago: never weighed, weigh it today, whatever is expected", () => {
    expect(row(140, weighings([60, 1100]), {pct: 9.1})).toMatchObject({
      verdict: "never weighed",
      reason: "not weighed twice at this stage far enough apart: weigh it today",
      weigh: true,
      until: dayText(140)
    });
  });

  test("weighed first three days ago: the next weighing tells in four days", () => {
    const late = weighings([97, 1083]);
    expect(row(100, late, {pct: 9.1})).toMatchObject({
      verdict: "never weighed",
      reason: `not weighed twice at this stage far enough apart: weigh it on ${dayText(104)}`,
      weigh: false,
      until: dayText(104)
    });
  });

  test("never on the scale at its stage: weigh it today and again in a week", () => {
    expect(row(100, [], {pct: 9.1})).toMatchObject({
      verdict: "never weighed",
      reason: "not weighed at this stage: weigh it today and again in 7 days",
      weigh: true,
      until: dayText(107)
    });
  });

  test("never on the scale and too wet by its course: the day counts the gap, without a range", () => {
    // 3.1 points above fall to 2 in 30 ln(3.1 / 2) = 13.1 days.
    const found = row(100, [], {pct: 12.1});
    expect(found).toMatchObject({verdict: "never weighed", until: dayText(114)});
    expect(found.untilLow).toBeUndefined();
  });

  test("not steady between two weighings far apart, but steady by its course: weigh it", () => {
    expect(row(100, weighings([60, 1100], [90, 1085]), {pct: 9.1})).toMatchObject({
      verdict: "not yet",
      reason: "15 g lost in 30 days, at most 2 g is steady: weigh it today",
      weigh: true,
      lostG: 15
    });
  });

  test("steady in wet condition is not dry: by expectation, and by its own readings", () => {
    const steadily = weighings([60, 1100], [85, 1084], [94, 1083]);
    expect(row(95, steadily, {pct: 12.1})).toMatchObject({
      verdict: "not yet",
      reason: "steady, but 3.1 points above the store's moisture, at most 2.0 points wanted"
    });
    // 16 % by the meter, ± 2.9: 13 at least.
    const read = weighings([60, 1100], [85, 1084], [94, 1083, 16]);
    expect(row(95, read, {pct: 9.3})).toMatchObject({
      verdict: "not yet",
      reason: "the meter read 16.0 % on 1970-04-05, 7.0 points above the store: read it again"
    });
  });

  test("without store or moisture rest and steadiness decide, and it is said", () => {
    const steadily = weighings([60, 1100], [85, 1084], [94, 1083]);
    const said = {verdict: "ready", reason: "rested and steady; how dry it is cannot be told"};
    expect(row(95, steadily, {pct: 9.3}, {hasStore: false})).toMatchObject(said);
    expect(row(95, steadily)).toMatchObject(said);
    // The day is then the least by rest and weighings, without a range.
    const waiting = row(80, weighings([60, 1100]));
    expect(waiting.until).toBe(dayText(90));
    expect(waiting.untilLow).toBeUndefined();
  });
});

/** The course day by day: M ← M + (1 − e^(−1/τ))(E − M); the first day on which the loss of the week ahead and the gap are small enough. */
function firstDay(startPct: number, dryG: number, tau: number, limitG: number): number {
  let pct = startPct;
  const step = (at: number) => at - Math.expm1(-1 / tau) * (9 - at);
  for (let day = 0; ; day++) {
    let ahead = pct;
    for (let i = 0; i < 7; i++) ahead = step(ahead);
    if ((dryG * (pct - ahead)) / 100 <= limitG && pct - 9 <= 2) return day;
    pct = step(pct);
  }
}

test.each([
  [14, 1000],
  [12, 1000],
  [11.5, 400],
  [10.5, 1000]
])(
  "readyToTurn: a piece at %s percent and %s g dry becomes steady and near on the day that the course says",
  (pct, dryG) => {
    const measured = weighings([60, dryG * (1 + pct / 100), pct]);
    const found = row(90, measured, {pct, half: 0.5});
    const limitG = Math.max(2, 0.001 * dryG * 1.09);
    expect(found.until).toBe(dayText(90 + firstDay(pct, dryG, 30, limitG)));
    // A piece that dries more slowly loses less in a week, so either limit of the time constant may be the earlier.
    const all = [pct - 0.5, pct + 0.5].flatMap((start) => [25, 36].map((tau) => firstDay(start, dryG, tau, limitG)));
    expect(found.untilLow).toBe(dayText(90 + Math.min(...all)));
    expect(found.untilHigh).toBe(dayText(90 + Math.max(...all)));
    expect(found.expectedLossG).toBeCloseTo(((pct - 9) / 100) * dryG * (1 - Math.exp(-7 / 30)), 6);
  }
);

test("readyToTurn has a row for every piece in stock that is not finished, and for no other", () => {
  const pieces = [
    makePiece({square: "A"}),
    makePiece({square: "B", turned: [1, 2, 3, 4]}),
    makePiece({square: "C", discarded: 3}),
    makePiece({square: "D", turned: [1, 2, 3]})
  ];
  const rows = readyToTurn(makeHistories(pieces, {asOf: 100}), {store: undefined, times: [], moisture: new Map()});
  expect(rows.map(({square, stage, nextStage}) => [square, stage, nextStage])).toEqual([
    ["A", "square", "rough-round"],
    ["D", "proud-round", "finished"]
  ]);
  expect(rows.every(({scaleG}) => scaleG === settings.accuracy.scaleG)).toBe(true);
});
