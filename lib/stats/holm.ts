import {check} from "../check.ts";

/**
 * p-values adjusted for being many (Holm), in the order given, fractions of 1: rejecting those at or below α keeps the
 * chance of even one false alarm at α, whatever hangs together with what.
 *
 *   p̃₍ᵢ₎ = max over j ≤ i of min(1, (m − j + 1)·p₍ⱼ₎)        p₍₁₎ ≤ … ≤ p₍ₘ₎
 *
 * Stricter than `benjaminiHochberg`, which lets a share of the alarms be false; never stricter than `bonferroni`.
 *
 * Source: Holm (1979), Scand. J. Statist. 6:65–70.
 * Checked: tests/reference/equalRates.test.ts, against R's p.adjust.
 *
 * @throws RangeError unless every p is between 0 and 1
 * @example holm([0.01, 0.04, 0.03]) // [0.03, 0.06, 0.06]
 */
export function holm(ps: readonly number[]): number[] {
  checkChances(ps, "holm");
  const order = ps.map((p, index) => ({p, index})).sort((a, b) => a.p - b.p);
  const adjusted = ps.map(() => 1);
  let most = 0;
  order.forEach(({p, index}, fromBelow) => {
    most = Math.max(most, Math.min(1, (ps.length - fromBelow) * p));
    adjusted[index] = most;
  });
  return adjusted;
}

/**
 * p-values times their number, at most 1, in the order given: the plain rule that `holm` betters.
 *
 * Source: Bonferroni's inequality; Dunn (1961), JASA 56:52–64 (from memory).
 * Checked: tests/reference/equalRates.test.ts, against R's p.adjust.
 *
 * @throws RangeError unless every p is between 0 and 1
 */
export function bonferroni(ps: readonly number[]): number[] {
  checkChances(ps, "bonferroni");
  return ps.map((p) => Math.min(1, ps.length * p));
}

function checkChances(ps: readonly number[], where: string): void {
  for (const p of ps) check(p >= 0 && p <= 1, `${where}: ps`, "between 0 and 1", p);
}
