import {uniformFloat64} from "pure-rand/distribution/uniformFloat64";
import {xoroshiro128plus} from "pure-rand/generator/xoroshiro128plus";
import {seed} from "./truth.ts";

/** A source of random numbers, uniform on [0, 1). */
export type Random = () => number;

/**
 * A stream of its own for each thing that happens, named after it: whatever is added to one part of the book, the dice of all
 * other parts fall as before.
 *
 * @example stream("lot L001")() // the same number on every machine
 */
export function stream(name: string): Random {
  const generator = xoroshiro128plus(hash(`${seed} ${name}`));
  for (let i = 0; i < 8; i++) generator.next(); // the first numbers of near seeds are alike
  return () => uniformFloat64(generator);
}

/** FNV-1a, 32 bits: text to seed. */
function hash(text: string): number {
  let h = 0x811c9dc5;
  for (const character of text) h = Math.imul(h ^ character.codePointAt(0)!, 0x01000193);
  return h;
}

export function uniform(random: Random, low: number, high: number): number {
  return low + (high - low) * random();
}

/** A whole number from low to high, both included. */
export function whole(random: Random, low: number, high: number): number {
  return Math.floor(uniform(random, low, high + 1));
}

/** One of the things, each with its weight; the weights need not sum to 1. */
export function choose<T>(random: Random, things: readonly T[], weight: (thing: T) => number = () => 1): T {
  const total = things.reduce((sum, thing) => sum + weight(thing), 0);
  let left = random() * total;
  for (const thing of things) {
    left -= weight(thing);
    if (left < 0) return thing;
  }
  return things.at(-1)!;
}

/** Box and Muller (1958), Ann. Math. Statist. 29:610-611; the second of the pair is thrown away. */
export function normal(random: Random, mean = 0, deviation = 1): number {
  const radius = Math.sqrt(-2 * Math.log(1 - random()));
  return mean + deviation * radius * Math.cos(2 * Math.PI * random());
}
