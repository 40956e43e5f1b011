import {dayText, monthOf, months} from "../book/day.ts";
import type {Histories} from "../book/histories.ts";

/** Shafts of one species ordered in one month. */
export interface OrderMonth {
  species: string;
  month: string;
  ordered: number;
}

/**
 * Shafts ordered by species and month, by the day the order came in: every month from the first order of all to that of the day of the
 * question, whose count is of its days so far; a month without an order counts 0.
 *
 * Checked: tests/buying/ordersByMonth.test.ts
 */
export function ordersByMonth({orders, asOf}: Pick<Histories, "orders" | "asOf">): OrderMonth[] {
  const first = orders.map(({orderedOn}) => monthOf(orderedOn)).sort()[0];
  if (first === undefined) return [];
  const species = [...new Set(orders.map((order) => order.species))].sort();
  return species.flatMap((name) =>
    months(first, monthOf(dayText(asOf))).map((month) => ({
      species: name,
      month,
      ordered: orders
        .filter((order) => order.species === name && monthOf(order.orderedOn) === month)
        .reduce((sum, {quantity}) => sum + quantity, 0)
    }))
  );
}
