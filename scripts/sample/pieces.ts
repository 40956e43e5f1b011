import type {Lot} from "./lots.ts";
import {lotDelays, path, type Stay} from "./paths.ts";
import {normal, type Random, stream} from "./random.ts";
import {moistureAtPurchase, sawn} from "./truthMeasuring.ts";

/** A square with everything that is true of it. */
export interface Piece {
  square: string;
  lot: Lot;
  densityAt12: number;
  lengthMm: number;
  widthMm: number;
  thicknessMm: number;
  /** Moisture content when it was bought and measured, %. */
  moisturePct: number;
  stays: Stay[];
  /** The day it became a shaft, if it does. */
  finishedOn: number | undefined;
}

const letter = {ash: "A", maple: "M"} as const;

/** All the squares of all lots, numbered by species as they came in. */
export function pieces(lots: readonly Lot[]): Piece[] {
  const count = {ash: 0, maple: 0};
  return lots.flatMap((lot) => {
    const before = count[lot.species];
    count[lot.species] += lot.squaresBought;
    return piecesOf(lot, before);
  });
}

/** The squares of a lot, numbered on from those of the species that came in before. */
export function piecesOf(lot: Lot, before: number, digits = 4): Piece[] {
  const delays = lotDelays(lot);
  return Array.from({length: lot.squaresBought}, (_, index) => {
    const number = String(before + index + 1).padStart(digits, "0");
    return piece(`${letter[lot.species]}${number}`, lot, delays);
  });
}

function piece(square: string, lot: Lot, delays: ReturnType<typeof lotDelays>): Piece {
  const random = stream(`square ${square}`);
  const densityAt12 = normal(random, lot.densityMean, lot.supplier.density[lot.species]!.sdWithinLot);
  const stays = path(square, lot, densityAt12, delays);
  const last = stays.at(-1)!;
  return {
    square,
    lot,
    densityAt12,
    lengthMm: atLeast(random, sawn.length),
    widthMm: atLeast(random, sawn.side),
    thicknessMm: atLeast(random, sawn.side),
    moisturePct: normal(random, lot.moistureMean, moistureAtPurchase[lot.supplier.drying].sdWithinLot),
    stays,
    finishedOn: last.left === "turned" ? last.to : undefined
  };
}

function atLeast(random: Random, {mean, sd, least}: {mean: number; sd: number; least: number}): number {
  return Math.max(least, normal(random, mean, sd));
}
