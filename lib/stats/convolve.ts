/**
 * Distribution of the sum of two independent counts, as probabilities: entry k is that of a sum of k.
 *
 *   c_k = Σ a_i·b_{k−i}        a_i = P(first count = i), from 0 on; likewise b
 *
 * Written out, not by Fourier transform: the supports are a few hundred, and small tails keep their digits.
 *
 * Source: Feller (1968), An Introduction to Probability Theory, vol. 1, section XI.2 (from memory).
 * Checked: tests/reference/convolution.test.ts, against R; tests/stats/convolve.test.ts, against enumeration.
 *
 * @returns a.length + b.length − 1 numbers; none when either is empty
 * @example convolve([0.5, 0.5], [0.5, 0.5]) // [0.25, 0.5, 0.25]
 */
export function convolve(a: readonly number[], b: readonly number[]): number[] {
  if (a.length === 0 || b.length === 0) return [];
  const sums = new Array<number>(a.length + b.length - 1).fill(0);
  for (let i = 0; i < a.length; i++) {
    const p = a[i]!;
    if (p === 0) continue;
    for (let j = 0; j < b.length; j++) sums[i + j]! += p * b[j]!;
  }
  return sums;
}
