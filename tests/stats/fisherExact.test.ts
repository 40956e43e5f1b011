import hypergeometric from "@stdlib/stats-base-dists-hypergeometric-pmf";
import fc from "fast-check";
import {expect, test} from "vitest";
import {checkTable, fisherExact} from "../../lib/stats/fisherExact.ts";

const count = fc.integer({min: 0, max: 12});

test("fisherExact of a 2 × 2 table is the sum of the hypergeometric probabilities not above its own", () => {
  fc.assert(
    fc.property(count, count, count, count, (a, b, c, d) => {
      const [total, row, column] = [a + b + c + d, a + b, a + c];
      const cells = Array.from({length: row + 1}, (_, k) => k);
      const p = (k: number) => hypergeometric(k, total, column, row);
      const sum = (test: (k: number) => boolean) => cells.filter(test).reduce((all, k) => all + p(k), 0);
      const table = [
        [a, b],
        [c, d]
      ];
      expect(fisherExact(table)).toBeCloseTo(
        sum((k) => p(k) <= p(a) * (1 + 1e-7)),
        8
      );
      expect(fisherExact(table, {side: "greater"})).toBeCloseTo(
        sum((k) => k >= a),
        8
      );
      expect(fisherExact(table, {side: "less"})).toBeCloseTo(
        sum((k) => k <= a),
        8
      );
    })
  );
});

test("fisherExact does not depend on the order of rows and columns, nor on which is which", () => {
  fc.assert(
    fc.property(fc.array(fc.tuple(fc.nat(4), fc.nat(4), fc.nat(4)), {minLength: 2, maxLength: 3}), (rows) => {
      const p = fisherExact(rows)!;
      expect(fisherExact([...rows].reverse())).toBeCloseTo(p, 9);
      expect(fisherExact(rows.map((row) => [...row].reverse()))).toBeCloseTo(p, 9);
      expect(fisherExact([0, 1, 2].map((j) => rows.map((row) => row[j]!)))).toBeCloseTo(p, 9);
      expect(p).toBeGreaterThan(0);
      expect(p).toBeLessThanOrEqual(1);
    })
  );
});

test("fisherExact is 1 when the margins leave no choice", () => {
  expect(
    fisherExact([
      [3, 0],
      [5, 0]
    ])
  ).toBeCloseTo(1, 12);
  expect(fisherExact([[3, 4]])).toBeCloseTo(1, 12);
  expect(fisherExact([])).toBe(1);
});

test("fisherExact gives up, and says so, when there are too many tables", () => {
  const large = Array.from({length: 4}, () => [40, 50, 60, 70]);
  expect(fisherExact(large)).toBeUndefined();
});

test("fisherExact refuses uneven rows, fractions, and a side for a larger table", () => {
  expect(() => fisherExact([[1, 2], [3]])).toThrow("fisherExact: table must be rows of 2, got 1.");
  expect(() => fisherExact([[1.5, 2]])).toThrow("fisherExact: table must be counts, got 1.5.");
  expect(() => fisherExact([[1, 2, 3]], {side: "less"})).toThrow(
    'side must be "both" unless the table is 2 × 2, got "less".'
  );
});

test("checkTable names its caller", () => {
  expect(() => checkTable([[-1]], "chiSquareTest")).toThrow("chiSquareTest: table must be counts, got -1.");
});
