import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {clusterMeanInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {deviation} from "../stats/deviation.ts";
import {sum} from "../stats/numbers.ts";

/** What twice as many squares looked at for each one taken went with. */
export interface SortingEffect {
  /** "usable": finished and inside the window, of the decided; "finished", of the decided; "inside" the window; "spread" of density in the lot. */
  measure: "usable" | "finished" | "inside" | "spread";
  unit: "per 100" | "kg/m³";
  lots: number;
  /** Change a doubling, in the unit. */
  change: number;
  changeLow?: number;
  changeHigh?: number;
}

interface SortedLot {
  group: string;
  doublings: number;
  usable: number;
  finished: number;
  inside: number;
  spread: number;
}

/**
 * What looking harder went with: the slope of each measure on the doublings of squares looked at for each one taken, lot against lot of the same
 * supplier and species, so that a good yard where one happens to look hard does not pass for the reward of looking:
 *
 *   slope = Σ (x − x̄ₘ)(y − ȳₘ) / Σ (x − x̄ₘ)²        x = log₂(looked at ÷ bought), means over the lots of one supplier and species
 *
 * Interval: 95 %, from leaving out each lot in turn, Student's law with lots less groups less one degrees of freedom. The trap: the owner chose how hard to
 * look, maybe harder where the stack was poor; only a coin tossed before the visit would settle it.
 *
 * Range: lots with squares_looked_at no fewer than bought, two squares or more, nine tenths of them decided; groups of two such lots.
 * Checked: tests/yield/sortingEffect.test.ts
 *
 * @returns nothing where no group has two lots of unlike looks
 */
export function sortingEffect({
  settings,
  lots,
  pieces
}: Pick<Histories, "settings" | "lots" | "pieces">): SortingEffect[] {
  const ofLot = groupBy(pieces, ({lot}) => lot);
  const all = lots.flatMap(({lot, supplier, species, squaresLookedAt, squaresBought}): SortedLot[] => {
    const own = ofLot.get(lot) ?? [];
    const decided = own.filter(({fate}) => fate !== "in stock");
    if (squaresLookedAt === undefined || squaresLookedAt < squaresBought) return [];
    if (own.length < 2 || decided.length < 0.9 * own.length) return [];
    const {low, high} = settings.species[species]!.windowKgM3;
    const fits = ({densityAt12KgM3: x}: (typeof own)[number]) => x >= low && x <= high;
    const finished = decided.filter(({fate}) => fate === "finished");
    return [
      {
        group: JSON.stringify([supplier, species]),
        doublings: Math.log2(squaresLookedAt / squaresBought),
        usable: (100 * finished.filter(fits).length) / decided.length,
        finished: (100 * finished.length) / decided.length,
        inside: (100 * own.filter(fits).length) / own.length,
        spread: deviation(own.map(({densityAt12KgM3}) => densityAt12KgM3))!
      }
    ];
  });
  const grouped = groupBy(all, ({group}) => group);
  const compared = all.filter(({group}) => grouped.get(group)!.length > 1);
  const freedom = compared.length - new Set(compared.map(({group}) => group)).size;
  return (["usable", "finished", "inside", "spread"] as const).flatMap((measure): SortingEffect[] => {
    const change = slope(compared, measure);
    if (change === undefined) return [];
    const [estimate] = clusterJackknife(compared.length, (weights) => [
      slope(
        compared.filter((_, i) => weights[i] === 1),
        measure
      )
    ]);
    const interval = estimate && freedom > 1 ? clusterMeanInterval({...estimate, clusters: freedom}) : undefined;
    return [
      {
        measure,
        unit: measure === "spread" ? "kg/m³" : "per 100",
        lots: compared.length,
        change,
        ...(interval && {changeLow: interval.low, changeHigh: interval.high})
      }
    ];
  });
}

/** The slope within groups; undefined where nobody looked harder at one lot than at another of its group. */
function slope(lots: readonly SortedLot[], measure: SortingEffect["measure"]): number | undefined {
  const points = [...groupBy(lots, ({group}) => group).values()].flatMap((own) => {
    const middle = (value: (lot: SortedLot) => number) => sum(own.map(value)) / own.length;
    const [x, y] = [middle(({doublings}) => doublings), middle((lot) => lot[measure])];
    return own.map((lot) => ({x: lot.doublings - x, y: lot[measure] - y}));
  });
  const squares = sum(points.map(({x}) => x * x));
  return squares < 1e-9 ? undefined : sum(points.map(({x, y}) => x * y)) / squares;
}
