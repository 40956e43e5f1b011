import {expect, test} from "vitest";
import {shaftsForOrders} from "../../lib/figures/shaftsForOrders.ts";
import {assignShafts} from "../../lib/rack/assignShafts.ts";
import type {OrderShafts} from "../../lib/rack/rankShafts.ts";
import {ranked, type Shafts} from "../rack/ranked.ts";
import {expectSound} from "./sound.ts";

/** An order that names a weight, and shafts of 300 g. */
const asking = (
  name: string,
  shafts: Shafts,
  window: {massMinG?: number; massMaxG?: number},
  lacking = 1
): OrderShafts => {
  const one = ranked(name, shafts, {lacking, wantedBy: "2026-12-01"});
  const mass = {massG: 300, lowG: 297, highG: 303, sdG: 1.5, freedom: Infinity, basis: "weighed" as const};
  return {...one, order: {...one.order, ...window}, shafts: one.shafts.map((shaft) => ({...shaft, mass}))};
};
const free = [
  {square: "A", species: "ash", massG: 300},
  {square: "B", species: "ash", massG: 340},
  {square: "M", species: "maple", massG: 390}
];
const draw = (orders: OrderShafts[]) => shaftsForOrders(orders, assignShafts(orders), free, {asOf: "2026-10-31"});

test("shaftsForOrders: a line for each shaft owed by weight, a dot for each that is had, ticks for the species asked for", () => {
  const figure = draw([
    asking("O1", {A: 1}, {massMinG: 290, massMaxG: 310}),
    asking("O2", {A: ["mass"]}, {massMinG: 350}, 2),
    ranked("O3", {B: 1})
  ]);
  const {wide} = expectSound(figure);
  expect(figure.title).toBe("1 of 3 weights asked for are on the rack");
  expect(figure.table.rows.map(({order, square, lowG, highG}) => [order, square, lowG, highG])).toEqual([
    ["O1", "A", 290, 310],
    ["O2 (1)", "none", 350, undefined],
    ["O2 (2)", "none", 350, undefined]
  ]);
  expect(wide.match(/A for O1: 300/g)).toHaveLength(1);
  expect(wide).toContain("A: 300");
  expect(wide).not.toContain("M: 390");
  expect(wide.match(/O2 \(\d\): 350.{1,6}g to any/g)).toHaveLength(2);
});

test("shaftsForOrders: of many orders the 24 promised first, and it says so; of none that names a weight, that", () => {
  const many = Array.from({length: 30}, (_, i) => asking(`O${i}`, {}, {massMaxG: 310}));
  const figure = draw(many);
  expectSound(figure);
  expect(figure.table.rows).toHaveLength(24);
  expect(figure.subtitle).toContain("the 24 orders promised first");
  const none = draw([ranked("O3", {B: 1})]);
  expect(none.title).toBe("No open order names a weight");
  expect(none.table.rows).toEqual([]);
});
