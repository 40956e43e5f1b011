import {expect, test} from "vitest";
import {spellCounts, windowSide} from "../../lib/book/spellCounts.ts";
import {makePiece, settings} from "../pieces.ts";

const last = settings.stages.at(-1)!.name;

test("windowSide: both ends of the window belong to it", () => {
  const window = {low: 640, high: 720};
  expect([639.9, 640, 700, 720, 720.1].map((x) => windowSide(x, window))).toEqual([
    "below",
    "inside",
    "inside",
    "inside",
    "above"
  ]);
});

test("spellCounts: one row a piece and stage, with the days and how it left", () => {
  const made = [
    makePiece({boughtOn: 5, turned: [50], discarded: 70, defect: "warp"}),
    makePiece({lot: "L2", turned: [10, 20, 30, 40], allottedTo: "O-1", deliveredOn: 60}),
    makePiece({lot: "L3", turned: [10, 20, 30, 40], allottedTo: "O-2"})
  ];
  expect(spellCounts(made.slice(0, 1))).toEqual([
    {lot: "L1", stage: "square", from: 5, to: 50, outcome: "passed", squares: 1},
    {lot: "L1", stage: "rough-round", from: 50, to: 70, outcome: "discarded: warp", squares: 1}
  ]);
  expect(spellCounts(made.slice(1)).filter(({stage}) => stage === last)).toEqual([
    {lot: "L2", stage: last, from: 40, to: 60, outcome: "delivered", squares: 1},
    {lot: "L3", stage: last, from: 40, outcome: "allotted", squares: 1}
  ]);
});
