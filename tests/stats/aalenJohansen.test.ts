import fc from "fast-check";
import {expect, test} from "vitest";
import {aalenJohansen, conditionalIncidence, incidenceAt, survivalAt} from "../../lib/stats/aalenJohansen.ts";
import type {Spell} from "../../lib/stats/eventTable.ts";
import {kaplanMeier} from "../../lib/stats/kaplanMeier.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {shuffled, spells} from "./arbitrary.ts";

// By hand: at 1 one of four warps (1/4); at 2 one of three passes (3/4 · 1/3), one of them leaves undecided; at 3 the
// last passes.
const four: Spell[] = [{exit: 1, cause: "warp"}, {exit: 2, cause: "passed"}, {exit: 2}, {exit: 3, cause: "passed"}];

test("aalenJohansen of four pieces, worked by hand", () => {
  const curve = aalenJohansen(four);
  expect(curve.causes).toEqual(["passed", "warp"]);
  expect(curve.survival).toEqual([3 / 4, expect.closeTo(1 / 2, 12), 0]);
  expect(curve.incidence.warp!.fraction).toEqual([1 / 4, 1 / 4, 1 / 4]);
  expect(curve.incidence.passed!.fraction).toEqual([0, expect.closeTo(1 / 4, 12), expect.closeTo(3 / 4, 12)]);
  expect(curve.incidence.passed!.low[0]).toBeUndefined();
  expect(curve.lastObserved).toBe(3);
});

test("aalenJohansen of nothing is empty", () => {
  const empty = {times: [], atRisk: [], survival: [], lastObserved: 0, causes: [], incidence: {}};
  expect(aalenJohansen([])).toEqual(empty);
  expect(aalenJohansen([{exit: 4}])).toEqual({...empty, lastObserved: 4});
});

test("aalenJohansen: all incidences and what is left add up to 1 at every time, in any order of pieces", () => {
  fc.assert(
    fc.property(spells, fc.nat(), (own, seed) => {
      const curve = aalenJohansen(own);
      expect(aalenJohansen(shuffled(own, seed))).toEqual(curve);
      curve.times.forEach((_, row) => {
        const ended = curve.causes.reduce((sum, cause) => sum + curve.incidence[cause]!.fraction[row]!, 0);
        expect(ended + curve.survival[row]!).toBeCloseTo(1, 10);
      });
      expect(curve.survival).toEqual(kaplanMeier(own).map((row) => expect.closeTo(row.survival, 12)));
    })
  );
});

test("aalenJohansen's limits hold the fraction and widen with the level, by either variance", () => {
  fc.assert(
    fc.property(spells, fc.constantFrom("delta", "aalen"), (own, variance) => {
      const [narrow, wide] = [aalenJohansen(own, {level: 0.8, variance}), aalenJohansen(own, {level: 0.99, variance})];
      for (const cause of narrow.causes) {
        const [a, b] = [narrow.incidence[cause]!, wide.incidence[cause]!];
        a.fraction.forEach((fraction, row) => {
          if (a.low[row] === undefined) return;
          expect(b.low[row]!).toBeLessThanOrEqual(a.low[row]! + 1e-12);
          expect(a.low[row]!).toBeLessThanOrEqual(fraction + 1e-12);
          expect(fraction).toBeLessThanOrEqual(a.high[row]! + 1e-12);
          expect(a.high[row]!).toBeLessThanOrEqual(b.high[row]! + 1e-12);
        });
      }
    })
  );
});

/** The variance as its formula reads, term by term over all pairs of times. */
function slowVariance(own: Spell[], cause: string, row: number): number {
  const curve = aalenJohansen(own);
  const events = (time: number, test: (spell: Spell) => boolean) =>
    own.filter((spell) => spell.exit === time && spell.cause !== undefined && test(spell)).length;
  const fraction = curve.incidence[cause]!.fraction;
  let total = 0;
  for (let u = 0; u <= row; u++) {
    const [n, before] = [curve.atRisk[u]!, curve.survival[u - 1] ?? 1];
    const d = events(curve.times[u]!, () => true);
    const dk = events(curve.times[u]!, (spell) => spell.cause === cause);
    const later = fraction[row]! - fraction[u]!;
    if (n > d) total += (later ** 2 * d) / (n * (n - d));
    total += (before ** 2 * dk * (n - dk)) / n ** 3 - (2 * later * before * dk) / n ** 2;
  }
  return total;
}

test("aalenJohansen's running standard error is the formula's double sum", () => {
  fc.assert(
    fc.property(spells, (own) => {
      const curve = aalenJohansen(own);
      for (const cause of curve.causes) {
        curve.incidence[cause]!.se.forEach((se, row) => {
          expect(se ** 2).toBeCloseTo(slowVariance(own, cause, row), 12);
        });
      }
    }),
    {numRuns: 40}
  );
});

test("aalenJohansen of 3000 pieces with 3000 different times takes milliseconds", () => {
  const random = randomStream(5);
  const own = Array.from({length: 3000}, (): Spell => {
    const exit = 1000 * random();
    return random() < 0.3 ? {exit} : {exit, cause: ["warp", "knot", "check", "passed"][Math.floor(4 * random())]!};
  });
  const times = Array.from({length: 5}, () => {
    const start = performance.now();
    aalenJohansen(own);
    return performance.now() - start;
  });
  expect(Math.min(...times)).toBeLessThan(100); // about 5 on a quiet machine; the double sum takes seconds
});

test("incidenceAt and survivalAt step at the event and keep their last value", () => {
  const curve = aalenJohansen(four);
  expect([0, 0.9, 1, 2.5, 3, 99].map((t) => survivalAt(curve, t))).toEqual([
    1,
    1,
    3 / 4,
    expect.closeTo(0.5, 12),
    0,
    0
  ]);
  expect([0.9, 1, 99].map((t) => incidenceAt(curve, "warp", t))).toEqual([0, 1 / 4, 1 / 4]);
  expect(incidenceAt(curve, "never seen", 2)).toBe(0);
});

test("conditionalIncidence of a piece aged 1, worked by hand", () => {
  const curve = aalenJohansen(four);
  expect(conditionalIncidence(curve, "passed", 1, 1)).toBeCloseTo(1 / 3, 12);
  expect(conditionalIncidence(curve, "passed", 1, 2)).toBeCloseTo(1, 12);
  expect(conditionalIncidence(curve, "warp", 1, 9)).toBe(0);
});

test("conditionalIncidence is undefined at ages no piece has reached", () => {
  expect(conditionalIncidence(aalenJohansen(four), "passed", 3, 1)).toBeUndefined();
  const open = aalenJohansen([{exit: 1, cause: "warp"}, {exit: 4}]);
  expect(conditionalIncidence(open, "warp", 4, 1)).toBe(0);
  expect(conditionalIncidence(open, "warp", 4.1, 1)).toBeUndefined();
});

test("conditionalIncidence refuses a negative age or horizon", () => {
  const curve = aalenJohansen(four);
  expect(() => conditionalIncidence(curve, "warp", -1, 1)).toThrow(
    "conditionalIncidence: age must be 0 or more, got -1."
  );
  expect(() => conditionalIncidence(curve, "warp", 1, -1)).toThrow("horizon must be 0 or more, got -1.");
});
