import {type AlikePieces, alikePieces} from "../book/alikePieces.ts";
import {dayNumber} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {Lot} from "../book/records.ts";
import {groupBy} from "../book/spells.ts";
import {type BetaBinomialFit, fitBetaBinomial, type Rate, shrunkRate} from "../stats/betaBinomial.ts";
import {groupRates} from "../stats/groupRates.ts";
import {sum} from "../stats/numbers.ts";
import {withinCorrelation} from "../stats/withinCorrelation.ts";
import type {Offer, UncertainPieces} from "./outcomes.ts";
import {remembered} from "./remembered.ts";

/** The chance of a piece to become a finished shaft: a result of `finishChance`. */
export type Chance = (piece: Pick<Piece, "fate" | "stays" | "boughtOn">) => number | undefined;

export interface SupplyOptions {
  /** The chance to be finished before the season's end; `chance` unless given. */
  inTime?: Chance;
  /** How well the yield of each stage is known: variance of its logarithm. Of what is not given nothing is common. */
  stageDoubts?: readonly {stage: string; logVariance: number}[];
  /** By supplier: what passes now of what passes over all years, where it has got worse. */
  lately?: Readonly<Record<string, number>>;
}

/** Shafts of one species there will be without buying, and what may be bought. */
export interface Supply {
  species: string;
  /** On the rack, free, inside the density window. */
  rack: number;
  /** On the rack and free, but outside it. */
  rackOutside: number;
  /** On the rack, but promised to an order. */
  rackAllotted: number;
  /** Pieces in stock, lot by lot, with the share to become shafts inside the window. */
  pipeline: UncertainPieces[];
  pipelinePieces: number;
  pipelineExpected: number;
  /** How alike the squares of one lot are: intraclass correlation of being usable. */
  lotCorrelation: number;
  lotsMeasured: number;
  offers: SupplierOffer[];
}

export interface SupplierOffer extends Offer {
  lots: number;
  squares: number;
  lastBought: string;
  /** Price of a square, mean of the last three lots, without carriage and the workshop's own work. */
  priceEach: number;
  /** Carriage of one trip to the supplier, for all that is brought home. */
  tripCost: number;
  /** What passes now of what passes over all years: 1 unless it has got worse lately. */
  latelyFactor: number;
  usableFraction: number;
  usableLow: number;
  usableHigh: number;
  /** (Price + work + carriage of a trip for a usual lot ÷ its squares) ÷ usable share. */
  usableCost: number;
}

/**
 * Supply of one species: the rack, the pipeline and the offers of its suppliers. A piece is usable when it is finished and its density at
 * 12 % lies inside the window.
 *
 * Lots differ: how alike the squares of one lot are, ρ, is fitted to the usable counts of the lots of which nine tenths are decided, about
 * their own supplier's share (`withinCorrelation`), and is taken for every lot, in stock or to be bought. Pieces of one lot share their luck:
 * n pieces with mean chance c count as beta-binomial(n, c M, (1 − c) M) with M = 1/ρ − 1.
 *
 * A supplier's usable share is drawn towards the species' mean by as much as its effective number n / (1 + (n̄ − 1) ρ) is small
 * (`groupRates`); the doubt that remains is common to its lots and is added to their own luck:
 *
 *   Var of a lot's share = ρ p (1 − p) + Var(p̂)     M′ = p (1 − p)/Var − 1     alpha = p M′     beta = (1 − p) M′
 *
 * A supplier that has got worse lately is rated by what passes now: its share times `lately`, of which half the fall is added to its doubt
 * as a standard deviation, for it may be chance or pass.
 *
 * Pieces on their way and new squares have the later stages before them in common. The doubt about the yields of these stages moves their
 * shares together:
 *
 *   V_k = Σ Var ln(stage yield) over the stages from k on     common of new squares = √V_0     of a piece at stage k = V_k/√V_0
 *
 * so that the covariance of the two is that of the stages they share; what is left of V_k is the lot's own. What common is of a supplier's doubt is taken out of its own.
 *
 * A purchase comes in lots of the size usual from that supplier. New squares are taken as in time: the day to buy by is a question of its own.
 * Range: suppliers bought from in the last three years. Checked: tests/buying/supply.test.ts; coverage in the contributor's guide
 */
