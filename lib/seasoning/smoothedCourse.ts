import {leastSquares} from "../stats/leastSquares.ts";
import {mean} from "../stats/mean.ts";
import {sum} from "../stats/numbers.ts";

/** Weather keeps at least and at most this share from week to week; common practice, no source. */
const [leastKept, mostKept] = [0.3, 0.9];

/**
 * The store's course with what is only error of single readings smoothed out, %. Departures d from the yearly wave, fitted by least squares (of less
 * than ten weeks: from their mean), are taken as weather that keeps the share φ from week to week, and an error of each reading on top; their products
 * c₀, c₁, c₂ over none, one and two weeks tell both.
 *
 *   φ = c₂/c₁ (0.3 to 0.9)   weather σ² = c₁/φ   error σᵤ² = c₀ − σ²   best guess of the weather Σ K g^|k| d(t + k weeks), with
 *   q = σ²(1 − φ²)/(φ σᵤ²)   g + 1/g = φ + 1/φ + q   K = q g/(1 − g²)
 *
 * What is left of the error has then nothing to do with the course, so that it does not draw time constants astray; without error it is the course.
 * The trap: weather of a day or two between weekly readings counts as error, which it is for a piece that follows over weeks.
 * Source: Wiener's smoother of a first-order process in noise (from memory). Checked: tests/seasoning/smoothedCourse.test.ts, against the best linear
 * guess solved from the covariances
 *
 * @param store what the store tends to day by day, see `storeCourse`
 */
export function smoothedCourse(store: readonly (number | undefined)[]): (number | undefined)[] {
  const wave = yearlyWave(store);
  const apart = store.map((pct, day) => (pct === undefined ? 0 : pct - wave[day]!));
  const [c0, c1, c2] = [0, 7, 14].map((days) => sum(apart.map((one, day) => one * (apart[day + days] ?? 0))));
  const weather0 = c1! > 0 ? c1! / Math.min(mostKept, Math.max(leastKept, c2! / c1!)) : 0;
  const error = c0! - weather0;
  if (error <= 0) return [...store];
  const keeps = weather0 > 0 ? c1! / weather0 : leastKept;
  const q = (weather0 * (1 - keeps ** 2)) / (keeps * error);
  const half = (keeps + 1 / keeps + q) / 2;
  const g = half - Math.sqrt(half ** 2 - 1);
  const weights = Array.from({length: 20}, (_, k) => ((q * g) / (1 - g ** 2)) * g ** k);
  return store.map((pct, day) => {
    if (pct === undefined) return undefined;
    const weather = weights.map((weight, k) =>
      k === 0 ? weight * apart[day]! : weight * ((apart[day - 7 * k] ?? 0) + (apart[day + 7 * k] ?? 0))
    );
    return wave[day]! + sum(weather);
  });
}

/** Of fewer days than these a wave would be fitted to what is only error; common practice, no source. */
const leastDays = 70;

/** a + b cos t + c sin t through what is known, by least squares: plain means over part of a year would take a wave for weather. Of few days their mean. */
function yearlyWave(store: readonly (number | undefined)[]): number[] {
  const known = store.flatMap((pct, day) => (pct === undefined ? [] : [{pct, day}]));
  const middle = mean(known.map(({pct}) => pct)) ?? 0;
  if (known.length < leastDays) return store.map(() => middle);
  const terms = (day: number) => {
    const angle = (2 * Math.PI * day) / 365.25;
    return [1, Math.cos(angle), Math.sin(angle)];
  };
  const parts = leastSquares(
    known.map(({day}) => terms(day)),
    known.map(({pct}) => pct - middle)
  );
  return store.map((_, day) => middle + sum(terms(day).map((term, i) => parts[i]! * term)));
}
