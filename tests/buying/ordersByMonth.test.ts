import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {ordersByMonth} from "../../lib/buying/ordersByMonth.ts";
import {bookOf} from "../book/smallBook.ts";

const orders = ["O1,2025-02-01,ash,1", "O2,2025-02-28,ash,4", "O3,2025-04-02,ash,2", "O4,2025-04-03,maple,3"];
const then = (day: string) => ordersByMonth(histories(bookOf({orders}), day));

test("ordersByMonth(book) sums shafts by species and month of the order; a month without one is 0", () => {
  expect(then("2025-05-10")).toEqual([
    {species: "ash", month: "2025-02", ordered: 5},
    {species: "ash", month: "2025-03", ordered: 0},
    {species: "ash", month: "2025-04", ordered: 2},
    {species: "ash", month: "2025-05", ordered: 0},
    {species: "maple", month: "2025-02", ordered: 0},
    {species: "maple", month: "2025-03", ordered: 0},
    {species: "maple", month: "2025-04", ordered: 3},
    {species: "maple", month: "2025-05", ordered: 0}
  ]);
});

test("ordersByMonth(book) ends with the day of the question, and is empty before the first order", () => {
  expect(then("2025-02-10")).toEqual([{species: "ash", month: "2025-02", ordered: 1}]);
  expect(then("2025-01-31")).toEqual([]);
});
