import {expect, test} from "vitest";
import {stageYields} from "../../lib/yield/stageYields.ts";
import {yieldsToTell} from "../../lib/yield/yieldsToTell.ts";
import {makePiece, settings} from "../pieces.ts";

const passed = (days: readonly number[], lot = "A") => makePiece({lot, turned: [...days]});
const histories = {settings, asOf: 400};

// By hand: of six squares three passed on day 70 and three are still there on day 400: half is decided, and nobody knows
// of the rest.
test("yieldsToTell: where half is undecided no yield is told, whatever has passed so far", () => {
  const pieces = [
    ...Array.from({length: 3}, () => passed([70, 140, 210, 280])),
    ...Array.from({length: 3}, () => passed([]))
  ];
  const yields = stageYields(histories, pieces);
  expect(yields.rolledFraction).toBeCloseTo(0.5, 12);
  expect(yields.rolledUndecidedFraction).toBeCloseTo(0.5, 12);
  const told = yieldsToTell(yields);
  expect(told).not.toHaveProperty("rolledFraction");
  expect(told.stages[0]).toMatchObject({entered: 6, passed: 3, inStage: 3, method: "too few to say"});
  expect(told.stages[0]).not.toHaveProperty("yieldFraction");
  expect(told.stages.slice(1)).toEqual(yields.stages.slice(1));
});

test("yieldsToTell leaves yields as they are where all, or nearly all, is decided", () => {
  const pieces = Array.from({length: 20}, () => passed([70, 140, 210, 280]));
  const all = stageYields(histories, pieces);
  expect(all.rolledFraction).toBe(1);
  expect(yieldsToTell(all)).toEqual(all);
  const nearly = stageYields(histories, [...pieces, passed([])]);
  expect(nearly.rolledUndecidedFraction).toBeCloseTo(1 / 21, 12);
  expect(yieldsToTell(nearly)).toEqual(nearly);
});
