import {expect, test} from "vitest";
import {freeShafts, rankShafts} from "../../lib/rack/rankShafts.ts";
import {makeHistories, makePiece, type PieceMade} from "../pieces.ts";

const shaft = (square: string, massG: number, more: PieceMade = {}) =>
  makePiece({
    square,
    turned: [1, 2, 3, 4],
    measurements: [{day: 4, stage: "finished", turned: true, massG}],
    ...more
  });

test("freeShafts are finished, not allotted, not delivered, not thrown out", () => {
  const pieces = [
    shaft("free", 320),
    shaft("allotted", 320, {allottedTo: "O9"}),
    shaft("delivered", 320, {deliveredOn: 9}),
    shaft("broken", 320, {discarded: 9}),
    makePiece({square: "resting"})
  ];
  expect(freeShafts({pieces}).map(({square}) => square)).toEqual(["free"]);
});

test("rankShafts: those that fit first, best first, then what is not known, then misfits; of equals the older", () => {
  const white = {intake: {colour: "white"}};
  const pieces = [
    shaft("heavy", 360, white),
    shaft("unknown", 320),
    shaft("edge", 331, white),
    shaft("young", 320, {...white, turned: [1, 2, 3, 9]}),
    shaft("old", 320, white),
    shaft("maple", 320, {...white, species: "maple"})
  ];
  const orders = [
    {row: 2, order: "late", orderedOn: "2026-01-01", wantedBy: "2026-09-01", species: "ash", quantity: 1},
    {
      row: 3,
      order: "soon",
      orderedOn: "2026-01-01",
      wantedBy: "2026-08-01",
      species: "ash",
      quantity: 1,
      massMinG: 305,
      massMaxG: 335,
      colour: "white"
    }
  ];
  const ranked = rankShafts({...makeHistories(pieces, {asOf: 20}), orders});
  expect(ranked.map(({order, otherSpecies}) => [order.order, otherSpecies])).toEqual([
    ["soon", 1],
    ["late", 1]
  ]);
  expect(ranked[0]!.shafts.map(({square, state}) => [square, state])).toEqual([
    ["old", "fits"],
    ["young", "fits"],
    ["edge", "fits"],
    ["unknown", "not known"],
    ["heavy", "does not fit"]
  ]);
  expect(ranked[1]!.shafts.every(({state, fit}) => state === "fits" && fit === 1)).toBe(true);
});
