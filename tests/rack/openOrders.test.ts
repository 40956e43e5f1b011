import fc from "fast-check";
import {expect, test} from "vitest";
import {byPromise, type OpenOrder, openOrders} from "../../lib/rack/openOrders.ts";
import {makePiece} from "../pieces.ts";

const order = (name: string, wantedBy: string | undefined, more: Partial<OpenOrder> = {}) => ({
  row: 2,
  order: name,
  orderedOn: "2026-01-10",
  ...(wantedBy !== undefined && {wantedBy}),
  species: "ash",
  quantity: 1,
  ...more
});
const shaft = (square: string, allottedTo?: string, deliveredOn?: number) =>
  makePiece({
    square,
    turned: [1, 2, 3, 4],
    ...(allottedTo !== undefined && {allottedTo}),
    ...(deliveredOn !== undefined && {deliveredOn})
  });

test("openOrders counts what is lost, allotted and delivered out", () => {
  const orders = [
    order("five", "2026-03-01", {quantity: 5, lost: 1}),
    order("done", "2026-03-01", {quantity: 2}),
    order("gone", "2026-03-01", {lost: 1}),
    order("over", "2026-03-01", {})
  ];
  const pieces = [
    shaft("A", "five"),
    shaft("B", "five", 9),
    shaft("C", "done"),
    shaft("D", "done", 8),
    shaft("E", "over"),
    shaft("F", "over"),
    shaft("G")
  ];
  expect(openOrders({orders, pieces}).map((one) => [one.order, one.lacking, one.given])).toEqual([["five", 2, 2]]);
});

test("openOrders: earliest promised first, undated last; then the day it came in, then the number; rows decide nothing", () => {
  const orders = [
    order("a", "2026-02-01"),
    order("b", "2026-03-01", {orderedOn: "2026-01-01"}),
    order("c", "2026-03-01"),
    order("d", "2026-03-01"),
    order("e", undefined, {orderedOn: "2025-01-01"}),
    order("f", undefined)
  ];
  fc.assert(
    fc.property(fc.shuffledSubarray(orders, {minLength: 6}), (some) => {
      expect(openOrders({orders: some, pieces: []}).map((one) => one.order)).toEqual(["a", "b", "c", "d", "e", "f"]);
    })
  );
  expect(byPromise(orders[0]!, orders[0]!)).toBe(0);
});
