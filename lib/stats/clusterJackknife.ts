/** Fewer lots than this cannot stand for the lots not seen: no interval is made of them. */
export const fewestClusters = 4;

/** A number computed from clusters (lots), and how far it would scatter were other lots drawn. */
export interface ClusterEstimate {
  estimate: number;
  /** In the square of the estimate's unit. */
  variance: number;
  clusters: number;
}

/**
 * Statistics of whole clusters (lots) with their variances, by leaving out each lot in turn (jackknife). Pieces of one lot are alike, so
 * the lots are what scatters independently; leaving out single pieces would promise too much. No dice: the same lots give the same
 * variance.
 *
 *   v = (k − 1)/k · Σ (θ₍ᵢ₎ − θ)²        θ of all k lots, θ₍ᵢ₎ without lot i
 *
 * Range: for smooth statistics, such as means, shares and standard deviations; not for medians and quartiles.
 * Source: Shao & Tu (1995), The Jackknife and Bootstrap, §1.1 and §2.2 (from memory).
 * Checked: tests/stats/clusterJackknife.test.ts (for a mean v is exactly s²/k; R survival's clustered robust errors in tests/reference)
 *
 * @param clusters how many there are
 * @param statistics the values when cluster i counts weights[i] times, 0 or 1; undefined where there is none
 * @returns one estimate a statistic, undefined where it has no value with all lots or without one of them; nothing at all with fewer than
 * four lots
 */
export function clusterJackknife(
  clusters: number,
  statistics: (weights: readonly number[]) => readonly (number | undefined)[]
): (ClusterEstimate | undefined)[] {
  if (clusters < fewestClusters) return [];
  const all = new Array<number>(clusters).fill(1);
  const whole = statistics(all);
  const without = all.map((_, out) => statistics(all.with(out, 0)));
  return whole.map((estimate, index) => {
    const left = without.map((values) => values[index]);
    if (estimate === undefined || left.includes(undefined)) return undefined;
    const squares = left.reduce<number>((sum, value) => sum + (value! - estimate) ** 2, 0);
    return {estimate, variance: ((clusters - 1) / clusters) * squares, clusters};
  });
}
