import type {Histories, Piece} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {deviation} from "../stats/deviation.ts";
import type {Interval} from "../stats/interval.ts";
import {lotInterval, type Resampling} from "../stats/lotInterval.ts";
import {mean} from "../stats/mean.ts";
import {quantile} from "../stats/quantile.ts";
import {wilson} from "../stats/wilson.ts";

/** Density at 12 % moisture of one supplier's squares of one species. */
export interface SupplierDensity {
  species: string;
  supplier: string;
  squares: number;
  lots: number;
  meanKgM3: number;
  meanLow?: number;
  meanHigh?: number;
  sdKgM3?: number;
  sdLow?: number;
  sdHigh?: number;
  /** Standard deviation ÷ mean. */
  variationFraction?: number;
  lowestKgM3: number;
  quarterKgM3: number;
  medianKgM3: number;
  threeQuarterKgM3: number;
  highestKgM3: number;
  insideFraction: number;
  insideLow?: number;
  insideHigh?: number;
  tooLightFraction: number;
  tooHeavyFraction: number;
}

/**
 * Density at 12 % moisture content by supplier and species, kg/m³: mean, standard deviation (n − 1), quartiles (type 7), and the shares
 * inside, below and above the species' window, fractions of 1, with intervals that resample whole lots; with fewer than six lots the share
 * inside has Wilson's interval and the others none. Tightest first.
 *
 * Checked: tests/density/densityBySupplier.test.ts; quantiles and Wilson in tests/reference
 */
export function densityBySupplier(
  {settings, pieces}: Pick<Histories, "settings" | "pieces">,
  resampling: Resampling
): SupplierDensity[] {
  const groups = groupBy(pieces, ({species, supplier}) => JSON.stringify([species, supplier]));
  const rows = [...groups.values()].map((own) =>
    summary(own, settings.species[own[0]!.species]!.windowKgM3, resampling)
  );
  return rows.sort(
    (a, b) => a.species.localeCompare(b.species, "en") || (a.sdKgM3 ?? Infinity) - (b.sdKgM3 ?? Infinity)
  );
}

function summary(pieces: readonly Piece[], window: Interval, resampling: Resampling): SupplierDensity {
  const {species, supplier} = pieces[0]!;
  const lots = [...groupBy(pieces, ({lot}) => lot).values()].map((lot) =>
    lot.map(({densityAt12KgM3}) => densityAt12KgM3)
  );
  const values = lots.flat();
  const inside = (x: number) => x >= window.low && x <= window.high;
  const share = (test: (x: number) => boolean) => values.filter(test).length / values.length;
  const sdKgM3 = deviation(values);
  const sums = lots.map((lot) => lotSums(lot, inside));
  const interval = (statistic: (total: LotSums) => number | undefined) =>
    lotInterval(lots.length, (weights) => statistic(weightedSums(sums, weights)), resampling);
  const insideInterval =
    interval(({n, k}) => (n > 0 ? k / n : undefined)) ?? wilson(values.filter(inside).length, values.length);
  return {
    species,
    supplier,
    squares: values.length,
    lots: lots.length,
    meanKgM3: mean(values)!,
    ...ends(
      "mean",
      interval(({n, sum}) => (n > 0 ? sum / n : undefined))
    ),
    ...(sdKgM3 !== undefined && {sdKgM3, variationFraction: sdKgM3 / mean(values)!}),
    ...ends("sd", interval(sdOfSums)),
    lowestKgM3: quantile(values, 0)!,
    quarterKgM3: quantile(values, 0.25)!,
    medianKgM3: quantile(values, 0.5)!,
    threeQuarterKgM3: quantile(values, 0.75)!,
    highestKgM3: quantile(values, 1)!,
    insideFraction: share(inside),
    ...ends("inside", insideInterval),
    tooLightFraction: share((x) => x < window.low),
    tooHeavyFraction: share((x) => x > window.high)
  };
}

/** What a lot adds to the sums behind mean, deviation and share; densities are taken from 700 so that squares lose no digits. */
export interface LotSums {
  n: number;
  k: number;
  sum: number;
  squares: number;
}

const origin = 700;

export function lotSums(values: readonly number[], inside: (x: number) => boolean = () => false): LotSums {
  const total = {n: values.length, k: values.filter(inside).length, sum: 0, squares: 0};
  for (const x of values) {
    total.sum += x;
    total.squares += (x - origin) ** 2;
  }
  return total;
}

export function weightedSums(lots: readonly LotSums[], weights: readonly number[]): LotSums {
  const total = {n: 0, k: 0, sum: 0, squares: 0};
  lots.forEach((lot, i) => {
    const w = weights[i]!;
    total.n += w * lot.n;
    total.k += w * lot.k;
    total.sum += w * lot.sum;
    total.squares += w * lot.squares;
  });
  return total;
}

/** Standard deviation (n − 1) from the sums. */
export function sdOfSums({n, sum, squares}: LotSums): number | undefined {
  const centred = sum - n * origin;
  return n < 2 ? undefined : Math.sqrt(Math.max(0, squares - centred ** 2 / n) / (n - 1));
}

function ends(name: string, interval: Interval | undefined): Record<string, number> {
  return interval ? {[`${name}Low`]: interval.low, [`${name}High`]: interval.high} : {};
}
