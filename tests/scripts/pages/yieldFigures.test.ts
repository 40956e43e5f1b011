import {expect, test} from "vitest";
import type {StageYield} from "../../../lib/yield/stageYields.ts";
import {isMost, stageYieldFigure} from "../../../scripts/pages/yieldFigures.ts";

const stage = (name: string, more: Partial<StageYield>): StageYield => ({
  stage: name,
  lots: 5,
  entered: 100,
  passed: 90,
  discarded: 10,
  diverted: 0,
  inStage: 0,
  method: "from lots",
  ...more
});
const title = (stages: StageYield[]) =>
  stageYieldFigure({all: {stages}, bySpecies: [{species: "ash", yields: {stages}}]}, {population: "", period: ""})
    .title;

test("stageYieldFigure tells no stage while none, or none that lost a piece, has a yield to tell", () => {
  const known = {yieldFraction: 1, yieldLow: 0.97, yieldHigh: 1};
  expect(title([stage("square", {discarded: 0, ...known}), stage("rough-round", {discarded: 0})])).toBe(
    "No stage has lost a piece yet"
  );
  expect(title([stage("square", {})])).toBe("Too early to say which stage loses most");
  expect(title([stage("square", {discarded: 0, ...known}), stage("rough-round", {discarded: 1})])).toBe(
    "Too early to say which stage loses most"
  );
  const worse = {yieldFraction: 0.8, yieldLow: 0.75, yieldHigh: 0.85};
  expect(title([stage("square", worse), stage("rough-round", known)])).toBe("The square stage loses most");
});

test("isMost ranks no defect by a handful of pieces", () => {
  const rate = (defect: string, discarded: number) => ({
    defect,
    squares: 100,
    lots: 5,
    discarded,
    per100: discarded,
    per100Low: discarded - 0.1,
    per100High: discarded + 0.1,
    undecidedPer100: 0
  });
  expect(isMost([rate("all", 6), rate("warp", 5), rate("knot", 1)])).toBe(true);
  expect(isMost([rate("all", 4), rate("warp", 3), rate("knot", 1)])).toBe(false);
});
