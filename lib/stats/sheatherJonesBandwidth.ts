import {check} from "../check.ts";
import {deviation} from "./deviation.ts";
import {checkNumbers, greatest, least} from "./numbers.ts";
import {quantile} from "./quantile.ts";
import {root} from "./root.ts";

/**
 * Sheather–Jones bandwidth, in the unit of the values: keeps two humps apart where Silverman's rule melts them
 * together.
 *
 *   h = ( 1/(2√π·n·S(g)) )^(1/5)
 *   "solve"    g = α₂ h^(5/7), solved for h, α₂ = 1.357·( S(a)/T(b) )^(1/7)
 *   "plug-in"  g = ( 2.394/(n·T(b)) )^(1/7), at once, and smoother
 *   a = 1.24·λ·n^(−1/7)    b = 1.23·λ·n^(−1/9)
 *   S, −T the mean fourth and sixth derivative of a normal kernel over all pairs, λ = min(s, IQR/1.349)
 *
 * From all pairwise distances: work grows with n², about a tenth of a second for 300 values. With `bins` the values
 * are first rounded down to so many steps over 1.01 times their range, as R's bw.SJ does with 1000: up to 0.1 % off,
 * and a thousand values take some milliseconds.
 *
 * Source: Sheather and Jones (1991), J. R. Statist. Soc. B 53:683–690; the constants as in R's bw.SJ.
 * Checked: tests/reference/kernelDensity.test.ts, against the same equations in R and its bw.SJ.
 *
 * @returns undefined below two values, when half of them are equal, or when they are too few for the equation to have
 *   an answer
 * @throws RangeError unless every value is finite, and bins, if given, a count of 1 or more
 */
export function sheatherJonesBandwidth(
  values: readonly number[],
  {method = "solve", bins}: {method?: "solve" | "plug-in"; bins?: number} = {}
): number | undefined {
  checkNumbers(values, "sheatherJonesBandwidth: values");
  const counted = bins === undefined || (Number.isInteger(bins) && bins >= 1);
  check(counted, "sheatherJonesBandwidth: bins", "a count of 1 or more", bins);
  const s = deviation(values);
  if (s === undefined) return undefined;
  const n = values.length;
  const scale = Math.min(s, (quantile(values, 0.75)! - quantile(values, 0.25)!) / 1.349);
  if (scale === 0) return undefined;
  const pairs = bins === undefined ? eachPair(values) : binnedPairs(values, bins);
  const fourth = (h: number) => {
    const total = kernelSum(pairs, h, (d) => d * d - 6 * d + 3);
    return (2 * total + 3 * n) / (n * (n - 1) * h ** 5 * Math.sqrt(2 * Math.PI));
  };
  const sixth = (h: number) => {
    const total = kernelSum(pairs, h, (d) => ((d - 15) * d + 45) * d - 15);
    return (15 * n - 2 * total) / (n * (n - 1) * h ** 7 * Math.sqrt(2 * Math.PI));
  };
  const roughness = sixth(1.23 * scale * n ** (-1 / 9));
  const ratio = fourth(1.24 * scale * n ** (-1 / 7)) / roughness;
  if (!(ratio > 0 && ratio < Number.POSITIVE_INFINITY)) return undefined;
  const bandwidth = (g: number) => (2 * Math.sqrt(Math.PI) * n * fourth(g)) ** -0.2;
  if (method === "plug-in") return bandwidth((2.394 / (n * roughness)) ** (1 / 7));
  const alpha = 1.357 * ratio ** (1 / 7);
  const miss = (h: number) => bandwidth(alpha * h ** (5 / 7)) - h;
  let [low, high] = [0.1144 * scale * n ** -0.2, 1.144 * scale * n ** -0.2];
  for (let widened = 0; miss(low) * miss(high) > 0; widened++) {
    if (widened === 20) return undefined;
    [low, high] = [low / 1.2, high * 1.2];
  }
  return miss(low) * miss(high) <= 0 ? root(miss, low, high) : undefined;
}

/** Pairs of values by their distance. */
interface Pairs {
  squares: Float64Array;
  /** How many pairs are so far apart; one each unless given. */
  counts?: Float64Array;
}

function eachPair(values: readonly number[]): Pairs {
  const squares = new Float64Array((values.length * (values.length - 1)) / 2);
  let pair = 0;
  for (let i = 1; i < values.length; i++) {
    for (let j = 0; j < i; j++) squares[pair++] = (values[i]! - values[j]!) ** 2;
  }
  return {squares};
}

/** Of values in bins there are no more distances than bins: a thousand values take a hundredth of the time of all their pairs. */
function binnedPairs(values: readonly number[], bins: number): Pairs {
  const [low, high] = [least(values), greatest(values)];
  const step = (1.01 * (high - low)) / bins;
  const bin = Float64Array.from(values, (x) => Math.trunc(x / step));
  const furthest = Math.trunc(high / step) - Math.trunc(low / step);
  if (furthest > values.length ** 2) return eachPair(values.map((x) => step * Math.trunc(x / step)));
  const counts = new Float64Array(furthest + 1);
  for (let i = 1; i < bin.length; i++) {
    for (let j = 0; j < i; j++) counts[Math.abs(bin[i]! - bin[j]!)]!++;
  }
  return {squares: Float64Array.from(counts, (_, apart) => (apart * step) ** 2), counts};
}

/** Σ e^(−d/2)·polynomial(d) over pairs, d their squared distance in bandwidths; far pairs add nothing. */
function kernelSum({squares, counts}: Pairs, h: number, polynomial: (d: number) => number): number {
  const unit = h ** 2;
  let total = 0;
  for (let i = 0; i < squares.length; i++) {
    const d = squares[i]! / unit;
    if (d < 1000) total += (counts?.[i] ?? 1) * Math.exp(-d / 2) * polynomial(d);
  }
  return total;
}
