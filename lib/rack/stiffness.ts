import type {Piece} from "../book/histories.ts";
import type {Settings} from "../book/settings.ts";
import {groupBy} from "../book/spells.ts";
import {chanceWithin} from "../stats/chanceWithin.ts";
import {deviation} from "../stats/deviation.ts";
import {normalFactor, studentFactor} from "../stats/interval.ts";
import {mean} from "../stats/mean.ts";
import {propagated} from "../stats/propagated.ts";
import {clearWoodVariation} from "../wood/clearWoodVariation.ts";
import {woodConstants} from "../wood/species.ts";
import {type Taper, taperFlexibility, taperPart} from "../wood/taper.ts";
import type {OrderedTaper} from "./orderedTaper.ts";
import type {PieceTaper} from "./pieceTaper.ts";

/** Why there is no number. */
export type NoBend =
  | "no test in the settings"
  | "no sizes of the stage in the settings"
  | "the test reaches beyond the shaft"
  | "the span is shorter than 14 diameters"
  | "the bend is more than a tenth of the span"
  | "no modulus published for the species";

/** The modulus of a piece, MPa, and whence it is known. */
export interface PieceModulus {
  modulusMPa: number;
  /** Degrees of freedom with which sdMPa is known; Infinity: a normal law. */
  freedom: number;
  /** Between these it lies in 95 of 100 cases. */
  lowMPa: number;
  highMPa: number;
  sdMPa: number;
  /** "bent": its own test; "species": what the book's other shafts of the species came to, or the published mean, and how single sticks differ from it: not this shaft. */
  basis: "bent" | "species";
  /** The day and the stage of the test that counts, and what was read. */
  bentOn?: number;
  bentAt?: string;
  readMm?: number;
}

/** How far a shaft, cut to an order, will bend in the workshop's test, mm. */
export interface PredictedBend {
  deflectionMm: number;
  /** Between these it lies in 95 of 100 cases. */
  lowMm: number;
  highMm: number;
  /** Of a shaft that was bent: the standard deviation of the deflection. */
  sdMm?: number;
  /** Deflection times modulus, N/mm: what load and shape alone say. */
  shapeNmm: number;
  modulus: PieceModulus;
}

/** What is asked of a piece: its taper at each stage, of `pieceTaper`. */
export interface BendKnown {
  settings: Settings;
  taperAt: (stage: string) => PieceTaper | undefined;
  /** What shafts of each species came to, of `speciesModuli`; without it the published mean and spread. */
  moduli?: ReadonlyMap<string, SpeciesModulus>;
}

/** The modulus of a further shaft of a species, by those that were bent. */
export interface SpeciesModulus {
  modulusMPa: number;
  /** Standard deviation of a further shaft about the mean, the doubt about the mean in it. */
  sdMPa: number;
  freedom: number;
}

/** Fewest bent shafts of a species by which a further one is judged; ours. */
const fewestBent = 10;

/**
 * Mean and spread of the modulus by species, MPa, from the shafts that were bent; species with fewer than ten are not in it.
 *
 *   s_new = s √(1 + 1/n), with n − 1 degrees of freedom
 *
 * Source: the prediction interval of a further value of a normal law, any handbook. Checked: tests/rack/stiffness.test.ts; tests/recovery/rack.test.ts
 */
export function speciesModuli(moduli: readonly {species: string; modulusMPa: number}[]): Map<string, SpeciesModulus> {
  return new Map(
    [...groupBy(moduli, ({species}) => species)].flatMap(([species, own]) => {
      const values = own.map(({modulusMPa}) => modulusMPa);
      const sd = deviation(values);
      if (values.length < fewestBent || sd === undefined) return [];
      const sdMPa = sd * Math.sqrt(1 + 1 / values.length);
      return [[species, {modulusMPa: mean(values)!, sdMPa, freedom: values.length - 1}] as const];
    })
  );
}

/** Standard gravity, m/s². */
const gravity = 9.80665;
/** Published moduli have the shear of a span of 14 depths in them, about 10 %. */
const shearFree = 1.1;
const wide = normalFactor(0.95, "predictedBend");

