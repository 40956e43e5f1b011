import fc from "fast-check";
import {expect, test} from "vitest";
import {fold} from "../../lib/book/fold.ts";
import {didYouMean, didYouMeanAmong, nearest, nearestAmong} from "../../lib/book/nearest.ts";

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

test("nearestAmong many names gives for each word what nearest gives, however often it is asked", () => {
  const near = nearestAmong(defects);
  for (const word of ["warpd", "shake", "Run Out", "warpd", "", "chekc"])
    expect(near(word)).toBe(nearest(word, defects));
  expect(didYouMeanAmong(defects)("knt")).toBe("Did you mean knot? ");
});

test("nearest: the first of several names that are alike, also behind a nearer way of writing one", () => {
  expect(nearest("run out", ["run-in", "run_out", "run out"])).toBe("run_out");
});

/** As it is defined, name by name, distances by the recurrence of Wagner and Fischer (1974), from memory. */
function slowly(word: string, names: readonly string[]): string | undefined {
  const of = fold(word);
  const letters = (text: string) => [...text].sort().join("");
  const distance = (a: string, b: string): number => {
    if (a === b) return -1;
    if (letters(a) === letters(b)) return 1;
    let row = Array.from({length: b.length + 1}, (_, j) => j);
    for (let i = 1; i <= a.length; i++) {
      const next = [i];
      for (let j = 1; j <= b.length; j++)
        next.push(Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1)));
      row = next;
    }
    return row[b.length]!;
  };
  const near = names
    .map((name, i) => ({name, i, off: distance(of, fold(name))}))
    .sort((a, b) => a.off - b.off || a.i - b.i);
  return of !== "" && near[0] && near[0].off <= Math.floor(of.length / 3) ? near[0].name : undefined;
}

test("nearest(words and names at random): the first of the nearest, by definition", () => {
  const text = fc.string({unit: fc.constantFrom(..."abAB1-_ "), maxLength: 8});
  fc.assert(
    fc.property(text, fc.array(text, {maxLength: 8}), (word, names) => {
      expect(nearest(word, names)).toBe(slowly(word, names));
    }),
    {numRuns: 2000}
  );
});
