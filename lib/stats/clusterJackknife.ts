/** Fewer lots than this cannot stand for the lots not seen: no interval is made of them. */
export const fewestClusters = 4;

/** So many times at most something is left out: of more lots than this, several at once. */
export const mostLeftOut = 100;

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
 * More than 100 lots are dealt in turn into 100 groups, and whole groups are left out: k the groups. Each lot is left out once all the same, so
 * that the variance is as right as before, with 99 degrees of freedom, and the work does not grow with the square of the lots.
 *
 * Range: for smooth statistics, such as means, shares and standard deviations; not for medians and quartiles.
 * Source: Shao & Tu (1995), The Jackknife and Bootstrap, §1.1 and §2.2; Kott (2001), J. Official Statistics 17:521–526, for groups (from memory).
 * Checked: tests/stats/clusterJackknife.test.ts (for a mean v is exactly s²/k; R survival's clustered robust errors in tests/reference)
 *
 * @param clusters how many there are
 * @param statistics the values when cluster i counts weights[i] times, 0 or 1; undefined where there is none. Its second argument says which
 * count 0: none at the first call
 * @returns one estimate a statistic, undefined where it has no value with all lots or without one of them; nothing at all with fewer than
 * four lots
 */
export function clusterJackknife(
  clusters: number,
  statistics: (weights: readonly number[], out?: readonly number[]) => readonly (number | undefined)[]
): (ClusterEstimate | undefined)[] {
  if (clusters < fewestClusters) return [];
  const all = new Array<number>(clusters).fill(1);
  const whole = statistics(all);
  const groups = Math.min(clusters, mostLeftOut);
  const without = Array.from({length: groups}, (_, group) => {
    const out: number[] = [];
    for (let i = group; i < clusters; i += groups) out.push(i);
    const weights = [...all];
    for (const i of out) weights[i] = 0;
    return statistics(weights, out);
  });
  return whole.map((estimate, index) => {
    const left = without.map((values) => values[index]);
    if (estimate === undefined || left.includes(undefined)) return undefined;
    const squares = left.reduce<number>((sum, value) => sum + (value! - estimate) ** 2, 0);
    return {estimate, variance: ((groups - 1) / groups) * squares, clusters: groups};
  });
}
