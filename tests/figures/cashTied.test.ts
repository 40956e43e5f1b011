import {expect, test} from "vitest";
import {cashAhead} from "../../lib/buying/cashAhead.ts";
import type {StockMonth} from "../../lib/buying/stockAhead.ts";
import {cashTied} from "../../lib/figures/cashTied.ts";
import {expectSound} from "./sound.ts";

const stock = (sold: (i: number) => number) => ({
  months: Array.from({length: 12}, (_, i) => {
    const endsOn = `2027-${String(i + 1).padStart(2, "0")}-28`;
    return {month: endsOn.slice(0, 7), endsOn, sold: sold(i)} as StockMonth;
  })
});
const input = {
  boughtOn: "2027-01-10",
  squaresCost: 4000,
  workCost: 2000,
  workBy: (days: number) => Math.min(1, days / 200),
  price: 140
};
const about = {species: "ash", currency: "£", boughtOn: "2027-01-10", squares: 200};

test("cashTied is sound; the most and the day of payback stand in title and alt", () => {
  const cash = cashAhead(
    input,
    stock((i) => Math.max(0, 20 * (i - 4))),
    stock(() => 0)
  );
  const figure = cashTied(cash, about);
  const {wide} = expectSound(figure);
  expect(cash.paidBack).toBeDefined();
  expect(figure.title).toContain(`paid back by ${cash.paidBack!.endsOn}`);
  expect(figure.alt).toContain(`on ${cash.most.endsOn}`);
  expect(figure.table.rows.map(({tied}) => tied)).toEqual(cash.months.map(({tied}) => tied));
  expect(wide).toContain("most: £");
});

test("cashTied says when a purchase is not paid back", () => {
  const cash = cashAhead(
    input,
    stock((i) => i),
    stock(() => 0)
  );
  const figure = cashTied(cash, about);
  expectSound(figure);
  expect(figure.title).toMatch(/^Ties up £.*, not paid back$/);
  expect(figure.alt).toContain("not paid back in these months");
});
