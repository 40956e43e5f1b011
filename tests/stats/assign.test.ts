import fc from "fast-check";
import {expect, test} from "vitest";
import {assign} from "../../lib/stats/assign.ts";

type Costs = (number | undefined)[][];

/** Every way to make pairs, gone through: the most pairs, then the least cost. */
function best(costs: Costs): {pairs: number; total: number} {
  let found = {pairs: 0, total: 0};
  const visit = (row: number, taken: ReadonlySet<number>, total: number) => {
    if (row === costs.length) {
      const better = taken.size > found.pairs || (taken.size === found.pairs && total < found.total);
      if (better) found = {pairs: taken.size, total};
      return;
    }
    visit(row + 1, taken, total);
    costs[row]!.forEach((cost, column) => {
      if (cost !== undefined && !taken.has(column)) visit(row + 1, new Set([...taken, column]), total + cost);
    });
  };
  visit(0, new Set(), 0);
  return found;
}

const cost = fc.option(fc.integer({min: -9, max: 30}), {nil: undefined, freq: 3});
const costs: fc.Arbitrary<Costs> = fc
  .tuple(fc.integer({min: 1, max: 5}), fc.integer({min: 1, max: 5}))
  .chain(([rows, columns]) =>
    fc.array(fc.array(cost, {minLength: columns, maxLength: columns}), {minLength: rows, maxLength: rows})
  );

test("assign makes the most pairs at least cost, each row and column once, and only allowed pairs", () => {
  fc.assert(
    fc.property(costs, (table) => {
      const got = assign(table);
      const made = got.columns.filter((column) => column !== undefined);
      expect(new Set(made).size).toBe(made.length);
      expect({pairs: made.length, total: got.total}).toEqual(best(table));
      expect(got.complete).toBe(made.length === Math.min(table.length, table[0]!.length));
      for (const [row, column] of got.columns.entries()) {
        if (column !== undefined) expect(table[row]![column]).toBeDefined();
      }
    }),
    {numRuns: 300}
  );
});

test("assign prefers two dear pairs to one cheap one", () => {
  const got = assign([
    [0, 1000],
    [0, undefined]
  ]);
  expect(got).toEqual({columns: [1, 0], total: 1000, complete: true});
});

test("assign says when an order gets none", () => {
  expect(
    assign([
      [3, 4],
      [undefined, undefined]
    ])
  ).toEqual({columns: [0, undefined], total: 3, complete: false});
  expect(assign([[undefined]])).toEqual({columns: [undefined], total: 0, complete: false});
  expect(assign([])).toEqual({columns: [], total: 0, complete: true});
  expect(assign([[], []])).toEqual({columns: [undefined, undefined], total: 0, complete: true});
});

test("assign refuses rows of two lengths and infinite costs", () => {
  expect(() => assign([[1, 2], [3]])).toThrow("assign: costs must be rows of 2, got 1.");
  expect(() => assign([[Infinity]])).toThrow("assign: costs must be finite, got Infinity.");
});
