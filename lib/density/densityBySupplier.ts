import type {Histories} from "../book/histories.ts";
import type {Settings} from "../book/settings.ts";
import {clusterLogInterval, clusterMeanInterval, clusterShareInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {deviation} from "../stats/deviation.ts";
import type {Interval} from "../stats/interval.ts";
import {mean} from "../stats/mean.ts";
import {ascending, sum as total} from "../stats/numbers.ts";
import {sortedQuantile} from "../stats/quantile.ts";
import {wilson} from "../stats/wilson.ts";
import {densitiesOf, type SupplierDensities} from "./supplierDensities.ts";

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
  variationLow?: number;
  variationHigh?: number;
  lowestKgM3: number;
  quarterKgM3: number;
  medianKgM3: number;
  threeQuarterKgM3: number;
  highestKgM3: number;
  insideFraction: number;
  insideLow?: number;
  insideHigh?: number;
  tooLightFraction: number;
  tooLightLow?: number;
  tooLightHigh?: number;
  tooHeavyFraction: number;
  tooHeavyLow?: number;
  tooHeavyHigh?: number;
}

/**
 * Density at 12 % moisture content by supplier and species, kg/m³: mean, standard deviation (n − 1), quartiles (type 7), and the shares
 * inside, below and above the species' window, fractions of 1. Tightest first.
 *
 * Intervals from how lots differ (leaving out each in turn): of the mean with Student's t, of the standard deviation and the coefficient of variation the same on the
 * logarithm, of the shares `clusterShareInterval`. With fewer than four lots the share inside has Wilson's interval, too short when lots
 * differ, and the others none.
 *
 * Checked: tests/density/densityBySupplier.test.ts; quantiles and Wilson in tests/reference; coverage in the contributor's guide
 */
export function densityBySupplier({settings, pieces}: Pick<Histories, "settings" | "pieces">): SupplierDensity[] {
  return countedDensities(settings, densitiesOf(pieces));
}

/** The same from the densities of each lot: the table depends on a book by these alone. */
export function countedDensities(settings: Settings, suppliers: readonly SupplierDensities[]): SupplierDensity[] {
  const rows = suppliers.map((own) => summary(own, settings.species[own.species]!.windowKgM3));
  return rows.sort(
    (a, b) => a.species.localeCompare(b.species, "en") || (a.sdKgM3 ?? Infinity) - (b.sdKgM3 ?? Infinity)
  );
}

function summary({species, supplier, lots}: SupplierDensities, window: Interval): SupplierDensity {
  const values = lots.flat();
  const inOrder = ascending(values);
  const inside = (x: number) => x >= window.low && x <= window.high;
  const [light, heavy] = [(x: number) => x < window.low, (x: number) => x > window.high];
  const share = (test: (x: number) => boolean) => values.filter(test).length / values.length;
  const sdKgM3 = deviation(values);
  const sums = lots.map((lot) => lotSums(lot, inside));
  const [lightCounts, heavyCounts] = [light, heavy].map((test) => lots.map((lot) => lot.filter(test).length));
  const counted = (counts: readonly number[], weights: readonly number[]) =>
    total(counts.map((k, i) => weights[i]! * k));
  const [ofMean, ofLogSd, ofLogVariation, ofInside, ofLight, ofHeavy] = clusterJackknife(lots.length, (weights) => {
    const all = weightedSums(sums, weights);
    const [middle, spread] = [all.sum / all.n, logSd(all)];
    return [
      middle,
      spread,
      spread === undefined ? undefined : spread - Math.log(middle),
      all.k / all.n,
      counted(lightCounts!, weights) / all.n,
      counted(heavyCounts!, weights) / all.n
    ];
  });
  return {
    species,
    supplier,
    squares: values.length,
    lots: lots.length,
    meanKgM3: mean(values)!,
    ...ends("mean", ofMean && clusterMeanInterval(ofMean)),
    ...(sdKgM3 !== undefined && {sdKgM3, variationFraction: sdKgM3 / mean(values)!}),
    ...ends("sd", ofLogSd && clusterLogInterval([ofLogSd])),
    ...ends("variation", ofLogVariation && clusterLogInterval([ofLogVariation])),
    lowestKgM3: sortedQuantile(inOrder, 0)!,
    quarterKgM3: sortedQuantile(inOrder, 0.25)!,
    medianKgM3: sortedQuantile(inOrder, 0.5)!,
    threeQuarterKgM3: sortedQuantile(inOrder, 0.75)!,
    highestKgM3: sortedQuantile(inOrder, 1)!,
    insideFraction: share(inside),
    ...ends(
      "inside",
      ofInside ? clusterShareInterval(ofInside, values.length) : wilson(values.filter(inside).length, values.length)
    ),
    tooLightFraction: share(light),
    ...ends("tooLight", ofLight && clusterShareInterval(ofLight, values.length)),
    tooHeavyFraction: share(heavy),
    ...ends("tooHeavy", ofHeavy && clusterShareInterval(ofHeavy, values.length))
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

/** Natural logarithm of the standard deviation; undefined where there is none or it is 0. */
export function logSd(sums: LotSums): number | undefined {
  const sd = sdOfSums(sums);
  return sd ? Math.log(sd) : undefined;
}

function ends(name: string, interval: Interval | undefined): Record<string, number> {
  return interval ? {[`${name}Low`]: interval.low, [`${name}High`]: interval.high} : {};
}
