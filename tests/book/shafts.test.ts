import {expect, test} from "vitest";
import {isFreeShaft, isThere, shaftsGiven} from "../../lib/book/shafts.ts";
import {makePiece} from "../pieces.ts";

const turned = [1, 2, 3, 4];
const pieces = {
  resting: makePiece(),
  free: makePiece({turned}),
  allotted: makePiece({turned, allottedTo: "O1"}),
  delivered: makePiece({turned, allottedTo: "O1", deliveredOn: 9}),
  sold: makePiece({turned, deliveredOn: 9}),
  discarded: makePiece({discarded: 3}),
  diverted: makePiece({diverted: 3})
};
const those = (is: (piece: (typeof pieces)["resting"]) => boolean) =>
  Object.entries(pieces).flatMap(([name, piece]) => (is(piece) ? [name] : []));

test("isThere: what rests, and shafts not delivered", () => {
  expect(those(isThere)).toEqual(["resting", "free", "allotted"]);
});

test("isFreeShaft: finished, neither allotted nor delivered", () => {
  expect(those(isFreeShaft)).toEqual(["free"]);
});

test("shaftsGiven counts allotted and delivered shafts by order", () => {
  expect([...shaftsGiven(Object.values(pieces))]).toEqual([["O1", 2]]);
});
