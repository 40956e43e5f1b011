import type {Interval} from "./interval.ts";

/** A value between its limits. */
export interface Estimated extends Interval {
  value: number;
}

/**
 * Interval for the difference of two independent estimates, in their unit, from the interval of each.
 *
 *   low  = a − b − √((a − low_a)² + (high_b − b)²)        high = a − b + √((high_a − a)² + (b − low_b)²)
 *
 * It keeps the lopsidedness of intervals for shares. That two intervals overlap does not say that two values may be alike: this does.
 *
 * Source: Newcombe (1998), Statist. Med. 17:873–890, method 10, with Wilson's limits; Zou & Donner (2008), Statist. Med. 27:1693–1702, for any.
 * Checked: tests/reference/differenceInterval.test.ts, against Newcombe's example and R
 */
export function differenceInterval(a: Estimated, b: Estimated): Interval {
  const difference = a.value - b.value;
  return {
    low: difference - Math.hypot(a.value - a.low, b.high - b.value),
    high: difference + Math.hypot(a.high - a.value, b.value - b.low)
  };
}
