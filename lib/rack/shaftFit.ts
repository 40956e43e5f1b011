import {fold} from "../book/fold.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {Order} from "../book/records.ts";
import type {Settings} from "../book/settings.ts";
import {chanceWithin} from "../stats/chanceWithin.ts";
import {type OrderedTaper, orderedTaper} from "./orderedTaper.ts";
import {latheSdMm, type PieceTaper, pieceTaper} from "./pieceTaper.ts";
import {type PredictedMass, predictedShaft, type ShaftMass} from "./predictedShaft.ts";
import {
  chanceOfBend,
  type NoBend,
  type PieceModulus,
  type PredictedBend,
  pieceModulus,
  predictedBend,
  speciesModuli
} from "./stiffness.ts";

/** What an order may ask of a shaft. The last four are weighed against each other (`rack.weights`), the others must be. */
export type ShaftWish = "species" | "length" | "tip" | "mass" | "stiffness" | "grain" | "colour";
/** "not known": what the order asks for was not recorded of the shaft, or cannot be worked out. */
export type FitState = "fits" | "not known" | "does not fit";

/** One wish of an order, held against one shaft. */
export interface WishFit {
  wish: ShaftWish;
  state: FitState;
  /** How well, from 0 to 1; 0 where it does not fit. Only of mass, stiffness, grain and colour. */
  score?: number;
  /** The chance that it lies in the window, of mass and stiffness; of a shaft that was never bent by the spread of the species. */
  chance?: number;
  /** What the shaft has: mm (length, tip, stiffness), g, one in so many, or text; absent where it is not known. */
  value?: number | string;
  /** What is asked for, margins of the settings in it; one side alone where the other is open. Colour and species: `wanted`. */
  low?: number;
  high?: number;
  wanted?: string;
  /** Why it is not known. */
  why?: "not recorded" | NoBend;
}

/** A shaft, or a piece that may become one, held against an order. */
export interface ShaftFit {
  order: string;
  square: string;
  /** "does not fit" as soon as one wish does not; else "not known" as soon as one is not. */
  state: FitState;
  /** How well, from 0 to 1: mean of the scores by `rack.weights`; 1 where the order has no such wish. */
  fit: number;
  /** The chance that mass and stiffness lie in their windows, as far as the order has such: a product. */
  chance: number;
  /** The wishes that the order has, in the order of `ShaftWish`; where the species is another, only that. */
  wishes: WishFit[];
  /** Absent where the settings give no sizes. */
  cut?: OrderedTaper;
  /** Absent where it cannot be worked out. */
  mass?: PredictedMass;
  bend: PredictedBend | NoBend;
  /** The day it was finished, a day number; absent of a piece in stock. */
  finishedOn?: number;
}

/** What shafts are judged by; worked out once for all of them. */
export interface ShaftKnown {
  settings: Settings;
  /** What a piece becomes when it is cut to an order. */
  cutTo: (piece: Piece, order: Pick<Order, "lengthMm" | "tipMm">) => CutShaft;
}

/** A piece cut to an order: the same for all orders of one length and tip. */
export interface CutShaft {
  cut?: OrderedTaper;
  mass?: PredictedMass;
  bend: PredictedBend | NoBend;
}

/**
 * Prepares what `shaftFit` needs: how true the lathe turns, what shafts came to weigh, and a store of what was worked out.
 *
 * Checked: tests/rack/shaftFit.test.ts
 *
 * @param options.masses the result of `stageMass`, for pieces that were not weighed as shafts
 * @param options.storePct moisture of the store, %, at which they will be weighed
 */
