import {dayNumber, dayText} from "../../lib/book/day.ts";
import {taperVolume} from "../../lib/wood/taper.ts";
import type {Row} from "./csv.ts";
import {bendOfShape, grainAndColour} from "./feel.ts";
import type {Order} from "./orders.ts";
import type {Piece} from "./pieces.ts";
import {stream, whole} from "./random.ts";
import {asOf, type SpeciesName} from "./truth.ts";
import {orderHabits, windows} from "./truthDemand.ts";
import {stageSettings} from "./truthStages.ts";
import {workday} from "./workday.ts";

/** A finished shaft on the rack: the mass that was written when it was finished. */
export interface Shaft {
  square: string;
  species: SpeciesName;
  finishedOn: number;
  massG: number;
  inWindow: boolean;
  /** As written; undefined where not. */
  deflectionMm: number | undefined;
  grainOneIn: number | undefined;
  colour: string | undefined;
}

/** A shaft from the row of its finishing. */
export function shaft(piece: Piece, row: Row): Shaft {
  const {grain_one_in: grain, colour} = grainAndColour(piece);
  const written = (cell: string | undefined) => (cell ? Number(cell) : undefined);
  const {low, high} = windows[piece.lot.species];
  const inWindow = piece.densityAt12 >= low && piece.densityAt12 <= high;
  return {
    square: piece.square,
    species: piece.lot.species,
    finishedOn: piece.finishedOn!,
    massG: Number(row.mass_g),
    inWindow,
    deflectionMm: written(row.deflection_mm),
    grainOneIn: written(grain),
    colour: colour || undefined
  };
}

export interface Sales {
  rows: Row[];
  /** Shafts never allotted, and shafts still owed, at the end of the book. */
  onRack: Shaft[];
  owed: {order: Order; shafts: number}[];
  /** Of the shafts owed, those of customers who would not wait, by order. */
  lost: Map<string, number>;
}

/** Shafts allotted to orders day by day, first come first served, and delivered a few days later. */
export function sales(shafts: readonly Shaft[], orders: readonly Order[]): Sales {
  const coming = [...shafts].sort((a, b) => a.finishedOn - b.finishedOn || (a.square < b.square ? -1 : 1));
  const rack: Shaft[] = [];
  let owed = orders.map((order) => ({order, shafts: order.quantity}));
  const rows: Row[] = [];
  for (let day = coming[0]!.finishedOn; day <= dayNumber(asOf); day++) {
    while (coming[0] && coming[0].finishedOn <= day) rack.push(coming.shift()!);
    if (workday(day) !== day) continue;
    for (const one of owed) {
      if (one.order.handledOn > day) continue;
      for (; one.shafts > 0; one.shafts--) {
        const found = best(rack, one.order);
        if (!found) break;
        rack.splice(rack.indexOf(found), 1);
        rows.push(...allotment(found, one.order, day));
      }
    }
    owed = owed.filter((one) => one.shafts > 0);
  }
  const gone = owed.filter(
    ({order}) =>
      dayNumber(asOf) - order.orderedOn >= orderHabits.lostAfterDays &&
      stream(`lost ${order.order}`)() < orderHabits.lostShare
  );
  return {rows, onRack: rack, owed, lost: new Map(gone.map(({order, shafts}) => [order.order, shafts]))};
}

/** Of the shafts that fit, the oldest; an order that names no weight takes any. */
function best(rack: readonly Shaft[], {species, mass, feel, lengthMm, tipMm}: Order): Shaft | undefined {
  const {largeMm, smallMm, lengthMm: full} = stageSettings[4];
  const [ordered, standard] = [
    {largeMm, smallMm: tipMm, lengthMm},
    {largeMm, smallMm, lengthMm: full}
  ];
  const cut = taperVolume(ordered) / taperVolume(standard);
  const bent = bendOfShape(ordered) / bendOfShape(standard);
  /** What an order wishes for and nobody wrote of a shaft is taken not to be so. */
  const suits = (one: Shaft) =>
    (!feel.deflection ||
      (one.deflectionMm !== undefined &&
        one.deflectionMm * bent >= feel.deflection.low &&
        one.deflectionMm * bent <= feel.deflection.high)) &&
    (!feel.grainOneIn || (one.grainOneIn !== undefined && one.grainOneIn >= feel.grainOneIn)) &&
    (!feel.colour || one.colour === feel.colour);
  return rack.find(
    (one) =>
      one.species === species && suits(one) && (!mass || (one.massG * cut >= mass.low && one.massG * cut <= mass.high))
  );
}

function allotment({square}: Shaft, {order}: Order, day: number): Row[] {
  const random = stream(`delivery ${square}`);
  const [soonest, latest] = orderHabits.deliveryDays;
  const sent = workday(day + whole(random, soonest, latest));
  const rows = [{date: dayText(day), square, event: "allotted", order}];
  return sent > dayNumber(asOf) ? rows : [...rows, {date: dayText(sent), square, event: "delivered", order}];
}
