import {expect, test} from "vitest";
import {check} from "../lib/check.ts";

test("check(false, …) throws the one error sentence, text in quotes, numbers as they are", () => {
  expect(() => check(false, "density: massG", "positive", -3)).toThrow(
    new RangeError("density: massG must be positive, got -3.")
  );
  expect(() => check(false, "a: b", "a day", "soon")).toThrow('a: b must be a day, got "soon".');
  expect(() => check(Number("x") > 0, "a: b", "positive", Number.NaN)).toThrow("a: b must be positive, got NaN.");
  expect(() => check(false, "a: b", "given", undefined)).toThrow("a: b must be given, got undefined.");
});

test("check(true, …) says nothing", () => {
  expect(() => check(true, "a: b", "positive", 1)).not.toThrow();
});
