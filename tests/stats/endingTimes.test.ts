import {expect, test} from "vitest";
import {aalenJohansen, incidenceAt} from "../../lib/stats/aalenJohansen.ts";
import {endingTimes} from "../../lib/stats/endingTimes.ts";
import type {Spell} from "../../lib/stats/eventTable.ts";
import {randomStream} from "../../lib/stats/random.ts";

const passed = (exit: number): Spell => ({exit, cause: "passed"});
const thrown = (exit: number): Spell => ({exit, cause: "thrown"});
const resting = (exit: number): Spell => ({exit});

test("endingTimes: nothing censored and all of one cause, so plain shares, quantiles and the mean", () => {
  const times = endingTimes([[passed(10), passed(20)], [passed(30)], [passed(40)]], "passed")!;
  expect([0, 10, 25, 40, 99].map(times.shareBy)).toEqual([0, 0.25, 0.5, 1, 1]);
  expect([0, 0.25, 0.26, 0.5, 0.75, 1].map(times.quantile)).toEqual([10, 10, 20, 20, 30, 40]);
  expect(times.mean).toBeCloseTo(25, 12);
  expect([times.ended, times.clusters]).toEqual([4, 3]);
});

test("endingTimes by hand: a discard and a piece still resting", () => {
  // At 10 one of 4 passes, F = 1/4, S = 3/4. At 15 one of 3 is thrown out, S = 1/2. One of 2 is last seen at 17, at 20 the last passes: F = 3/4.
  const times = endingTimes([[passed(10), thrown(15), resting(17), passed(20)]], "passed")!;
  expect(times.shareBy(10)).toBeCloseTo(1 / 3, 12);
  expect(times.shareInterval(5)).toBeUndefined();
  expect(times.endShare).toBeCloseTo(3 / 4, 12);
  expect(times.quantile(1 / 3)).toBe(10);
  expect(times.quantile(0.34)).toBe(20);
  expect(times.mean).toBeCloseTo((10 + 2 * 20) / 3, 12);
});

test("endingTimes is the Aalen–Johansen incidence over its last value, late entries included", () => {
  const random = randomStream(3);
  const spells = Array.from({length: 200}, (): Spell => {
    const entry = Math.floor(random() * 20);
    const exit = entry + 1 + Math.floor(random() * 60);
    const kind = random();
    return {entry, exit, ...(kind < 0.5 ? {cause: "passed"} : kind < 0.8 ? {cause: "thrown"} : {})};
  });
  const curve = aalenJohansen(spells);
  const end = curve.incidence.passed!.fraction.at(-1)!;
  const times = endingTimes([spells.slice(0, 70), spells.slice(70), []], "passed")!;
  for (let t = 0; t <= 85; t += 2.5)
    expect(times.shareBy(t), String(t)).toBeCloseTo(incidenceAt(curve, "passed", t) / end, 12);
  expect(times.clusters).toBe(2);
  expect(times.meanOf([1, 0, 0])).toBeCloseTo(endingTimes([spells.slice(0, 70)], "passed")!.mean, 12);
});

test("endingTimes: the mean's interval of lots that are all seen through is Student's on the lots' own means", () => {
  // Four lots of one piece: mean 25, s² = 500/3, t with 3 degrees of freedom 3.182446 (tables of Student's law).
  const times = endingTimes([[passed(10)], [passed(20)], [passed(30)], [passed(40)]], "passed")!;
  const {low, high} = times.meanInterval()!;
  const half = 3.182446 * Math.sqrt(500 / 3 / 4);
  expect(low).toBeCloseTo(25 - half, 4);
  expect(high).toBeCloseTo(25 + half, 4);
  const few = endingTimes([[passed(10)], [passed(20)], [passed(30)]], "passed")!;
  expect([few.quantileInterval(0.5), few.meanInterval(), few.shareInterval(20)]).toEqual([
    undefined,
    undefined,
    undefined
  ]);
});

test("endingTimes: in simulated lots that are taken up together 95 % intervals hold the true median and mean", () => {
  // Days = 60 + a part of the lot + a part of the piece, both exponential with mean 15; a third cut off by the day of the question.
  // Median of the sum of two such: the gamma law of shape 2, 1.678347 · 15 (1 − (1 + x) e^−x = 1/2).
  const random = randomStream(11);
  const draw = () => -15 * Math.log(1 - random());
  const [median, mean] = [60 + 1.678347 * 15, 90];
  let [held, heldMean, heldShare, n] = [0, 0, 0, 0];
  for (let run = 0; run < 300; run++) {
    const lots = Array.from({length: 24}, () => {
      const lot = draw();
      const seen = random() < 1 / 3 ? 40 + random() * 60 : 1000;
      return Array.from({length: 12}, () => {
        const exit = 60 + lot + draw();
        return random() < 0.1 ? thrown(Math.min(exit, seen)) : exit > seen ? resting(seen) : passed(exit);
      });
    });
    const times = endingTimes(lots, "passed")!;
    const days = times.quantileInterval(0.5)!;
    const means = times.meanInterval()!;
    n++;
    if (days.low <= median && median <= days.high) held++;
    if (means.low <= mean && mean <= means.high) heldMean++;
    const share = times.shareInterval(median)!;
    if (share.low <= 0.5 && 0.5 <= share.high) heldShare++;
  }
  // 0.95 less four standard errors of 300 runs, 0.0126 each, is 0.90. The mean of 24 skew lots falls a little short.
  expect(held / n).toBeGreaterThan(0.9);
  expect(heldShare / n).toBeGreaterThan(0.9);
  expect(heldMean / n).toBeGreaterThan(0.88);
});

test("endingTimes: undefined when none ended so, and a share that is none is refused", () => {
  expect(endingTimes([[resting(5), thrown(3)]], "passed")).toBeUndefined();
  expect(() => endingTimes([[passed(5)]], "passed")!.quantile(1.5)).toThrow("endingTimes: p");
});
