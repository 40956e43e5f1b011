import {type Day, dayNumber, dayText} from "../book/day.ts";
import {fold} from "../book/fold.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {Order} from "../book/records.ts";
import {textOrder} from "../book/textOrder.ts";
import {type ShaftKnown, type ShaftWish, shaftFit, type WishFit} from "./shaftFit.ts";

/** When a piece will be a finished shaft, if it becomes one. */
export interface FinishDay {
  /** The day number by which the share p of such pieces are finished. */
  quantile: (p: number) => number;
  /** The share of them finished by a day number, from 0 to 1. */
  shareBy: (day: number) => number;
}

/** A piece on its way that may become a shaft for an order. */
export interface ComingPiece {
  square: string;
  stage: string;
  /** The chance that it becomes a finished shaft; that the shaft then fits; and that both come true. Fractions of 1. */
  finishFraction: number;
  fitFraction: number;
  chanceFraction: number;
  /** What it will weigh cut to the order, g. */
  massG?: number;
  massLowG?: number;
  massHighG?: number;
  /** The middle day of its finishing, and between which it lies in 9 of 10 cases; absent while nothing is known of the times. */
  expectedOn?: Day;
  earliestOn?: Day;
  latestOn?: Day;
  /** The chance that it is there and fits by the promised day; absent without such a day or times. */
  byPromiseFraction?: number;
  /** Wishes that were not recorded of it: counted by how often pieces of the species meet them, or as met where none was recorded. */
  unsure: ShaftWish[];
}

/** What may still come for an order. */
export interface ComingForOrder {
  order: string;
  wantedBy?: Day;
  /** Best chance first. */
  pieces: ComingPiece[];
  /** Shafts to be expected of them that fit. */
  expected: number;
  /** The chance that at least one comes that fits, ever and by the promised day. */
  chanceFraction: number;
  byPromiseFraction?: number;
}

/**
 * The pieces on their way that may become a shaft for an order, and when.
 *
 *   chance = chance to finish · P(mass in window) · P(deflection in window) · grain · colour        1 or 0 where recorded
 *   by the promised day = chance · share of such pieces finished by then
 *   at least one = 1 − Π (1 − chance)
 *
 * Mass and deflection by `shaftFit`; a piece never bent goes by its species. Grain and colour that were not recorded count by how often pieces
 * of the species meet the wish.
 *
 * The trap: each order is asked alone, as if nobody else took the piece; mass and stiffness are taken as independent, and so are the pieces, though those
 * of one lot share their luck: with few lots on the way “at least one” promises a little too much.
 * Source: common practice, no source. Checked: tests/rack/comingForOrder.test.ts, by hand
 *
 * @param known of `shaftKnown`
 * @param finishChance of the question of yields: the chance that a piece becomes a shaft
 * @param finishDay of the question of buying: when it will, a `FinishDay`
 */
export function comingForOrder(
  order: Order,
  {pieces}: Pick<Histories, "pieces">,
  {
    known,
    finishChance,
    finishDay
  }: {
    known: ShaftKnown;
    finishChance: (piece: Piece) => number | undefined;
    finishDay: (piece: Piece) => FinishDay | undefined;
  }
): ComingForOrder {
  const own = pieces.filter(({species}) => species === order.species);
  const shares = recordedShares(order, own);
  const coming = own.flatMap((piece): ComingPiece[] => {
    const finishFraction = piece.fate === "in stock" ? finishChance(piece) : undefined;
    if (!finishFraction) return [];
    const {wishes, mass} = shaftFit(order, piece, known);
    const fitFraction = wishes.reduce((product, wish) => product * chanceOf(wish, shares), 1);
    if (fitFraction < negligible) return [];
    const times = finishDay(piece);
    const chanceFraction = finishFraction * fitFraction;
    return [
      {
        square: piece.square,
        stage: piece.stays.at(-1)!.stage,
        finishFraction,
        fitFraction,
        chanceFraction,
        ...(mass && {massG: mass.massG, massLowG: mass.lowG, massHighG: mass.highG}),
        ...(times && {
          expectedOn: dayText(times.quantile(0.5)),
          earliestOn: dayText(times.quantile(0.05)),
          latestOn: dayText(times.quantile(0.95))
        }),
        ...(times &&
          order.wantedBy !== undefined && {
            byPromiseFraction: chanceFraction * times.shareBy(dayNumber(order.wantedBy))
          }),
        unsure: wishes.filter(({state}) => state === "not known").map(({wish}) => wish)
      }
    ];
  });
  coming.sort(
    (a, b) =>
      (b.byPromiseFraction ?? 0) - (a.byPromiseFraction ?? 0) ||
      b.chanceFraction - a.chanceFraction ||
      textOrder(a.square, b.square)
  );
  const atLeastOne = (chance: (one: ComingPiece) => number) =>
    1 - coming.reduce((none, one) => none * (1 - chance(one)), 1);
  const isDated = order.wantedBy !== undefined && coming.every(({expectedOn}) => expectedOn !== undefined);
  return {
    order: order.order,
    ...(order.wantedBy !== undefined && {wantedBy: order.wantedBy}),
    pieces: coming,
    expected: coming.reduce((total, {chanceFraction}) => total + chanceFraction, 0),
    chanceFraction: atLeastOne(({chanceFraction}) => chanceFraction),
    ...(isDated && {byPromiseFraction: atLeastOne(({byPromiseFraction = 0}) => byPromiseFraction)})
  };
}

/** A piece whose chance to fit is less is not named; ours. */
const negligible = 0.001;

/** The chance that a wish is met, of mass and stiffness by their spread; 0 where it cannot be worked out, as then nothing may be promised. */
function chanceOf({wish, state, chance}: WishFit, shares: {grain?: number; colour?: number}): number {
  if (chance !== undefined) return chance;
  if (state !== "not known") return state === "fits" ? 1 : 0;
  return wish === "grain" || wish === "colour" ? (shares[wish] ?? 1) : 0;
}

/** How often the pieces of which grain and colour were recorded meet the order's wishes. */
function recordedShares({grainOneIn, colour}: Order, pieces: readonly Piece[]): {grain?: number; colour?: number} {
  const share = (met: (boolean | undefined)[]) => {
    const known = met.filter((one) => one !== undefined);
    return known.length === 0 ? undefined : known.filter(Boolean).length / known.length;
  };
  const grain = share(
    pieces.map(({intake}) => (intake.grainOneIn === undefined ? undefined : intake.grainOneIn >= (grainOneIn ?? 0)))
  );
  const ofColour = share(
    pieces.map(({intake}) => (intake.colour === undefined ? undefined : fold(intake.colour) === fold(colour ?? "")))
  );
  return {...(grain !== undefined && {grain}), ...(ofColour !== undefined && {colour: ofColour})};
}
