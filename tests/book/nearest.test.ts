import {expect, test} from "vitest";
import {didYouMean, nearest} from "../../lib/book/nearest.ts";

const defects = ["knot", "run-out", "stain", "check", "warp", "tear-out", "off-weight"];

test.each([
  ["Warp", "warp"],
  ["RUN OUT", "run-out"],
  ["tear_out", "tear-out"],
  ["Off Weight", "off-weight"]
])("nearest(%j): case, spaces and dashes aside it is %j", (word, name) => {
  expect(nearest(word, defects)).toBe(name);
});

test.each([
  ["a letter too many", "warpd", "warp"],
  ["a letter missing", "knt", "knot"],
  ["a wrong letter", "chack", "check"],
  ["two letters wrong of seven", "rum-oot", "run-out"]
])("nearest: %s: %j is %j", (_, word, name) => {
  expect(nearest(word, defects)).toBe(name);
});

test("nearest: distances by hand, at most a third of the word", () => {
  // Levenshtein's own kind of example: kitten to sitting is k→s, e→i, +g, so 3; a third of 6 letters is 2, of 9 is 3.
  expect(nearest("kitten", ["sitting"])).toBeUndefined();
  // One wrong letter of three is a third; one of two is a half.
  expect(nearest("ish", ["ash"])).toBe("ash");
  expect(nearest("oh", ["ah"])).toBeUndefined();
});

test("nearest: the nearer of two, the first of two as near, and one that is alike before all", () => {
  expect(nearest("stains", ["stairs", "stain", "strain"])).toBe("stairs");
  expect(nearest("stainn", ["strain", "stain"])).toBe("stain");
  expect(nearest("Mass G", ["mass", "mass_g"])).toBe("mass_g");
});

test("nearest: letters in another order are one slip, but none in two letters", () => {
  expect(nearest("wrap", defects)).toBe("warp");
  expect(nearest("chekc", ["cheek", "check"])).toBe("check");
  expect(nearest("ha", ["ah"])).toBeUndefined();
});

test.each(["", "   ", "–", "shake", "turned"])("nearest(%j) is none of them", (word) => {
  expect(nearest(word, defects)).toBeUndefined();
});

test("nearest: no names, no nearest", () => {
  expect(nearest("warp", [])).toBeUndefined();
});

test("nearest: a word that is too long to be a name is near none, though it is alike; 60 letters are not too long", () => {
  const long = "a".repeat(60);
  expect(nearest(long, [long])).toBe(long);
  expect(nearest(`${long}a`, [`${long}a`])).toBeUndefined();
});

test("nearest: words that every object knows are no names", () => {
  expect(nearest("constructor", defects)).toBeUndefined();
  expect(nearest("__proto__", defects)).toBeUndefined();
});

test("nearest takes a whole damaged cell without delay", () => {
  const started = performance.now();
  expect(nearest("x".repeat(5_000_000), ["x".repeat(5_000_000)])).toBeUndefined();
  expect(performance.now() - started).toBeLessThan(1000);
});

test("didYouMean asks for the nearest name, or says nothing", () => {
  expect(didYouMean("warpd", ["knot", "warp"])).toBe("Did you mean warp? ");
  expect(didYouMean("oak", ["knot", "warp"])).toBe("");
});
