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
  const folded = fold(word.slice(0, 100));
  if (folded === "" || word.length > 60) return undefined;
  const alike = names.find((name) => fold(name) === folded);
  if (alike !== undefined) return alike;
  const most = Math.floor(folded.length / 3);
  const letters = sorted(folded);
  let best: string | undefined;
  let least = most + 1;
  for (const name of names) {
    const other = fold(name.slice(0, 100));
    const distance = sorted(other) === letters ? 1 : leven(folded, other, {maxDistance: least});
    if (distance < least) [best, least] = [name, distance];
  }
  return best;
}

/** "Did you mean warp? " with a space behind it, or nothing where no name is near. */
export function didYouMean(word: string, names: readonly string[]): string {
  const near = nearest(word, names);
  return near === undefined ? "" : `Did you mean ${near}? `;
}

function sorted(word: string): string {
  return [...word].sort().join("");
}
