import {check} from "../check.ts";

/**
 * p-values adjusted for being many (Benjamini–Hochberg), in the order given, fractions of 1: rejecting those at or
 * below q keeps the expected share of false alarms among the rejected at q.
 *
 *   p̃₍ᵢ₎ = min over j ≥ i of ( m·p₍ⱼ₎/j ), at most 1        p₍₁₎ ≤ … ≤ p₍ₘ₎
 *
 * Source: Benjamini and Hochberg (1995), J. R. Statist. Soc. B 57:289–300.
 * Checked: tests/reference/equalRates.test.ts, against the fifteen p-values of section 3.2 there and R's p.adjust.
 *
 * @throws RangeError unless every p is between 0 and 1
 * @example benjaminiHochberg([0.01, 0.04, 0.03]) // [0.03, 0.04, 0.04]
 */
export function benjaminiHochberg(ps: readonly number[]): number[] {
  for (const p of ps) check(p >= 0 && p <= 1, "benjaminiHochberg: ps", "between 0 and 1", p);
  const order = ps.map((p, index) => ({p, index})).sort((a, b) => b.p - a.p);
  const adjusted = ps.map(() => 1);
  let least = 1;
  order.forEach(({p, index}, fromTop) => {
    least = Math.min(least, (p * ps.length) / (ps.length - fromTop));
    adjusted[index] = least;
  });
  return adjusted;
}
