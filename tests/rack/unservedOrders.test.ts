import fc from "fast-check";
import {expect, test} from "vitest";
import {assignShafts} from "../../lib/rack/assignShafts.ts";
import type {OrderShafts} from "../../lib/rack/rankShafts.ts";
import type {ShaftWish} from "../../lib/rack/shaftFit.ts";
import {unservedOrders} from "../../lib/rack/unservedOrders.ts";
import {ranked, type Shafts} from "./ranked.ts";

const unserved = (...orders: OrderShafts[]) => unservedOrders(orders, assignShafts(orders));

test("unservedOrders names the wishes in the way, most shafts first, and the shaft that one given up would bring", () => {
  expect(unserved(ranked("O", {A: ["mass"], B: ["mass", "colour"], C: ["colour"]}, {wantedBy: "2026-03-01"}))).toEqual([
    {
      order: "O",
      wantedBy: "2026-03-01",
      without: 1,
      cause: "no shaft fits",
      shafts: 3,
      fitting: 0,
      inTheWay: [
        {wish: "mass", shafts: 2},
        {wish: "colour", shafts: 2}
      ],
      giveUp: [
        {wish: "mass", square: "A"},
        {wish: "colour", square: "C"}
      ],
      goTo: []
    }
  ]);
});

test("unservedOrders: where all that fit go to others, to whom; where there is none of the species, that", () => {
  const rivals = [ranked("soon", {A: 1}, {wantedBy: "2026-02-01"}), ranked("late", {A: 1}, {wantedBy: "2026-03-01"})];
  expect(unserved(...rivals)).toMatchObject([
    {order: "late", cause: "all that fit go to others", fitting: 1, goTo: ["soon"], giveUp: []}
  ]);
  expect(unserved(ranked("O", {}))).toMatchObject([{cause: "no free shaft of the species", without: 1, inTheWay: []}]);
  expect(unserved(ranked("O", {A: 1}, {lacking: 3}))).toMatchObject([{order: "O", without: 2}]);
  expect(unserved(ranked("O", {A: 1}))).toEqual([]);
});

test("unservedOrders: a shaft that is held comes free where its holder can take another", () => {
  const orders = [
    ranked("soon", {A: 1, B: 0.1}, {wantedBy: "2026-02-01"}),
    ranked("late", {A: ["grain"], B: ["mass", "grain"]})
  ];
  expect(unserved(...orders)[0]!.giveUp).toEqual([{wish: "grain", square: "A"}]);
});

/** The orders as they would be if one gave up a wish. */
const without = (orders: readonly OrderShafts[], order: string, wish: ShaftWish) =>
  orders.map((one) =>
    one.order.order !== order
      ? one
      : {
          ...one,
          shafts: one.shafts.map((shaft) => {
            const left = shaft.wishes.filter((each) => each.wish !== wish);
            return left.length === 0 ? {...shaft, state: "fits" as const, wishes: left} : {...shaft, wishes: left};
          })
        }
  );

test("unservedOrders: a wish is named if, and only if, all that are served and one more could be without it, by assigning anew", () => {
  const wishes = fc.subarray<ShaftWish>(["mass", "colour"], {minLength: 1});
  const how = fc.oneof(fc.constantFrom(0.2, 0.5, 1), wishes);
  const shafts = fc.dictionary(fc.constantFrom("A", "B", "C", "D"), how, {noNullPrototype: true});
  fc.assert(
    fc.property(fc.array(shafts, {minLength: 1, maxLength: 5}), (rows) => {
      const orders = rows.map((row, i) => ranked(`O${i}`, row as Shafts, {wantedBy: `2026-0${i + 1}-01`}));
      const before = assignShafts(orders);
      for (const {order, inTheWay, giveUp} of unservedOrders(orders, before))
        for (const {wish} of inTheWay) {
          const after = assignShafts(without(orders, order, wish));
          expect(giveUp.some((one) => one.wish === wish)).toBe(after.served > before.served);
        }
    }),
    {numRuns: 300}
  );
});

test("unservedOrders tells too few of its own from those that go to others, and those that may fit but are looked at for others", () => {
  expect(unserved(ranked("O", {A: 1, B: 1}, {lacking: 3}))).toMatchObject([
    {cause: "too few fit", goTo: [], without: 1}
  ]);
  const unknown = (order: string, wantedBy: string) => {
    const one = ranked(order, {S: 0.5}, {wantedBy});
    return {...one, shafts: one.shafts.map((shaft) => ({...shaft, state: "not known" as const}))};
  };
  expect(unserved(unknown("A", "2026-02-01"), unknown("B", "2026-03-01"))).toMatchObject([
    {order: "B", cause: "those that may fit are to be looked at for others"}
  ]);
});