export function shaftKnown(
  histories: Pick<Histories, "settings" | "pieces">,
  {masses, storePct}: {masses?: readonly ShaftMass[]; storePct?: number | undefined} = {}
): ShaftKnown {
  const {settings} = histories;
  const last = settings.stages.at(-1)!.name;
  const lathe = new Map(settings.stages.map(({name}) => [name, latheSdMm(histories, name)]));
  const ofPiece = new Map<
    Piece,
    {taper: PieceTaper | undefined; modulus: PieceModulus | NoBend; cuts: Map<string, CutShaft>}
  >();
  const latheMm = lathe.get(last)!;
  const tapers = (piece: Piece) => (stage: string) =>
    pieceTaper(piece, stage, {settings, latheMm: lathe.get(stage) ?? latheMm});
  const moduli = speciesModuli(
    histories.pieces.flatMap((piece) => {
      const found = pieceModulus(piece, {settings, taperAt: tapers(piece)});
      return typeof found === "object" && found.basis === "bent" ? [{...found, species: piece.species}] : [];
    })
  );
  return {
    settings,
    cutTo: (piece, {lengthMm, tipMm}) => {
      const taperAt = tapers(piece);
      let own = ofPiece.get(piece);
      if (!own) {
        own = {taper: taperAt(last), modulus: pieceModulus(piece, {settings, taperAt, moduli}), cuts: new Map()};
        ofPiece.set(piece, own);
      }
      const key = `${lengthMm} ${tipMm}`;
      const known = own.cuts.get(key);
      if (known) return known;
      const {taper, modulus} = own;
      const cut = taper && orderedTaper(taper, {lengthMm, tipMm}, settings.rack);
      const isAsItIs = lengthMm === undefined && tipMm === undefined;
      const mass =
        cut || isAsItIs ? predictedShaft(piece, taper, cut, {settings, latheMm, masses, storePct}) : undefined;
      const made: CutShaft = {
        ...(cut && {cut}),
        ...(mass && {mass}),
        bend: cut
          ? predictedBend(piece, cut, {settings, taperAt, latheMm, modulus})
          : "no sizes of the stage in the settings"
      };
      own.cuts.set(key, made);
      return made;
    }
  };
}

/**
 * One shaft against one order: which wishes it meets, how well, and how sure that is. A piece that is no shaft yet is judged by the shaft that it
 * would become.
 *
 * - length and tip: as `orderedTaper`; the rest for what it makes of the shaft.
 * - mass and stiffness: fit when the expected value lies in the window. Score: how near the middle, 1 there and 0 at the ends (1 where a
 *   side is open), times the chance to lie within. A shaft that was never bent is not known to fit; its chance is that of its species, and below one in twenty it is taken
 *   not to fit.
 * - grain: fits when no steeper than asked for. Colour: when the words are the same but for case, accents and spaces. Score 1.
 * - what was not recorded is not known: neither a fit nor a misfit.
 *
 * fit = Σ weight · score/Σ weight over the wishes that the order has. Wishes and scores by common practice, no source.
 * Checked: tests/rack/shaftFit.test.ts, by hand; tests/recovery/rack.test.ts, against the rule by which the sample's workshop allots
 */
export function shaftFit(order: Order, piece: Piece, {settings, cutTo}: ShaftKnown): ShaftFit {
  const {cut, mass, bend} = cutTo(piece, order);
  const wishes: WishFit[] =
    piece.species === order.species
      ? [
          ...sizeWishes(order, settings, cut),
          ...massWish(order, mass),
          ...stiffnessWish(order, bend),
          ...grainWish(order, piece),
          ...colourWish(order, piece)
        ]
      : [{wish: "species", state: "does not fit", value: piece.species, wanted: order.species}];
  let [state, fit, weights, chance]: [FitState, number, number, number] = ["fits", 0, 0, 1];
  for (const one of wishes) {
    if (state !== "does not fit" && one.state !== "fits") state = one.state;
    if (one.chance !== undefined) chance *= one.chance;
    if (one.score === undefined) continue;
    const weight = settings.rack.weights[one.wish as keyof Settings["rack"]["weights"]];
    fit += weight * one.score;
    weights += weight;
  }
  const isOther = wishes[0]?.wish === "species";
  // Some hundred thousand of these are made for a large book: no spreads here.
  const result: ShaftFit = {
    order: order.order,
    square: piece.square,
    state,
    fit: isOther ? 0 : weights > 0 ? fit / weights : 1,
    chance: isOther ? 0 : chance,
    wishes,
    bend
  };
  if (cut) result.cut = cut;
  if (mass) result.mass = mass;
  if (piece.fate === "finished") result.finishedOn = piece.fateOn!;
  return result;
}

