import fc from "fast-check";
import {expect, test} from "vitest";
import {poissonBinomialPmf} from "../../lib/stats/poissonBinomialPmf.ts";
import {shuffled} from "./arbitrary.ts";

test("poissonBinomialPmf of no pieces is a certain 0", () => {
  expect(poissonBinomialPmf([])).toEqual([1]);
});

test("poissonBinomialPmf is the enumeration of all outcomes, in any order of pieces", () => {
  fc.assert(
    fc.property(fc.array(fc.double({min: 0, max: 1, noNaN: true}), {maxLength: 8}), fc.nat(), (chances, seed) => {
      const counted = new Array<number>(chances.length + 1).fill(0);
      for (let outcome = 0; outcome < 2 ** chances.length; outcome++) {
        const won = chances.map((_, i) => Math.floor(outcome / 2 ** i) % 2 === 1);
        const p = chances.reduce((product, chance, i) => product * (won[i] ? chance : 1 - chance), 1);
        counted[won.filter((x) => x).length]! += p;
      }
      const want = counted.map((p) => expect.closeTo(p, 10));
      expect(poissonBinomialPmf(chances)).toEqual(want);
      expect(poissonBinomialPmf(shuffled(chances, seed))).toEqual(want);
    })
  );
});

test("poissonBinomialPmf refuses a chance above 1", () => {
  expect(() => poissonBinomialPmf([0.5, 1.5])).toThrow("poissonBinomialPmf: chances must be between 0 and 1, got 1.5.");
});
