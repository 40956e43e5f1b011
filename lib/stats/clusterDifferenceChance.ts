import tCdf from "@stdlib/stats-base-dists-t-cdf";
import type {ClusterEstimate} from "./clusterJackknife.ts";

/**
 * How often two numbers that are in truth alike would lie so far apart by the luck of their lots, fraction of 1, two-sided:
 *
 *   t = (θ₁ − θ₂)/√(v₁ + v₂)        Student's law with 1 / Σ ((v/V)²/(k − 1)) degrees of freedom, V = v₁ + v₂
 *
 * Source: Welch (1947), Biometrika 34:28–35, and Satterthwaite (1946), Biometrics Bulletin 2:110–114 (from memory).
 * Checked: tests/stats/clusterDifferenceChance.test.ts
 *
 * @returns 1 where both are the same, 0 where they differ and nothing scatters
 */
export function clusterDifferenceChance(a: ClusterEstimate, b: ClusterEstimate): number {
  const [gap, variance] = [Math.abs(a.estimate - b.estimate), a.variance + b.variance];
  if (variance === 0) return gap === 0 ? 1 : 0;
  const freedom =
    1 / ((a.variance / variance) ** 2 / (a.clusters - 1) + (b.variance / variance) ** 2 / (b.clusters - 1));
  return 2 * tCdf(-gap / Math.sqrt(variance), freedom);
}