function sizeWishes(order: Order, {rack}: Settings, cut: OrderedTaper | undefined): WishFit[] {
  const asked = [
    order.lengthMm !== undefined && {wish: "length" as const, low: order.lengthMm + rack.spliceMarginMm},
    order.tipMm !== undefined && {wish: "tip" as const, low: order.tipMm + rack.tipMarginMm}
  ].filter((one) => one !== false);
  return asked.map(({wish, low}): WishFit => {
    if (!cut) return {wish, state: "not known", low, why: "no sizes of the stage in the settings"};
    const [fits, value] = wish === "length" ? [cut.lengthFits, cut.shaftMm] : [cut.tipFits, cut.thereMm];
    return {wish, state: fits ? "fits" : "does not fit", low, value};
  });
}

/** What is not known to fit and fits in fewer than this share of cases is taken not to: ours. */
const hardly = 0.05;

type Window = {low?: number | undefined; high?: number | undefined};

/** A wish for a number in a window; none where both sides are open. */
function windowWish(
  wish: "mass" | "stiffness",
  value: number | undefined,
  {low, high}: Window,
  chanceOf: (window: Window) => number,
  {isKnown = value !== undefined, why = "not recorded"}: {isKnown?: boolean; why?: NonNullable<WishFit["why"]>} = {}
): WishFit[] {
  if (low === undefined && high === undefined) return [];
  const one: WishFit = {wish, state: "not known", score: 0};
  if (low !== undefined) one.low = low;
  if (high !== undefined) one.high = high;
  if (!isKnown) one.why = why;
  if (value === undefined) return [one];
  one.value = value;
  one.chance = chanceOf({low, high});
  if (!isKnown) {
    one.score = one.chance;
    if (one.chance < hardly) one.state = "does not fit";
  } else if ((low !== undefined && value < low) || (high !== undefined && value > high)) one.state = "does not fit";
  else {
    one.state = "fits";
    const half = low === undefined || high === undefined ? 0 : (high - low) / 2;
    const central = half > 0 ? Math.max(0, 1 - Math.abs(value - (low! + half)) / half) : 1;
    one.score = central * one.chance;
  }
  return [one];
}

function massWish({massMinG: low, massMaxG: high}: Order, mass: PredictedMass | undefined): WishFit[] {
  return windowWish("mass", mass?.massG, {low, high}, (window) =>
    chanceWithin({mean: mass!.massG, sd: mass!.sdG, freedom: mass!.freedom}, window)
  );
}

function stiffnessWish({deflectionMinMm: low, deflectionMaxMm: high}: Order, bend: PredictedBend | NoBend): WishFit[] {
  if (typeof bend === "string") return windowWish("stiffness", undefined, {low, high}, () => 0, {why: bend});
  const isKnown = bend.modulus.basis === "bent";
  return windowWish("stiffness", bend.deflectionMm, {low, high}, (window) => chanceOfBend(bend, window), {isKnown});
}

function grainWish({grainOneIn: low}: Order, {intake: {grainOneIn: value}}: Piece): WishFit[] {
  if (low === undefined) return [];
  if (value === undefined) return [{wish: "grain", state: "not known", low, score: 0, why: "not recorded"}];
  const fits = value >= low;
  return [{wish: "grain", state: fits ? "fits" : "does not fit", low, value, score: fits ? 1 : 0}];
}

function colourWish({colour: wanted}: Order, {intake: {colour: value}}: Piece): WishFit[] {
  if (wanted === undefined) return [];
  if (value === undefined) return [{wish: "colour", state: "not known", wanted, score: 0, why: "not recorded"}];
  const fits = fold(value) === fold(wanted);
  return [{wish: "colour", state: fits ? "fits" : "does not fit", wanted, value, score: fits ? 1 : 0}];
}
