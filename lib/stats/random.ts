import {uniformFloat64} from "pure-rand/distribution/uniformFloat64";
import {xoroshiro128plus} from "pure-rand/generator/xoroshiro128plus";
import {skipN} from "pure-rand/utils/skipN";
import {check} from "../check.ts";

/** A source of numbers uniform on [0, 1). */
export type Random = () => number;

/**
 * A stream of numbers uniform on [0, 1), the same for the same seed on every machine: reports that
 * resample come out byte for byte alike.
 *
 * The generator is xoroshiro128+, of which two 32-bit outputs make one number with 53 random bits. The
 * seed fills only a quarter of its state, so the first 64 outputs are thrown away: without that,
 * the streams of seeds 1 and 2 begin alike.
 *
 * Source: Blackman and Vigna (2021), ACM Trans. Math. Softw. 47(4):36; npm package pure-rand.
 * Checked: tests/stats/random.test.ts, against the generator written out from the paper.
 *
 * @param seed a whole number of 32 bits, −2³¹ to 2³² − 1
 * @throws RangeError on any other seed
 */
export function randomStream(seed: number): Random {
  check(Number.isInteger(seed) && seed >= -(2 ** 31) && seed < 2 ** 32, "randomStream: seed", "a 32-bit integer", seed);
  const generator = xoroshiro128plus(seed);
  skipN(generator, 64);
  return () => uniformFloat64(generator);
}
