import {expect, test} from "vitest";
import {randomStream} from "../../lib/stats/random.ts";

/**
 * The generator as in Blackman and Vigna (2021), figure 1, with their constants 24, 16, 37, written out with big
 * integers. Seeding and the making of a double are pure-rand's own, from its documentation: state (−1, ¬seed, seed,
 * 0) in 32-bit words, and 26 + 27 low bits of two outputs.
 */
function paper(seed: number): () => number {
  const mask = (1n << 64n) - 1n;
  const word = (high: number, low: number) => (BigInt(high >>> 0) << 32n) | BigInt(low >>> 0);
  const rotate = (x: bigint, k: bigint) => ((x << k) | (x >> (64n - k))) & mask;
  let [s0, s1] = [word(-1, ~seed), word(seed, 0)];
  const next = () => {
    const out = (s0 + s1) & mask;
    s1 ^= s0;
    [s0, s1] = [rotate(s0, 24n) ^ s1 ^ ((s1 << 16n) & mask), rotate(s1, 37n)];
    return Number(out & 0xffffffffn);
  };
  for (let i = 0; i < 64; i++) next();
  return () => {
    const [first, second] = [next(), next()];
    return ((first & 0x3ffffff) * 2 ** 27 + (second & 0x7ffffff)) * 2 ** -53;
  };
}

test("randomStream is xoroshiro128+ as published", () => {
  for (const seed of [0, 1, 42, -7, 4294967295]) {
    const [got, want] = [randomStream(seed), paper(seed)];
    for (let i = 0; i < 200; i++) expect(got()).toBe(want());
  }
});

test("randomStream gives the same numbers again, and others for another seed", () => {
  const first = Array.from({length: 20}, randomStream(1));
  expect(Array.from({length: 20}, randomStream(1))).toEqual(first);
  const second = Array.from({length: 20}, randomStream(2));
  expect(second.filter((x, i) => Math.abs(x - first[i]!) < 1e-3)).toHaveLength(0);
});

// 100 000 uniform numbers: mean ½ ± 4·√(1/12)/√100000, variance 1/12, tenths alike (χ² with 9 df below its 99.99 %
// point, 33.7).
test("randomStream is uniform on [0, 1)", () => {
  const x = Array.from({length: 100_000}, randomStream(2026));
  expect(Math.min(...x)).toBeGreaterThanOrEqual(0);
  expect(Math.max(...x)).toBeLessThan(1);
  const mean = x.reduce((a, b) => a + b) / x.length;
  expect(Math.abs(mean - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / x.length));
  const tenths = Array.from({length: 10}, (_, k) => x.filter((value) => Math.floor(10 * value) === k).length);
  expect(tenths.reduce((sum, n) => sum + (n - 10_000) ** 2 / 10_000, 0)).toBeLessThan(33.7);
});

test("randomStream refuses a seed that is no 32-bit integer", () => {
  expect(() => randomStream(0.5)).toThrow("randomStream: seed must be a 32-bit integer, got 0.5.");
  expect(() => randomStream(2 ** 32)).toThrow("randomStream: seed must be a 32-bit integer, got 4294967296.");
});
