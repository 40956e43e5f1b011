import {dayText} from "../../lib/book/day.ts";
import type {Row} from "./csv.ts";
import {grainAndColour} from "./feel.ts";
import type {Lot} from "./lots.ts";
import {squareDryG} from "./masses.ts";
import type {Piece} from "./pieces.ts";
import {normal, stream, whole} from "./random.ts";
import {reading} from "./readings.ts";
import {rings} from "./truthMeasuring.ts";

const notes = ["olive streak", "pin knot near one end", "very straight", "a little bowed", "pale"];

/** squares.csv: each square as measured within two days of the purchase. */
export function squareRow(piece: Piece): Row {
  const random = stream(`intake ${piece.square}`);
  return {
    square: piece.square,
    lot: piece.lot.lot,
    measured_on: dayText(piece.lot.measuredOn),
    length_mm: reading(random, "tapeMm", piece.lengthMm),
    width_mm: reading(random, "calliperMm", piece.widthMm),
    thickness_mm: reading(random, "calliperMm", piece.thicknessMm),
    mass_g: reading(random, "scaleG", squareDryG(piece) * (1 + piece.moisturePct / 100)),
    mc_pct: reading(random, "meterPct", piece.moisturePct),
    rings_per_25mm: ringsPer25Mm(piece),
    ...grainAndColour(piece),
    note: random() < 0.03 ? notes[whole(random, 0, notes.length - 1)]! : ""
  };
}

function ringsPer25Mm({square, lot, densityAt12}: Piece): string {
  const random = stream(`rings ${square}`);
  const {mean, sd, correlationWithDensity, recordedShare} = rings[lot.species];
  const density = lot.supplier.density[lot.species]!;
  const z = (densityAt12 - density.mean) / Math.hypot(density.sdBetweenLots, density.sdWithinLot);
  const own = Math.sqrt(1 - correlationWithDensity ** 2) * normal(random);
  const count = Math.max(2, Math.round(mean + sd * (correlationWithDensity * z + own)));
  return random() < recordedShare ? String(count) : "";
}

/** lots.csv. */
export function lotRow({lot, boughtOn, supplier, species, ...known}: Lot): Row {
  return {
    lot,
    bought_on: dayText(boughtOn),
    supplier: supplier.name,
    species,
    squares_bought: String(known.squaresBought),
    squares_looked_at: known.squaresLookedAt === undefined ? "" : String(known.squaresLookedAt),
    price_each: known.priceEach.toFixed(2),
    carriage: String(known.carriage),
    drying: supplier.drying
  };
}
