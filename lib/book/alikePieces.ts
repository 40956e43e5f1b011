import {dayNumber} from "./day.ts";
import type {Piece} from "./histories.ts";
import type {Lot} from "./records.ts";
import type {Settings} from "./settings.ts";
import {type SpellCount, type WindowSide, windowSide} from "./spellCounts.ts";

/** Pieces of one lot that stand alike on the day of the question: at the same stage since the same day, or gone in the same way. */
export interface AlikePieces
  extends Pick<Piece, "lot" | "supplier" | "species" | "boughtOn" | "fate" | "stays" | "deliveredOn"> {
  /** Whether they are, or were, promised to an order. */
  isGiven: boolean;
  side: WindowSide;
  squares: number;
}

/** Each piece by itself as one of its kind. */
export function alikePieces(pieces: readonly Piece[], settings: Settings): AlikePieces[] {
  return pieces.map(({lot, supplier, species, boughtOn, fate, stays, deliveredOn, allottedTo, densityAt12KgM3}) => ({
    lot,
    supplier,
    species,
    boughtOn,
    fate,
    stays,
    ...(deliveredOn !== undefined && {deliveredOn}),
    isGiven: allottedTo !== undefined,
    side: windowSide(densityAt12KgM3, settings.species[species]!.windowKgM3),
    squares: 1
  }));
}

/** The pieces that counts of squares stand for: each where it is last. Of the stages passed before nothing is told. */
export function alikeOfCounts(spells: readonly SpellCount[], lots: readonly Lot[], settings: Settings): AlikePieces[] {
  const last = settings.stages.at(-1)!.name;
  const lotOf = new Map(lots.map((lot) => [lot.lot, {...lot, bought: dayNumber(lot.boughtOn)}]));
  const alike: AlikePieces[] = [];
  for (const {lot, stage, from, to, outcome, side, squares} of spells) {
    if (outcome === "passed") continue;
    const {supplier, species, bought} = lotOf.get(lot)!;
    const isOut = outcome === "diverted" || outcome?.startsWith("discarded: ");
    const isDelivered = outcome === "delivered";
    alike.push({
      lot,
      supplier,
      species,
      boughtOn: bought,
      fate: isOut ? (outcome === "diverted" ? "diverted" : "discarded") : stage === last ? "finished" : "in stock",
      stays: [{stage, from, ...(isOut && to !== undefined && {to})}],
      ...(isDelivered && {deliveredOn: to!}),
      isGiven: isDelivered || outcome === "allotted",
      side: side!,
      squares
    });
  }
  return alike;
}
