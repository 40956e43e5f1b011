import {expect, test} from "vitest";
import {assignShafts} from "../../lib/rack/assignShafts.ts";
import {competingOrders} from "../../lib/rack/competingOrders.ts";
import {ranked, type Shafts} from "./ranked.ts";

const soon = (shafts: Shafts) => ranked("soon", shafts, {wantedBy: "2026-02-01"});
const late = (shafts: Shafts) => ranked("late", shafts, {wantedBy: "2026-03-01"});
const competing = (...orders: ReturnType<typeof ranked>[]) => competingOrders(orders, assignShafts(orders));

test("competingOrders: the one that goes without, with the shaft that another has", () => {
  expect(competing(soon({A: 0.4}), late({A: 0.9, B: ["mass"]}))).toEqual([
    {square: "A", goesTo: "soon", fit: 0.4, order: "late", wantedBy: "2026-03-01", fitOther: 0.9}
  ]);
});

test("competingOrders: the one that gets a shaft that fits worse by five points or more", () => {
  // Both served; the best total is 0.9 + 0.7, so that late has B though A would fit it better.
  expect(competing(soon({A: 0.9, B: 0.3}), late({A: 0.95, B: 0.7}))).toEqual([
    {
      square: "A",
      goesTo: "soon",
      fit: 0.9,
      order: "late",
      wantedBy: "2026-03-01",
      fitOther: 0.95,
      gets: "B",
      fitGets: 0.7
    }
  ]);
  expect(competing(soon({A: 0.9, B: 0.3}), late({A: 0.74, B: 0.7}))).toEqual([]);
});

test("competingOrders: none where each has what it likes best; those that go without come first", () => {
  expect(competing(soon({A: 0.9}), late({B: 0.9}))).toEqual([]);
  const rows = competing(
    ranked("first", {A: 1, B: 0.2}, {wantedBy: "2026-01-10"}),
    ranked("second", {A: 0.9, B: 0.8}, {wantedBy: "2026-01-20"}),
    ranked("third", {A: 0.5, B: 0.5}, {wantedBy: "2026-01-30"})
  );
  expect(rows.map(({order, square, gets}) => [order, square, gets])).toEqual([
    ["third", "A", undefined],
    ["third", "B", undefined],
    ["second", "A", "B"]
  ]);
});
