import fc from "fast-check";
import {expect, test} from "vitest";
import {nestedVarianceComponents} from "../../lib/stats/nestedVarianceComponents.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {shuffled} from "./arbitrary.ts";

// By hand: lots {1, 3}, {5, 7} of one supplier, {11, 13}, {15, 17} of the other. Within 8 on 4: 2. Lots: means 2, 6
// around 4 and 12, 16 around 14: 2·(4·4) = 32 on 2: 16, so (16 − 2)/2 = 7. Suppliers: 4 and 14 around 9: 200 on 1,
// (200 − 2 − 2·7)/4 = 46.
test("nestedVarianceComponents of two suppliers with two lots, worked by hand", () => {
  const got = nestedVarianceComponents([
    [
      [1, 3],
      [5, 7]
    ],
    [
      [11, 13],
      [15, 17]
    ]
  ]);
  expect(got).toEqual({outer: 46, inner: 7, within: 2, outerNegative: false, innerNegative: false});
});

test("nestedVarianceComponents does not depend on the order of suppliers, lots or squares, nor on the place", () => {
  const lot = fc.array(fc.integer({min: 600, max: 800}), {minLength: 1, maxLength: 4});
  const suppliers = fc.array(fc.array(lot, {minLength: 1, maxLength: 3}), {minLength: 2, maxLength: 4});
  fc.assert(
    fc.property(suppliers, fc.nat(), (own, seed) => {
      const got = nestedVarianceComponents(own);
      const mixed = shuffled(own, seed).map((lots) =>
        shuffled(lots, seed + 1).map((squares) => shuffled(squares, seed + 2).map((x) => x - 650))
      );
      const other = nestedVarianceComponents(mixed);
      expect(other === undefined).toBe(got === undefined);
      if (got === undefined) return;
      for (const part of ["outer", "inner", "within"] as const) expect(other![part]).toBeCloseTo(got[part], 6);
    })
  );
});

// Made with 9, 4 and 1 and unequal sizes: over 400 draws the means come back within four standard errors (about 5 %).
test("nestedVarianceComponents is right on average, sizes unequal", () => {
  const random = randomStream(17);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const sizes = [
    [2, 5],
    [3, 3, 4],
    [6, 1],
    [2, 2, 2, 3],
    [4, 4],
    [1, 5, 2],
    [3, 3],
    [5, 2]
  ];
  const total = {outer: 0, inner: 0, within: 0};
  for (let draw = 0; draw < 400; draw++) {
    const groups = sizes.map((lots) => {
      const supplier = 3 * normal();
      return lots.map((size) => {
        const lot = supplier + 2 * normal();
        return Array.from({length: size}, () => lot + normal());
      });
    });
    const got = nestedVarianceComponents(groups)!;
    total.outer += got.outer / 400;
    total.inner += got.inner / 400;
    total.within += got.within / 400;
  }
  expect(Math.abs(total.outer - 9)).toBeLessThan(1.6);
  expect(Math.abs(total.inner - 4)).toBeLessThan(0.5);
  expect(Math.abs(total.within - 1)).toBeLessThan(0.05);
});

test("nestedVarianceComponents has no answer without two suppliers, a second lot or a second value", () => {
  expect(
    nestedVarianceComponents([
      [
        [1, 2],
        [3, 4]
      ]
    ])
  ).toBeUndefined();
  expect(nestedVarianceComponents([[[1, 2]], [[3, 4]]])).toBeUndefined();
  expect(
    nestedVarianceComponents([
      [[1], [2]],
      [[3], [4]]
    ])
  ).toBeUndefined();
});

test("nestedVarianceComponents refuses a supplier without lots", () => {
  expect(() => nestedVarianceComponents([[], [[1]]])).toThrow("groups must be of at least one inner group, got 0.");
});
