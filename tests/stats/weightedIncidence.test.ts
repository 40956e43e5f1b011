import fc from "fast-check";
import {expect, test} from "vitest";
import {aalenJohansen} from "../../lib/stats/aalenJohansen.ts";
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
