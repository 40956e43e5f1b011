import cdf from "@stdlib/stats-base-dists-normal-cdf";
import type {DensityTruth, SpeciesName} from "./truth.ts";
import {windows} from "./truthDemand.ts";

/** Standard deviation of a square's density about its supplier's mean, kg/m³. */
export function totalSd({sdBetweenLots, sdWithinLot}: DensityTruth): number {
  return Math.hypot(sdBetweenLots, sdWithinLot);
}

/** Share of a supplier's squares with a density inside the window of their species, or no further than a margin outside. */
export function shareInWindow(species: SpeciesName, truth: DensityTruth, marginKgM3 = 0): number {
  const {low, high} = windows[species];
  return cdf(high + marginKgM3, truth.mean, totalSd(truth)) - cdf(low - marginKgM3, truth.mean, totalSd(truth));
}
