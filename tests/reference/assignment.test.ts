import {expect, test} from "vitest";
import {assign} from "../../lib/stats/assign.ts";
import {expectClose} from "./close.ts";

// Checks assign.scipy-3, assign.6x6, assign.rect-3x5, assign.ties, assign.forbidden, assign.negative.
// assign.scipy-3: published (memory), scipy.optimize.linear_sum_assignment documentation, cost 5. The others: R only.
// R 4.2.2: complete enumeration; clue::solve_LSAP agrees. Tolerance 1e-9. Columns counted from 0 (R: from 1); left out
// where several assignments cost the same. undefined = forbidden pair.
interface Case {
  id: string;
  name: string;
  cost: (number | undefined)[][];
  total: number;
  /** How many assignments cost as little. */
  optima: number;
  columns: number[] | undefined;
}

const cases: Case[] = [
  {
    id: "assign.scipy-3",
    name: "3x3",
    cost: [
      [4, 1, 3],
      [2, 0, 5],
      [3, 2, 2]
    ],
    total: 5,
    optima: 1,
    columns: [1, 0, 2]
  },
  {
    id: "assign.6x6",
    name: "6x6",
    cost: [
      [11, 8, 33, 54, 15, 23],
      [49, 18, 34, 18, 48, 23],
      [24, 35, 52, 14, 36, 11],
      [20, 38, 50, 2, 55, 28],
      [37, 31, 8, 9, 34, 16],
      [37, 31, 43, 7, 46, 21]
    ],
    total: 79,
    optima: 1,
    columns: [4, 1, 5, 0, 2, 3]
  },
  {
    id: "assign.rect-3x5",
    name: "3 orders (target weights), 5 shafts; cost = |weight difference|",
    cost: [
      [0.3, 0.3, 0.6, 0.8, 1.4],
      [1, 0.4, 0.1, 0.1, 0.7],
      [1.5, 0.9, 0.6, 0.4, 0.2]
    ],
    total: 0.6,
    optima: 4,
    columns: undefined
  },
  {
    id: "assign.ties",
    name: "many optima: check the cost only",
    cost: [
      [5, 5, 5, 5],
      [5, 5, 1, 5],
      [5, 5, 5, 5],
      [5, 5, 5, 5]
    ],
    total: 16,
    optima: 6,
    columns: undefined
  },
  {
    id: "assign.forbidden",
    name: "undefined = forbidden pair",
    cost: [
      [undefined, 3, 9],
      [2, undefined, 4],
      [7, 1, undefined]
    ],
    total: 12,
    optima: 1,
    columns: [2, 0, 1]
  },
  {
    id: "assign.negative",
    name: "negative and fractional costs",
    cost: [
      [-3, 2, 7.5],
      [0, -1.25, 4],
      [6, -2, 3]
    ],
    total: -1.25,
    optima: 1,
    columns: [0, 1, 2]
  }
];

/** The cost of each complete assignment there is: every row its own column. */
function everyTotal(cost: (number | undefined)[][], taken: number[] = []): number[] {
  const [row, ...rest] = cost;
  if (row === undefined) return [0];
  return row.flatMap((price, column) =>
    price === undefined || taken.includes(column)
      ? []
      : everyTotal(rest, [...taken, column]).map((total) => total + price)
  );
}

for (const {id, name, cost, total, optima, columns} of cases) {
  test(`assign agrees with R's enumeration: ${name} (${id})`, () => {
    const got = assign(cost);
    expectClose(got.total, total, 1e-9);
    expect(got.complete).toBe(true);
    expect(new Set(got.columns).size).toBe(cost.length);
    if (columns) expect(got.columns).toEqual(columns);
    const all = everyTotal(cost);
    expect(Math.min(...all)).toBeGreaterThanOrEqual(got.total - 1e-9);
    expect(all.filter((one) => one <= got.total + 1e-9)).toHaveLength(optima);
  });
}