/**
 * The modulus of elasticity of a piece, MPa: from its last test at a stage whose sizes are in the settings, else the mean of its species.
 *
 *   bent      E = P·F/δ            P weight in N, F the shape's bend × modulus for 1 N (`taperFlexibility`) of the free length, δ the reading
 *   species   E = Ē ± t s            mean and spread of the book's own bent shafts of the species (`speciesModuli`); with fewer than ten
 *             E = 1.1 · Ē₁₂ ± 22 %   the published mean, shear taken out; the spread that of single clear sticks
 *
 * Interval of a test: GUM's law over reading, large and small diameter; the reading's standard uncertainty is taken as the calliper's (common
 * practice, no source). The weight and the span are taken as known.
 *
 * The trap: what is said of the species is not said of this shaft. Shear is left out, as in `taperDeflection`: 0.5 % on a span of 50 diameters.
 * Moisture too: 1 % is 2 % of the modulus.
 * Source: Euler–Bernoulli beam; FPL-GTR-190, Wood Handbook (2010), table 5-6 for the spread, and the 10 % for shear with tables 5-3 (both from
 * memory). Checked: tests/rack/stiffness.test.ts, by hand; tests/recovery/rack.test.ts, against the sample book's true moduli
 *
 * @returns the reason, as text, where there is no number
 */
export function pieceModulus(piece: Piece, {settings, taperAt, moduli}: BendKnown): PieceModulus | NoBend {
  const tested = piece.measurements.findLast(({deflectionMm, stage}) => deflectionMm !== undefined && taperAt(stage));
  if (!settings.bendTest) return "no test in the settings";
  if (!tested) return ofSpecies(piece, settings, moduli);
  const shape = taperAt(tested.stage)!;
  const readMm = tested.deflectionMm!;
  const shapeNmm = bendOfShape(shape, settings.bendTest);
  if (typeof shapeNmm === "string") return shapeNmm;
  if (readMm > settings.bendTest.spanMm / 10) return "the bend is more than a tenth of the span";
  const sdMPa = propagated(
    ([read, D, d]) => freeShape(D!, d!, shape.lengthMm, settings.bendTest!) / read!,
    [
      {value: readMm, u: Math.min(settings.accuracy.calliperMm, readMm / 2)},
      {value: shape.largeMm, u: shape.largeSdMm},
      {value: shape.smallMm, u: shape.smallSdMm}
    ]
  );
  const modulusMPa = shapeNmm / readMm;
  const bent = {basis: "bent", bentOn: tested.day, bentAt: tested.stage, readMm} as const;
  return {...limits(modulusMPa, sdMPa), ...bent};
}

function ofSpecies({species}: Piece, settings: Settings, moduli?: BendKnown["moduli"]): PieceModulus | NoBend {
  const own = moduli?.get(species);
  if (own) return {...limits(own.modulusMPa, own.sdMPa, own.freedom), basis: "species"};
  const {modulusMPa12} = woodConstants(settings.species[species]!.wood);
  if (modulusMPa12 === undefined) return "no modulus published for the species";
  const modulusMPa = shearFree * modulusMPa12;
  return {...limits(modulusMPa, clearWoodVariation.modulus * modulusMPa), basis: "species"};
}

function limits(modulusMPa: number, sdMPa: number, freedom = Infinity) {
  const factor = freedom === Infinity ? wide : studentFactor(0.95, freedom, "pieceModulus");
  return {modulusMPa, sdMPa, freedom, lowMPa: modulusMPa - factor * sdMPa, highMPa: modulusMPa + factor * sdMPa};
}

/**
 * How far a shaft, cut to an order, will bend in the workshop's test, mm, with a 95 % interval.
 *
 *   bent      δ = δ₀ · F(cut)/F(as it was bent)         the weight and the modulus cancel; the reading itself where nothing is cut
 *   species   δ = P·F(cut)/E
 *
 * F, source and what is left out as in `pieceModulus`. The taper it was bent at is that of the stage at which it was bent.
 * Checked: tests/rack/stiffness.test.ts, by hand; tests/recovery/rack.test.ts, against the sample book's true moduli
 *
 * @param cut what the order makes of it
 * @param latheMm how far the new tip may be off, mm
 * @returns the reason, as text, where there is no number
 */
