import {dayNumber} from "../../lib/book/day.ts";
import {normal, type Random, stream, uniform, whole} from "./random.ts";
import {asOf, buying, firstDay, type SpeciesName, type SupplierTruth, suppliers, turnForTheWorse} from "./truth.ts";
import {moistureAtPurchase} from "./truthMeasuring.ts";
import {lotLogitSd} from "./truthStages.ts";
import {workday} from "./workday.ts";

/** A purchase, with what only the maker of the book knows of it. Days are day numbers. */
export interface Lot {
  lot: string;
  boughtOn: number;
  /** The day it is measured, and first lies in the store. */
  measuredOn: number;
  supplier: SupplierTruth;
  species: SpeciesName;
  squaresBought: number;
  squaresLookedAt: number | undefined;
  priceEach: number;
  carriage: number;
  /** Hidden: */
  worse: boolean;
  logitShift: number;
  densityMean: number;
  moistureMean: number;
}

const speciesNames: readonly SpeciesName[] = ["ash", "maple"];

/** Every purchase of the five years, in order of the days. */
export function lots(): Lot[] {
  return purchases(visits()).map((purchase, index) => lot(purchase, `L${String(index + 1).padStart(3, "0")}`));
}

/** A day at a supplier's. */
export interface Visit {
  supplier: SupplierTruth;
  /** The buying year, counted from 0. */
  year: number;
  boughtOn: number;
}

/** Every visit of the five years, supplier by supplier; all of them later by some days if so asked. */
export function visits(daysLater = 0): Visit[] {
  return suppliers.flatMap((supplier) =>
    supplier.visits.flatMap((shares, year) =>
      shares.map((share) => ({supplier, year, boughtOn: visitDay(share, year, daysLater)}))
    )
  );
}

/** The day that lies the given share through a buying year; years run from November to October. */
function visitDay(share: number, year: number, daysLater: number): number {
  const day = dayNumber(firstDay) + Math.round((year + share) * 365.25) + daysLater;
  return Math.min(workday(day), dayNumber(asOf) - 7);
}

export interface Purchase extends Visit {
  species: SpeciesName;
  lotsOfVisit: number;
}

/** What is bought, in order of the days: each visit buys one lot of each species the supplier has. */
export function purchases<V extends Visit>(visits: readonly V[]): (V & Purchase)[] {
  return visits
    .toSorted((a, b) => a.boughtOn - b.boughtOn)
    .flatMap((visit) => {
      const offered = speciesNames.filter((species) => visit.supplier.density[species] !== undefined);
      return offered.map((species) => ({...visit, species, lotsOfVisit: offered.length}));
    });
}

/** A purchase under its name: what else is true of it comes of chance, by the name. */
export function lot({supplier, species, year, boughtOn, lotsOfVisit}: Purchase, name: string): Lot {
  const random = stream(`lot ${name}`);
  const density = supplier.density[species]!;
  const moisture = moistureAtPurchase[supplier.drying];
  const squaresBought = size(random, buying.squaresPerLot[species][year]!);
  const rise = (1 + buying.priceRisePerYear) ** year;
  const [least, most] = buying.lookedAtPerSquareBought;
  const lookedAt = Math.round(squaresBought * uniform(random, least, most));
  const worse = supplier.name === turnForTheWorse.supplier && boughtOn >= dayNumber(turnForTheWorse.from);
  return {
    lot: name,
    boughtOn,
    measuredOn: boughtOn + whole(random, 0, 2),
    supplier,
    species,
    squaresBought,
    squaresLookedAt: random() < buying.shareOfLotsWithSquaresLookedAt ? lookedAt : undefined,
    priceEach: Math.round(supplier.price[species]! * rise * 20) / 20,
    carriage: Math.round((supplier.carriage * rise) / lotsOfVisit + whole(random, -3, 3)),
    worse,
    logitShift: normal(random, 0, lotLogitSd),
    densityMean: normal(random, density.mean, density.sdBetweenLots),
    moistureMean: normal(random, moisture.mean, moisture.sdBetweenLots)
  };
}

function size(random: Random, mean: number): number {
  const drawn = Math.round(normal(random, mean, buying.sdSquaresPerLot));
  return Math.min(buying.mostPerLot, Math.max(buying.leastPerLot, drawn));
}
