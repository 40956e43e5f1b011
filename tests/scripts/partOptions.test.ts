import {expect, test} from "vitest";
import {listed, named, numbered, sized} from "../../scripts/partOptions.ts";

test("listed takes values with commas between, and more than one option", () => {
  expect(listed("A1, A2,,")).toEqual(["A1", "A2"]);
  expect(listed("A3", ["A1"])).toEqual(["A1", "A3"]);
});

const stages = ["square", "rough-round", "finished"];

test("named gives names in the spelling of the book, each once; none where the option is not given", () => {
  expect(named("--stage", ["Rough Round", "finished", "rough-round"], stages)).toEqual(["rough-round", "finished"]);
  expect(named("--stage", undefined, stages)).toBeUndefined();
  expect(named("--lot", ["Oak", "green"], ["Oak, green", "L1"])).toEqual(["Oak, green"]);
});

test("named says what it does not know, with the nearest and what there is", () => {
  expect(() => named("--stage", ["finishd"], stages)).toThrow(
    "--stage must name what the book has: square, rough-round, finished, got “finishd” (finished?). Look for a typing error."
  );
  expect(() => named("--stage", [], stages)).toThrow("--stage must name something, got nothing.");
});

test("numbered gives NaN for what is no number", () => {
  expect([numbered("3"), numbered(""), numbered("three")]).toEqual([3, Number.NaN, Number.NaN]);
});

test("sized takes two sizes in mm with a point or a comma", () => {
  expect([sized("70x37"), sized("63,5 × 38.1 mm")]).toEqual([
    [70, 37],
    [63.5, 38.1]
  ]);
  expect(() => sized("70")).toThrow("A size must be two numbers in mm, across x down, like 70x37, got “70”.");
});
