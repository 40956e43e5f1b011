import {normal, type Random} from "./random.ts";

/** Gamma of a shape of at least 1. Source: Marsaglia and Tsang (2000), ACM Trans. Math. Softw. 26:363-372; from memory. */
export function gamma(random: Random, shape: number, mean: number): number {
  if (shape < 1) return (gamma(random, shape + 1, 1) * (shape + 1) * random() ** (1 / shape) * mean) / shape;
  const d = shape - 1 / 3;
  const c = 1 / Math.sqrt(9 * d);
  for (;;) {
    const x = normal(random);
    const v = (1 + c * x) ** 3;
    if (v > 0 && Math.log(1 - random()) < (x * x) / 2 + d - d * v + d * Math.log(v)) return (d * v * mean) / shape;
  }
}

/** Beta as a share of two gammas. */
export function beta(random: Random, a: number, b: number): number {
  const x = gamma(random, a, a);
  return x / (x + gamma(random, b, b));
}

/** Poisson by Knuth's products, for means up to some hundreds. */
export function poisson(random: Random, mean: number): number {
  let product = random();
  let count = 0;
  for (const limit = Math.exp(-mean); product > limit; count++) product *= random();
  return count;
}

/** Negative binomial: a Poisson whose mean is gamma; variance mean + mean²/size. */
export function negativeBinomial(random: Random, mean: number, size: number): number {
  return poisson(random, gamma(random, size, mean));
}
