import {groupBy} from "../book/spells.ts";
import {changePoint} from "../stats/changePoint.ts";
import {holm} from "../stats/holm.ts";
import {mean} from "../stats/mean.ts";
import type {LotDensity} from "./lotDensities.ts";

/** Whether a supplier's density changed with time, and from which lot on. */
export interface DensityDrift {
  species: string;
  supplier: string;
  lots: number;
  /** The first lot after the likeliest change, and its day. */
  fromLot: string;
  fromDay: string;
  /** Mean of the lots before and from then on, kg/m³ at 12 %. */
  beforeKgM3: number;
  afterKgM3: number;
  /** How often lots that do not change would show as much by chance, adjusted for the number of suppliers looked at; fraction of 1. */
  chance: number;
}

/** A supplier too young for a change of its density to be told from chance. */
export interface TooYoung {
  species: string;
  supplier: string;
  lots: number;
}

/** Below this chance a change is called one. */
const level = 0.05;

/**
 * The lot at which each supplier's density most likely changed its level, by `changePoint` of the means of its lots in the order they were bought;
 * chances adjusted by Holm's rule over all suppliers and species looked at. Every supplier has such a lot: only a small chance makes it a change.
 *
 * Range: suppliers that are old enough; the others, named by `tooYoungForDrift`, have no row and do not count in Holm's rule.
 * Checked: tests/density/densityDrift.test.ts
 *
 * @param lots in the order they were bought, as `lotDensities` gives them
 */
export function densityDrift(lots: readonly LotDensity[]): DensityDrift[] {
  const rows = byAge(lots).old.flatMap((own) => {
    const means = own.map(({meanKgM3}) => meanKgM3);
    const change = changePoint(means);
    if (!change || change.before === 0) return [];
    const first = own[change.before]!;
    // The clearest order of all has a chance that is known; random orders only come near it.
    const clearest = change.statistic >= Math.floor(own.length ** 2 / 4);
    return [
      {
        species: first.species,
        supplier: first.supplier,
        lots: own.length,
        fromLot: first.lot,
        fromDay: first.boughtOn,
        beforeKgM3: mean(means.slice(0, change.before))!,
        afterKgM3: mean(means.slice(change.before))!,
        chance: clearest ? leastChance(own.length) : change.chance
      }
    ];
  });
  const chances = holm(rows.map(({chance}) => chance));
  return rows.map((row, i) => ({...row, chance: chances[i]!}));
}

/**
 * The suppliers that `densityDrift` leaves out: even the clearest order of their lots is not rare enough among as many suppliers as are looked at,
 *
 *   least chance · suppliers looked at ≥ 0.05
 *   least chance of k lots, the share of their orders in which one half lies above the other: 2 h!²/k! for k = 2h, (4 h! (h + 1)! − 2 h!²)/k! for k = 2h + 1
 *
 * so that "has not changed" would say nothing of them. Of seven lots 1 in 10, of eight and nine 1 in 35, of ten 1 in 126.
 *
 * Source: counted out by hand from `changePoint`'s statistic. Checked: tests/density/densityDrift.test.ts, against all orders of seven and eight
 */
export function tooYoungForDrift(lots: readonly LotDensity[]): TooYoung[] {
  return byAge(lots).young.map((own) => ({species: own[0]!.species, supplier: own[0]!.supplier, lots: own.length}));
}

/** Each supplier's lots of a species: as many of those with the most lots as can all be looked at, and the others. */
function byAge(lots: readonly LotDensity[]): {old: LotDensity[][]; young: LotDensity[][]} {
  const groups = [...groupBy(lots, ({species, supplier}) => JSON.stringify([species, supplier])).values()];
  const counts = groups.map((own) => own.length).sort((a, b) => b - a);
  // Suppliers with as many lots stand or fall together.
  const enough = counts.filter((k) => leastChance(k) * counts.filter((other) => other >= k).length < level).at(-1);
  const isOld = (own: LotDensity[]) => enough !== undefined && own.length >= enough;
  return {old: groups.filter(isOld), young: groups.filter((own) => !isOld(own))};
}

/** How often the clearest order of so many lots comes by chance. */
function leastChance(lots: number): number {
  const half = Math.floor(lots / 2);
  // h!²/(2h)!, and h! (h + 1)!/(2h + 1)! and h!²/(2h + 1)! from it.
  let even = 1;
  for (let i = 1; i <= half; i++) even *= i / (half + i);
  return lots % 2 === 0 ? 2 * even : (4 * (half + 1) * even - 2 * even) / lots;
}
