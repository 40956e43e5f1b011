import {check} from "../check.ts";
import {normalQuantile} from "./normalQuantile.ts";

/**
 * How many pieces each of two groups must have for a trial to tell one share from another: of the first group n, of the other `times` as many.
 *
 *   n = ( z₁ √((k + 1) p̄ q̄) + z₂ √(k p₁ q₁ + p₂ q₂) )² / (k (p₁ − p₂)²)        p̄ = (p₁ + k p₂)/(k + 1), q = 1 − p
 *
 * z₁ for false alarms in both directions together (1 − level), z₂ for the chance (`power`) to tell the difference where it is there.
 * The trap: pieces of a group are taken as independent. They are so, near enough, where each lot is dealt out over both groups.
 * Source: Fleiss (1981), Statistical Methods for Rates and Proportions, ch. 3, without its correction for continuity (from memory).
 * Checked: tests/reference/trialSize.test.ts, against R's power.prop.test; tests/stats/trialSize.test.ts, by simulation
 *
 * @param from share of the first group, and
 * @param to of the other, fractions of 1
 * @returns pieces of the first group, not rounded
 * @throws RangeError unless both lie between 0 and 1, not both at an end, and differ; unless 0 < level, power < 1 and times is positive
 */
export function trialSize(
  from: number,
  to: number,
  {level = 0.95, power = 0.8, times = 1}: {level?: number; power?: number; times?: number} = {}
): number {
  for (const share of [from, to]) check(share >= 0 && share <= 1, "trialSize: share", "between 0 and 1", share);
  check(from !== to, "trialSize: to", `another share than ${from}`, to);
  check(level > 0 && level < 1, "trialSize: level", "between 0 and 1", level);
  check(power > 0 && power < 1, "trialSize: power", "between 0 and 1", power);
  check(times > 0 && times < Infinity, "trialSize: times", "positive", times);
  const pooled = (from + times * to) / (times + 1);
  const alike = normalQuantile((1 + level) / 2) * Math.sqrt((times + 1) * pooled * (1 - pooled));
  const apart = normalQuantile(power) * Math.sqrt(times * from * (1 - from) + to * (1 - to));
  return (alike + apart) ** 2 / (times * (from - to) ** 2);
}
