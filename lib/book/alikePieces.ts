import {dayNumber} from "./day.ts";
import type {Piece} from "./histories.ts";
import type {LotCounts} from "./lotCounts.ts";
import type {Lot} from "./records.ts";
import type {Settings} from "./settings.ts";
import {type WindowSide, windowSide} from "./spellCounts.ts";
import {defectOf} from "./spells.ts";

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

/**
 * The pieces that counts of squares stand for: those in stock where they are and since when; the others of a lot added up by what became of them, as
 * nothing more is asked of them. Of the stages passed before nothing is told.
 */
export function alikeOfCounts(counts: LotCounts, lots: readonly Lot[], settings: Settings): AlikePieces[] {
  const last = settings.stages.at(-1)!.name;
  const lotOf = new Map(lots.map((lot) => [lot.lot, {...lot, bought: dayNumber(lot.boughtOn)}]));
  const own = counts.lots.map((lot) => lotOf.get(lot)!);
  const gone = counts.lots.map(() => new Map<string, AlikePieces>());
  const alike: AlikePieces[] = [];
  counts.each((place, stage, from, to, outcome, squares, side) => {
    if (outcome === "passed") return;
    const {lot, supplier, species, bought: boughtOn} = own[place]!;
    const isOut = outcome === "diverted" || defectOf(outcome ?? "") !== undefined;
    const fate = isOut ? (outcome === "diverted" ? outcome : "discarded") : stage === last ? "finished" : "in stock";
    const isDelivered = outcome === "delivered";
    const key = `${fate} ${isDelivered ? "delivered" : outcome === "allotted"} ${side}`;
    const before = fate === "in stock" ? undefined : gone[place]!.get(key);
    if (before) {
      before.squares += squares;
      return;
    }
    const made: AlikePieces = {
      lot,
      supplier,
      species,
      boughtOn,
      fate,
      stays: [{stage, from}],
      ...(isDelivered && {deliveredOn: to!}),
      isGiven: isDelivered || outcome === "allotted",
      side: side!,
      squares
    };
    if (fate !== "in stock") gone[place]!.set(key, made);
    alike.push(made);
  });
  return alike;
}
