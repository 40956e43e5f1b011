import type {Histories} from "../book/histories.ts";
import {check} from "../check.ts";
import {normalFactor} from "../stats/interval.ts";
import {quantile} from "../stats/quantile.ts";
import {barVolume} from "../wood/density.ts";
import {densityAtMoisture} from "../wood/densityAt12.ts";
import {densityUncertainty} from "../wood/densityUncertainty.ts";
import {type WoodName, woodConstants} from "../wood/species.ts";

/** The size of a square: a square section and a length. */
export interface SquareSize {
  sideMm: number;
  lengthMm: number;
}

/** The weights between which a square of one size and moisture lies in the window, g. */
export interface YardWeight extends SquareSize {
  moisturePct: number;
  /** By what the instruments read. */
  lowG: number;
  highG: number;
  /** Between these it is in the window whatever the instruments' error; absent where their error is wider than the window. */
  sureLowG?: number;
  sureHighG?: number;
  /** Outside these it is not in the window, whatever the instruments' error. */
  maybeLowG: number;
  maybeHighG: number;
}

/** What the weights depend on. */
export interface YardWeightOf extends SquareSize {
  moisturePct: number;
  window: {low: number; high: number};
  wood: WoodName;
  /** Standard uncertainties, as in the settings. */
  accuracy: {scaleG: number; calliperMm: number; tapeMm: number; meterPct: number};
  /** How sure "whatever the error" is. */
  level?: number;
}

/**
 * The weights, g, between which a square of a size and moisture has a density at 12 % inside a window (kg/m³), and the bands at both ends
 * in which the error of scale, calliper, tape and meter decides.
 *
 *   m = ρ(M; ρ₁₂) · a² · L        ρ as in densityAtMoisture, ρ₁₂ an end of the window, a side, L length
 *   band = m · (1 ± z · u(ρ₁₂)/ρ₁₂)        u as in densityUncertainty, z = Φ⁻¹((1 + level)/2)
 *
 * The trap: a card for wood at 12 % is wrong in a damp yard: a square at 18 % that looks right is too light.
 * Range: moisture 0 to 200 %; above fibre saturation no meter can be trusted. Checked: tests/density/yardCard.test.ts
 *
 * @throws RangeError unless sizes are positive, the window has its low end below its high, and level lies between 0 and 1
 * @example yardWeight({sideMm: 40, lengthMm: 1500, moisturePct: 12, window: {low: 650, high: 735}, …}).lowG // 1560
 */
export function yardWeight({
  sideMm,
  lengthMm,
  moisturePct,
  window,
  wood,
  accuracy,
  level = 0.95
}: YardWeightOf): YardWeight {
  check(window.low < window.high, "yardWeight: window", "low below high", `${window.low} to ${window.high}`);
  const species = woodConstants(wood);
  const bar = {lengthMm, widthMm: sideMm, thicknessMm: sideMm};
  const z = normalFactor(level, "yardWeight");
  const end = (densityAt12KgM3: number) => {
    const densityKgM3 = densityAtMoisture({densityAt12KgM3, moisturePct, species});
    const massG = (densityKgM3 * barVolume(bar)) / 1e6;
    const u = densityUncertainty({...bar, massG, moisturePct, species, ...accuracy});
    return {massG, errorG: (massG * z * u.at12KgM3) / u.densityAt12KgM3};
  };
  const [low, high] = [end(window.low), end(window.high)];
  const [sureLowG, sureHighG] = [low.massG + low.errorG, high.massG - high.errorG];
  return {
    sideMm,
    lengthMm,
    moisturePct,
    lowG: low.massG,
    highG: high.massG,
    ...(sureLowG < sureHighG && {sureLowG, sureHighG}),
    maybeLowG: low.massG - low.errorG,
    maybeHighG: high.massG + high.errorG
  };
}

/** Days that "lately bought" looks back. */
const latelyDays = 730;

/**
 * The size that squares of a species usually have, mm: medians of the side (root of width · thickness) and the length of those bought in
 * the two years before the day of the question, or of all where none was.
 *
 * Checked: tests/density/yardCard.test.ts
 *
 * @returns undefined when the book has no square of the species
 */
export function usualSize({pieces, asOf}: Pick<Histories, "pieces" | "asOf">, species: string): SquareSize | undefined {
  const own = pieces.filter((piece) => piece.species === species);
  const lately = own.filter(({boughtOn}) => boughtOn > asOf - latelyDays);
  const some = lately.length > 0 ? lately : own;
  const sideMm = quantile(
    some.map(({intake}) => Math.sqrt(intake.widthMm * intake.thicknessMm)),
    0.5
  );
  const lengthMm = quantile(
    some.map(({intake}) => intake.lengthMm),
    0.5
  );
  return sideMm === undefined || lengthMm === undefined ? undefined : {sideMm, lengthMm};
}