export function predictedBend(
  piece: Piece,
  cut: OrderedTaper,
  {
    settings,
    taperAt,
    latheMm,
    modulus = pieceModulus(piece, {settings, taperAt})
  }: BendKnown & {
    latheMm: number;
    /** Where it is known already. */
    modulus?: PieceModulus | NoBend;
  }
): PredictedBend | NoBend {
  const {bendTest, stages, accuracy} = settings;
  if (!bendTest) return "no test in the settings";
  if (typeof modulus === "string") return modulus;
  const shapeNmm = bendOfShape(cut, bendTest);
  if (typeof shapeNmm === "string") return shapeNmm;
  const deflectionMm = shapeNmm / modulus.modulusMPa;
  if (deflectionMm > bendTest.spanMm / 10) return "the bend is more than a tenth of the span";
  if (modulus.basis === "species")
    return {
      deflectionMm,
      lowMm: shapeNmm / modulus.highMPa,
      highMm: shapeNmm / modulus.lowMPa,
      shapeNmm,
      modulus
    };
  const bent = taperAt(modulus.bentAt!)!;
  const isShaft = modulus.bentAt === stages.at(-1)!.name;
  const isTurned = cut.smallMm < cut.thereMm;
  const shaft = isShaft ? bent : (taperAt(stages.at(-1)!.name) ?? bent);
  const sdMm = propagated(
    ([read, D, d, tip, cutD]) => {
      const [large, small] = [
        isShaft ? D! : cutD!,
        isTurned || !isShaft ? tip! : D! - ((D! - d!) * cut.lengthMm) / bent.lengthMm
      ];
      return (read! * freeShape(large, small, cut.lengthMm, bendTest)) / freeShape(D!, d!, bent.lengthMm, bendTest);
    },
    [
      {value: modulus.readMm!, u: Math.min(accuracy.calliperMm, modulus.readMm! / 2)},
      {value: bent.largeMm, u: bent.largeSdMm},
      {value: bent.smallMm, u: bent.smallSdMm},
      {value: cut.smallMm, u: isTurned || !isShaft ? latheMm : 0},
      {value: cut.largeMm, u: isShaft ? 0 : shaft.largeSdMm}
    ]
  );
  return {
    deflectionMm,
    lowMm: deflectionMm - wide * sdMm,
    highMm: deflectionMm + wide * sdMm,
    sdMm,
    shapeNmm,
    modulus
  };
}

/**
 * The chance that a shaft bends no less than `low` and no more than `high` mm, a fraction of 1; a side that is undefined is open.
 *
 * Of a shaft that was bent the deflection is taken as normal, else the modulus of the species, so that δ ≤ high means E ≥ P·F/high.
 * Checked: tests/rack/stiffness.test.ts
 */
export function chanceOfBend(
  bend: PredictedBend,
  window: {low?: number | undefined; high?: number | undefined}
): number {
  const {deflectionMm, sdMm, shapeNmm, modulus} = bend;
  if (sdMm !== undefined) return chanceWithin({mean: deflectionMm, sd: sdMm, freedom: Infinity}, window);
  return chanceWithin(
    {mean: modulus.modulusMPa, sd: modulus.sdMPa, freedom: modulus.freedom},
    {low: window.high && shapeNmm / window.high, high: window.low && shapeNmm / window.low}
  );
}

type BendTest = NonNullable<Settings["bendTest"]>;

/** Deflection times modulus in the workshop's test, N/mm, or why the test cannot be done so. */
function bendOfShape(shape: Taper, bendTest: BendTest): number | NoBend {
  const {fromLargeMm, spanMm} = bendTest;
  if (fromLargeMm + spanMm > shape.lengthMm) return "the test reaches beyond the shaft";
  const part = taperPart(shape, {fromLargeMm, lengthMm: spanMm});
  if (spanMm < 14 * part.largeMm) return "the span is shorter than 14 diameters";
  return bendTest.loadKg * gravity * taperFlexibility({...part, support: bendTest.support}, "predictedBend");
}

/** The same for a shape known to be in range, whose diameters an error may have turned round by a little. */
function freeShape(largeMm: number, smallMm: number, lengthMm: number, bendTest: BendTest): number {
  const {fromLargeMm, spanMm, loadKg, support} = bendTest;
  const part = taperPart(
    {largeMm: Math.max(largeMm, smallMm), smallMm: Math.max(0.1, Math.min(largeMm, smallMm)), lengthMm},
    {fromLargeMm, lengthMm: spanMm}
  );
  const clear = {...part, largeMm: Math.min(part.largeMm, spanMm / 14)};
  return (
    loadKg *
    gravity *
    taperFlexibility({...clear, smallMm: Math.min(clear.smallMm, clear.largeMm), support}, "predictedBend")
  );
}
