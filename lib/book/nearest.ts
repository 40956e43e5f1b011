import leven from "leven";
import {fold} from "./fold.ts";

/**
 * The name that a word was probably meant to be: one that differs only in case, accents, spaces or dashes, else the nearest
 * by Levenshtein distance if that is at most a third of the word's length; letters in another order count as one slip.
 *
 * @returns undefined when none is near, or the word is too long to be a name
 * @example nearest("warpd", ["knot", "warp"]) // "warp"
 */
export function nearest(word: string, names: readonly string[]): string | undefined {
  return nearestAmong(names)(word);
}

/** `nearest` for those who ask for many words among the same names. */
export function nearestAmong(names: readonly string[]): (word: string) => string | undefined {
  let known: string[] | undefined;
  return (word) => {
    const folded = fold(word.slice(0, 100));
    if (folded === "" || word.length > 60) return undefined;
    known ??= names.map((name) => fold(name.slice(0, 100)));
    const alike = known.indexOf(folded);
    if (alike >= 0) return names[alike];
    const letters = sorted(folded);
    const sum = letterSum(folded);
    let best: number | undefined;
    let least = Math.floor(folded.length / 3) + 1;
    for (let i = 0; i < known.length; i++) {
      const other = known[i]!;
      if (Math.abs(other.length - folded.length) >= least) continue;
      const isMoved = letterSum(other) === sum && sorted(other) === letters;
      const distance = isMoved ? 1 : leven(folded, other, {maxDistance: least});
      if (distance < least) [best, least] = [i, distance];
    }
    return best === undefined ? undefined : names[best];
  };
}

/** "Did you mean warp? " with a space behind it, or nothing where no name is near. */
export function didYouMean(word: string, names: readonly string[]): string {
  return didYouMeanAmong(names)(word);
}

/** `didYouMean` for those who ask for many words among the same names. */
export function didYouMeanAmong(names: readonly string[]): (word: string) => string {
  const near = nearestAmong(names);
  return (word) => {
    const name = near(word);
    return name === undefined ? "" : `Did you mean ${name}? `;
  };
}

function sorted(word: string): string {
  return [...word].sort().join("");
}

/** The same of words of the same letters, and mostly another of others: asked first, as letters are slow to sort. */
function letterSum(word: string): number {
  let sum = 0;
  for (let i = 0; i < word.length; i++) sum += word.charCodeAt(i);
  return sum;
}
