import {dayNumber, dayText, monthEnd, monthIndex, monthOf, months} from "../../lib/book/day.ts";
import {gamma, negativeBinomial} from "./counts.ts";
import type {Row} from "./csv.ts";
import {type Feel, feelWished} from "./feel.ts";
import {choose, normal, type Random, stream, whole} from "./random.ts";
import {asOf, type SpeciesName} from "./truth.ts";
import {demand, orderHabits} from "./truthDemand.ts";

/** An order; days are day numbers. */
export interface Order {
  order: string;
  orderedOn: number;
  /** The first day on which a shaft is looked out for it. */
  handledOn: number;
  wantedBy: number;
  species: SpeciesName;
  lengthMm: number;
  tipMm: number;
  mass: {low: number; high: number} | undefined;
  quantity: number;
  priceEach: number;
  feel: Feel;
}

/** Mean number of shafts ordered in a month, by the truth. */
export function meanDemand(species: SpeciesName, month: string): number {
  const year = Math.floor((monthIndex(month) - monthIndex(demand.firstMonth)) / 12);
  const shape = demand.shapeByMonth[monthIndex(month) % 12]!;
  return demand.meanPerMonth[species] * shape * demand.growthPerYear ** year;
}

/** All orders, in order of their days. */
export function orders(): Order[] {
  return numbered(wanted());
}

/** An order that has no number yet. */
export type Wanted = Omit<Order, "order" | "feel">;

/**
 * What customers order, species by species.
 *
 * @param share of the demand of one workshop
 * @param whose name of other customers: other chances
 */
export function wanted(share = 1, whose = ""): Wanted[] {
  return (["ash", "maple"] as const).flatMap((species) =>
    months(demand.firstMonth, monthOf(asOf)).flatMap((month) => monthOrders(species, month, share, whose))
  );
}

/** Orders numbered in order of their days; what else they wish for comes of chance, by the number. */
export function numbered<W extends Wanted>(wanted: readonly W[], digits = 4): (W & Order)[] {
  return wanted
    .toSorted((a, b) => a.orderedOn - b.orderedOn)
    .map((known, index) => {
      const order = `ORD-${String(index + 1).padStart(digits, "0")}`;
      return {order, ...known, feel: feelWished(order, known.orderedOn)};
    });
}

function monthOrders(species: SpeciesName, month: string, share: number, whose: string): Wanted[] {
  const random = stream(`orders ${species} ${month}${whose}`);
  let left = negativeBinomial(random, meanDemand(species, month) * share, demand.size);
  const list: Wanted[] = [];
  while (left > 0) {
    const quantity = Math.min(left, choose(random, orderHabits.quantity, ({weight}) => weight).quantity);
    list.push(newOrder(random, species, month, quantity));
    left -= quantity;
  }
  return list;
}

function newOrder(random: Random, species: SpeciesName, month: string, quantity: number): Wanted {
  const orderedOn = whole(random, dayNumber(`${month}-01`), dayNumber(monthEnd(month)));
  const {lengthMm, tipMm} = choose(random, orderHabits.sizes, ({weight}) => weight);
  const {mean, sd} = orderHabits.massMiddleG[species];
  const middle = Math.round(normal(random, mean, sd) / 5) * 5;
  const half = choose(random, orderHabits.massHalfRangeG);
  const named = random() < orderHabits.massNamedShare;
  const [soonest, latest] = orderHabits.daysUntilWanted;
  const year = Math.floor((monthIndex(month) - monthIndex(demand.firstMonth)) / 12);
  return {
    orderedOn,
    handledOn: orderedOn + Math.ceil(gamma(random, orderHabits.handlingDays.shape, orderHabits.handlingDays.mean)),
    wantedBy: orderedOn + whole(random, soonest, latest),
    species,
    lengthMm,
    tipMm,
    mass: named ? {low: middle - half, high: middle + half} : undefined,
    quantity,
    priceEach: Math.round(orderHabits.shaftPrice[species] * (1 + orderHabits.priceRisePerYear) ** year)
  };
}

/** orders.csv. */
export function orderRow({order, species, mass, feel, ...known}: Order, lost?: number): Row {
  return {
    order,
    ordered_on: dayText(known.orderedOn),
    wanted_by: dayText(known.wantedBy),
    species,
    length_mm: String(known.lengthMm),
    tip_mm: known.tipMm.toFixed(1),
    mass_min_g: mass ? String(mass.low) : "",
    mass_max_g: mass ? String(mass.high) : "",
    deflection_min_mm: feel.deflection ? feel.deflection.low.toFixed(1) : "",
    deflection_max_mm: feel.deflection ? feel.deflection.high.toFixed(1) : "",
    grain_one_in: feel.grainOneIn ? String(feel.grainOneIn) : "",
    colour: feel.colour ?? "",
    quantity: String(known.quantity),
    lost: lost === undefined ? "" : String(lost),
    price_each: String(known.priceEach)
  };
}
