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

/** With fewer no change could be told from chance. */
const fewestLots = 8;

/**
 * The lot at which each supplier's density most likely changed its level, by `changePoint` of the means of its lots in the order they were bought;
 * chances adjusted by Holm's rule over all suppliers and species. Every supplier has such a lot: only a small chance makes it a change.
 *
 * Range: suppliers with eight lots or more; of fewer even the clearest order is not rare enough (of seven, 1 in 10). Checked: tests/density/densityDrift.test.ts
 *
 * @param lots in the order they were bought, as `lotDensities` gives them
 */
export function densityDrift(lots: readonly LotDensity[]): DensityDrift[] {
  const rows = [...groupBy(lots, ({species, supplier}) => JSON.stringify([species, supplier])).values()].flatMap(
    (own) => {
      const means = own.map(({meanKgM3}) => meanKgM3);
      const change = own.length < fewestLots ? undefined : changePoint(means);
      if (!change || change.before === 0) return [];
      const first = own[change.before]!;
      return [
        {
          species: first.species,
          supplier: first.supplier,
          lots: own.length,
          fromLot: first.lot,
          fromDay: first.boughtOn,
          beforeKgM3: mean(means.slice(0, change.before))!,
          afterKgM3: mean(means.slice(change.before))!,
          chance: change.chance
        }
      ];
    }
  );
  const chances = holm(rows.map(({chance}) => chance));
  return rows.map((row, i) => ({...row, chance: chances[i]!}));
}
