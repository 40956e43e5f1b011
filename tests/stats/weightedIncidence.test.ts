import fc from "fast-check";
import {expect, test} from "vitest";
import {aalenJohansen} from "../../lib/stats/aalenJohansen.ts";
import {clusterWeights} from "../../lib/stats/clusterWeights.ts";
import type {Spell} from "../../lib/stats/eventTable.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {weightedIncidence} from "../../lib/stats/weightedIncidence.ts";
import {spell} from "./arbitrary.ts";

const clustersAndWeights = fc
  .array(fc.array(spell, {maxLength: 8}), {minLength: 1, maxLength: 6})
  .chain((clusters) =>
    fc.tuple(fc.constant(clusters), fc.array(fc.nat(3), {minLength: clusters.length, maxLength: clusters.length}))
  );

test("weightedIncidence is the end of aalenJohansen on the spells repeated so often", () => {
  fc.assert(
    fc.property(clustersAndWeights, ([clusters, weights]) => {
      const repeated = clusters.flatMap((own, i) => Array.from({length: weights[i]!}, () => own).flat());
      const curve = aalenJohansen(repeated);
      const got = weightedIncidence(clusters)(weights);
      expect(got.survival).toBeCloseTo(curve.survival.at(-1) ?? 1, 10);
      for (const [cause, fraction] of Object.entries(got.fraction)) {
        expect(fraction).toBeCloseTo(curve.incidence[cause]?.fraction.at(-1) ?? 0, 10);
      }
      expect(got.survival + Object.values(got.fraction).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 10);
    })
  );
});

test("weightedIncidence does not care for a common factor of the weights, whole or not", () => {
  fc.assert(
    fc.property(clustersAndWeights, ([clusters, weights]) => {
      const at = weightedIncidence(clusters);
      expect(at(weights.map((weight) => 0.3 * weight)).survival).toBeCloseTo(at(weights).survival, 10);
    })
  );
});

test("weightedIncidence is prepared once: 500 resamples of 3000 pieces in 60 lots within two seconds", () => {
  const random = randomStream(8);
  const lots = Array.from({length: 60}, () =>
    Array.from({length: 50}, (): Spell => {
      const exit = Math.floor(300 * random());
      return random() < 0.3 ? {exit} : {exit, cause: ["warp", "knot", "check", "passed"][Math.floor(4 * random())]!};
    })
  );
  const at = weightedIncidence(lots);
  const start = performance.now();
  for (let i = 0; i < 500; i++) at(clusterWeights(60, random));
  expect(performance.now() - start).toBeLessThan(2000); // about 60 ms on a quiet machine
});

test("weightedIncidence of clusters without an event is 1 left over", () => {
  expect(weightedIncidence([[{exit: 3}], []])([1, 1])).toEqual({survival: 1, fraction: {}});
});

test("weightedIncidence refuses too few weights, a negative one and impossible spells", () => {
  const at = weightedIncidence([[{exit: 1, cause: "warp"}], [{exit: 2}]]);
  expect(() => at([1])).toThrow("weightedIncidence: weights must be 2 numbers, got 1.");
  expect(() => at([1, -1])).toThrow("weightedIncidence: weights must be 0 or more, got -1.");
  expect(() => weightedIncidence([[{exit: -1}]])).toThrow(
    "weightedIncidence: exit must be a time of 0 or more, got -1."
  );
});
