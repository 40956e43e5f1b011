import {check} from "../check.ts";

/**
 * The point between `low` and `high` where a continuous function crosses zero, in the unit of its argument, to within
 * a few units in the last place.
 *
 * Inverse quadratic steps while they are safe, bisection otherwise.
 *
 * Source: Chandrupatla (1997), Advances in Engineering Software 28:145–149.
 * Checked: tests/stats/root.test.ts, against √2, π and the roots of a flat ninth power.
 *
 * @throws RangeError unless the function has opposite signs, or a zero, at the two ends
 */
export function root(f: (x: number) => number, low: number, high: number): number {
  let [a, b, c] = [high, low, high];
  let [fa, fb, fc] = [f(high), f(low), f(high)];
  check(fa === 0 || fb === 0 || fa > 0 !== fb > 0, "root: f(low)", `of other sign than f(high) = ${fa}`, fb);
  let share = 0.5;
  for (let step = 0; step < 200; step++) {
    const best = Math.abs(fa) < Math.abs(fb) ? a : b;
    const reach = (2 * Number.EPSILON * Math.abs(best) + Number.MIN_VALUE) / Math.abs(b - a);
    if (fa === 0 || fb === 0 || !(reach < 0.5)) return best;
    const x = a + Math.min(1 - reach, Math.max(reach, share)) * (b - a);
    const fx = f(x);
    if (fx > 0 === fa > 0) [c, fc] = [a, fa];
    else [c, b, fc, fb] = [b, a, fb, fa];
    [a, fa] = [x, fx];
    share = nextShare(a, b, c, fa, fb, fc);
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b;
}

/** Where between a and b to look next: inverse quadratic interpolation if the three points lie well, else half-way. */
function nextShare(a: number, b: number, c: number, fa: number, fb: number, fc: number): number {
  const xi = (a - b) / (c - b);
  const phi = (fa - fb) / (fc - fb);
  if (!(phi ** 2 < xi && (1 - phi) ** 2 < 1 - xi)) return 0.5;
  return (fa / (fb - fa)) * (fc / (fb - fc)) + ((c - a) / (b - a)) * (fa / (fc - fa)) * (fb / (fc - fb));
}