export function supply(histories: Histories, species: string, chance: Chance, options: SupplyOptions = {}): Supply {
  return countedSupply(histories, alikePieces(histories.pieces, histories.settings), species, chance, options);
}

/** The same from pieces alike. */
export function countedSupply(
  histories: Pick<Histories, "settings" | "asOf"> & {lots: readonly Lot[]},
  alike: readonly AlikePieces[],
  species: string,
  chance: Chance,
  {inTime = chance, stageDoubts = [], lately = {}}: SupplyOptions = {}
): Supply {
  const {settings, asOf} = histories;
  const pieces = alike.filter((piece) => piece.species === species);
  const fits = ({side}: AlikePieces) => side === "inside";
  /** What is expected of some pieces alike is worked out once: it is asked for by lot, by supplier and in all. */
  const expected = (of: Chance) =>
    remembered((piece: AlikePieces) => (fits(piece) ? piece.squares * (of(piece) ?? 0) : 0));
  /** Of some pieces alike, how many can be expected to become usable. */
  const [usable, usableInTime] = [expected(chance), expected(inTime)];
  const squaresIn = (some: readonly AlikePieces[]) => sum(some.map(({squares}) => squares));
  const lots = [...groupBy(pieces, ({lot}) => lot)].map(([lot, own]) => ({lot, own, supplier: own[0]!.supplier}));
  const decided = lots.filter(
    ({own}) => squaresIn(own.filter(({fate}) => fate !== "in stock")) >= 0.9 * squaresIn(own)
  );
  const counts = ({own}: (typeof lots)[number]): Rate => ({
    successes: Math.min(squaresIn(own), sum(own.map(usable))),
    trials: squaresIn(own)
  });
  const ofSuppliers = [...groupBy(decided, ({supplier}) => supplier).values()].map((some) => some.map(counts));
  // A correlation of 0 would promise that all lots are alike: at least as much as two thousand squares' worth of doubt stays.
  const correlation = Math.min(0.95, Math.max(withinCorrelation(ofSuppliers) ?? 0, 0.0005));

  const there = pieces.filter(({fate, deliveredOn}) => fate === "finished" && deliveredOn === undefined);
  const rack = there.filter(({isGiven}) => !isGiven);
  const allotted = there.filter(({isGiven}) => isGiven);
  const stock = pieces.filter(({fate}) => fate === "in stock");
  const varianceFrom = (stage: string | undefined) => {
    const names = settings.stages.map(({name}) => name);
    const later = stage === undefined ? names : names.slice(names.indexOf(stage));
    return sum(stageDoubts.filter((one) => later.includes(one.stage)).map(({logVariance}) => logVariance));
  };
  const common = Math.sqrt(varianceFrom(undefined));
  const commonOf = (piece: AlikePieces) => (common === 0 ? 0 : varianceFrom(piece.stays.at(-1)?.stage) / common);
  const pipeline = [...groupBy(stock, ({lot}) => lot).values()].flatMap((own) => {
    const hopeful = own.filter((piece) => usableInTime(piece) > 0);
    const n = squaresIn(hopeful);
    const share = Math.min(1 - 1e-9, sum(hopeful.map(usableInTime)) / n);
    if (hopeful.length === 0) return [];
    const meanOf = (value: (piece: AlikePieces) => number) =>
      sum(hopeful.map((piece) => piece.squares * value(piece))) / n;
    const together: {common?: number} = common === 0 ? {} : {common: meanOf(commonOf)};
    // What of the doubt about its stages new squares do not share is the lot's own.
    const stages = common === 0 ? 0 : meanOf((piece) => varianceFrom(piece.stays.at(-1)?.stage));
    const rest = Math.max(0, stages - (together.common ?? 0) ** 2) * share ** 2;
    const m = 1 / Math.min(0.95, correlation + rest / (share * (1 - share))) - 1;
    return [{lot: hopeful[0]!.lot, n, alpha: share * m, beta: (1 - share) * m, ...together}];
  });

  const suppliers = [...groupBy(lots, ({supplier}) => supplier)].map(([supplier, own]) => {
    const all = own.flatMap((lot) => lot.own);
    const squares = squaresIn(all);
    const effective = squares / (1 + (squares / own.length - 1) * correlation);
    return {
      supplier,
      lots: own.length,
      squares,
      trials: effective,
      successes: Math.min(effective, (effective * sum(all.map(usable))) / squares)
    };
  });
  const pooled = fitBetaBinomial(suppliers);
  const rates = groupRates(suppliers) ?? suppliers.map((counts) => alone(counts, pooled!));
  const offers = suppliers.flatMap(({supplier, lots: lotCount, squares}, i): SupplierOffer[] => {
    const purchases = histories.lots.filter((lot) => lot.supplier === supplier && lot.species === species);
    const latest = purchases
      .sort((a, b) => (a.boughtOn < b.boughtOn ? 1 : a.boughtOn > b.boughtOn ? -1 : 0))
      .slice(0, 3);
    const lastBought = latest[0]!.boughtOn;
    if (asOf - dayNumber(lastBought) > 3 * 365) return [];
    const bought = sum(latest.map(({squaresBought}) => squaresBought));
    const priceEach = sum(latest.map(({squaresBought, priceEach}) => squaresBought * priceEach)) / bought;
    if (pooled === undefined) return [];
    const known = settings.suppliers[supplier];
    const {minimum = 0, available = 100, discounts = []} = known ?? {};
    const tripCost = known?.tripCost ?? usualTripCost(histories, supplier);
    const drawn = rates[i]!;
    const latelyFactor = Math.min(1, lately[supplier] ?? 1);
    const p = Math.min(0.999, Math.max(0.001, drawn.mean * latelyFactor));
    const fall = (drawn.mean - p) / 2;
    const doubt = Math.max(0, drawn.sd ** 2 - (p * common) ** 2) + Math.max(0, fall) ** 2;
    const variance = Math.min(0.9 * p * (1 - p), correlation * p * (1 - p) + doubt);
    const m = (p * (1 - p)) / variance - 1;
    const work = settings.money.turningCostPerSquare;
    const unitCost = priceEach + work;
    const lotSize = squares / lotCount;
    return [
      {
        supplier,
        alpha: p * m,
        beta: (1 - p) * m,
        lotSize,
        doubt: Math.min(doubt, variance),
        ...(common > 0 && {common}),
        unitCost,
        ...(discounts.length > 0 && {
          priceBreaks: discounts.map(({from, pct}) => ({from, unitCost: priceEach * (1 - pct / 100) + work}))
        }),
        minimum,
        available,
        lots: lotCount,
        squares,
        lastBought,
        priceEach,
        tripCost,
        latelyFactor,
        usableFraction: p,
        usableLow: drawn.low * latelyFactor,
        usableHigh: drawn.high,
        usableCost: (unitCost + tripCost / lotSize) / p
      }
    ];
  });
  return {
    species,
    rack: squaresIn(rack.filter(fits)),
    rackOutside: squaresIn(rack.filter((piece) => !fits(piece))),
    rackAllotted: squaresIn(allotted),
    pipeline,
    pipelinePieces: squaresIn(stock),
    pipelineExpected: sum(stock.map(usableInTime)),
    lotCorrelation: correlation,
    lotsMeasured: decided.length,
    offers: offers.sort((a, b) => a.usableCost - b.usableCost)
  };
}

/** Mean carriage of the last three trips to a supplier: all its lots of one day are one trip. */
function usualTripCost({lots}: {lots: readonly Lot[]}, supplier: string): number {
  const own = lots.filter((lot) => lot.supplier === supplier);
  const trips = [...groupBy(own, ({boughtOn}) => boughtOn)].sort(([a], [b]) => (a < b ? 1 : -1)).slice(0, 3);
  return sum(trips.flatMap(([, some]) => some.map(({carriage = 0}) => carriage))) / trips.length;
}

/** The rate of an only supplier, with the SD of its Jeffreys posterior. */
function alone(counts: Rate, pooled: BetaBinomialFit) {
  const rate = shrunkRate(counts, pooled);
  return {...rate, sd: Math.sqrt((rate.mean * (1 - rate.mean)) / (counts.trials + 2))};
}
