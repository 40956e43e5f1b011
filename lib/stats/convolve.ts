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
  const [x, y, n] = [new Float64Array(a), new Float64Array(b), b.length];
  const sums = new Float64Array(a.length + n - 1);
  let i = 0;
  // Four at a time: plans convolve some thousand times, and this takes a third of the time.
  for (; i + 3 < a.length; i += 4) {
    const p = x[i]!;
    const q = x[i + 1]!;
    const r = x[i + 2]!;
    const t = x[i + 3]!;
    let b1 = 0;
    let b2 = 0;
    let b3 = 0;
    for (let j = 0; j < n; j++) {
      const b0 = y[j]!;
      sums[i + j]! += p * b0 + q * b1 + r * b2 + t * b3;
      b3 = b2;
      b2 = b1;
      b1 = b0;
    }
    sums[i + n]! += q * b1 + r * b2 + t * b3;
    sums[i + n + 1]! += r * b1 + t * b2;
    sums[i + n + 2]! += t * b1;
  }
  for (; i < a.length; i++) for (let j = 0; j < n; j++) sums[i + j]! += x[i]! * y[j]!;
  return Array.from(sums);
}
