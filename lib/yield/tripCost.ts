import type {Histories} from "../book/histories.ts";
import {groupBy} from "../book/spells.ts";
import {sum} from "../stats/numbers.ts";
import type {ShaftCost} from "./shaftCost.ts";

/** What one supplier's timber costs in hours and miles, where they were written down. */
export interface TripCost {
  supplier: string;
  /** Lots with hours, and with miles. */
  lotsWithHours: number;
  lotsWithMiles: number;
  hours: number;
  miles: number;
  /** For each shaft inside the window that the squares of those lots are expected to become; absent where none was written down. */
  hoursPerShaft?: number;
  milesPerShaft?: number;
}

/**
 * Hours and miles of the trips to each supplier, and for each usable shaft that their squares are expected to become:
 *
 *   per shaft = Σ hours / Σ (squares bought · share that becomes a shaft inside the window)        over the lots whose hours were written down and
 *                                                                             whose share is known
 *
 * The share is that of the supplier and species, from `shaftCost`. Range: lots with trip_hours or trip_miles.
 * Checked: tests/yield/tripCost.test.ts
 */
export function tripCost({lots}: Pick<Histories, "lots">, costs: readonly ShaftCost[]): TripCost[] {
  const share = new Map(costs.map((row) => [JSON.stringify([row.species, row.supplier]), row.inWindowFraction]));
  return [...groupBy(lots, ({supplier}) => supplier)].sort().flatMap(([supplier, own]): TripCost[] => {
    const shareOf = ({species}: (typeof own)[number]) => share.get(JSON.stringify([species, supplier]));
    // Hours and miles of lots of which no share is known yet would count for no shaft.
    const perShaft = (some: typeof own, spent: (lot: (typeof own)[number]) => number) => {
      const known = some.filter((lot) => shareOf(lot) !== undefined);
      const shafts = sum(known.map((lot) => lot.squaresBought * shareOf(lot)!));
      return shafts > 0 ? sum(known.map(spent)) / shafts : undefined;
    };
    const timed = own.filter(({tripHours}) => tripHours !== undefined);
    const driven = own.filter(({tripMiles}) => tripMiles !== undefined);
    if (timed.length + driven.length === 0) return [];
    const [hours, miles] = [sum(timed.map((lot) => lot.tripHours!)), sum(driven.map((lot) => lot.tripMiles!))];
    const hoursPerShaft = perShaft(timed, ({tripHours}) => tripHours!);
    const milesPerShaft = perShaft(driven, ({tripMiles}) => tripMiles!);
    return [
      {
        supplier,
        lotsWithHours: timed.length,
        lotsWithMiles: driven.length,
        hours,
        miles,
        ...(hoursPerShaft !== undefined && {hoursPerShaft}),
        ...(milesPerShaft !== undefined && {milesPerShaft})
      }
    ];
  });
}
