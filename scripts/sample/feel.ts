import {dayNumber} from "../../lib/book/day.ts";
import {taperFlexibility} from "../../lib/wood/taper.ts";
import type {Piece} from "./pieces.ts";
import {choose, normal, stream} from "./random.ts";
import {bendTest, colours, deflectionSdMm, feelFrom, feelShare, grains, modulus, wishes} from "./truthFeel.ts";

/** Standard gravity, m/s². */
const gravity = 9.80665;

/** True modulus of a stick, MPa. */
export function modulusMPa({square, densityAt12, lot: {species}}: Piece): number {
  const {meanMPa, meanDensityKgM3, densityShare, sd} = modulus;
  const dense = densityAt12 / meanDensityKgM3[species] - 1;
  return meanMPa[species] * (1 + densityShare * dense + normal(stream(`modulus ${square}`), 0, sd));
}

/** Deflection in the workshop's test times modulus, for a shaft of these sizes that tapers evenly, N/mm. */
export function bendOfShape({
  largeMm,
  smallMm,
  lengthMm
}: {
  largeMm: number;
  smallMm: number;
  lengthMm: number;
}): number {
  const {loadKg, support, fromLargeMm, spanMm} = bendTest;
  const at = (mm: number) => largeMm - ((largeMm - smallMm) * mm) / lengthMm;
  const span = {largeMm: at(fromLargeMm), smallMm: at(fromLargeMm + spanMm), lengthMm: spanMm, support};
  return loadKg * gravity * taperFlexibility(span, "bendOfShape");
}

/** The deflection read when a shaft is finished, mm as written; blank where the test was not done. */
export function deflectionReading(piece: Piece, sizes: Parameters<typeof bendOfShape>[0], day: number): string {
  const random = stream(`bend ${piece.square}`);
  const trueMm = bendOfShape(sizes) / modulusMPa(piece);
  const written = Math.max(0.1, normal(random, trueMm, deflectionSdMm)).toFixed(1);
  return day >= dayNumber(feelFrom) && random() < feelShare.bendTest ? written : "";
}

/** Grain and colour as written of a square; blank where they were not. */
export function grainAndColour({square, lot}: Piece): {grain_one_in: string; colour: string} {
  const random = stream(`grain and colour ${square}`);
  const {oneIn} = choose(random, grains, ({weight}) => weight);
  const {colour} = choose(
    random,
    colours[lot.species] as readonly {colour: string; weight: number}[],
    ({weight}) => weight
  );
  const isWritten = lot.measuredOn >= dayNumber(feelFrom) && random() < feelShare.square;
  return isWritten ? {grain_one_in: String(oneIn), colour} : {grain_one_in: "", colour: ""};
}

/** What an order wishes for beside length, tip and weight. */
export interface Feel {
  deflection?: {low: number; high: number};
  grainOneIn?: number;
  colour?: string;
}

export function feelWished(order: string, orderedOn: number): Feel {
  const random = stream(`feel ${order}`);
  const {from, deflection, grain, colour} = wishes;
  if (orderedOn < dayNumber(from)) return {};
  const middle = Math.round(normal(random, deflection.middleMm.mean, deflection.middleMm.sd) * 2) / 2;
  const half = choose(random, deflection.halfRangeMm);
  const oneIn = choose(random, grain.oneIn);
  const wanted = choose(random, colour.colours);
  return {
    ...(random() < deflection.share && {deflection: {low: middle - half, high: middle + half}}),
    ...(random() < grain.share && {grainOneIn: oneIn}),
    ...(random() < colour.share && {colour: wanted})
  };
}
