import binomialPmf from "@stdlib/stats-base-dists-binomial-pmf";
import gammaCdf from "@stdlib/stats-base-dists-gamma-cdf";
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import type {Piece} from "../../lib/book/histories.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {demandForecast} from "../../lib/buying/demandForecast.ts";
import {demandCurve, planOutcome} from "../../lib/buying/planOutcome.ts";
import {type PlanInput, purchasePlan} from "../../lib/buying/purchasePlan.ts";
import {stageDoubts} from "../../lib/buying/stageDoubts.ts";
import {supply} from "../../lib/buying/supply.ts";
import {betaByMoments} from "../../lib/stats/betaMoments.ts";
import {convolve} from "../../lib/stats/convolve.ts";
import {countQuantile} from "../../lib/stats/countQuantile.ts";
import {negativeBinomialPmf} from "../../lib/stats/negativeBinomial.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {poissonBinomialPmf} from "../../lib/stats/poissonBinomialPmf.ts";
import {finishChance} from "../../lib/yield/finishChance.ts";
import {stageYields} from "../../lib/yield/stageYields.ts";
import {meanOrders, type SupplierTruth, stageChances, type Truth} from "./truth.ts";
import {settings, type Workshop} from "./workshop.ts";

/** Squares bought of each supplier, by name. */
export type Purchase = Record<string, number>;

/** What one way of deciding buys in a simulated workshop, and the expected profit of it by the truth. */
export interface Decision {
  by: string;
  purchase: Purchase;
  profit: number;
}

const {shaftPrice: price, shortageCost, leftoverValue, turningCostPerSquare} = settings.money;
const money = {price, shortageCost, leftoverValue};
const year = 365;
const window = settings.species.ash!.windowKgM3;
const fits = ({densityAt12KgM3: x}: Piece) => x >= window.low && x <= window.high;

/**
 * What is bought for the year to come by one who knows the truth but not the dice, by the advice, and by three rules in common use; each with the
 * expected profit it truly has: stock, new lots and orders as they are drawn, every piece of a lot sharing that lot's luck. Undefined while
 * the book is too young for the advice to say a number.
 */
export function decisions(truth: Truth, workshop: Workshop): Decision[] | undefined {
  const advice = advised(workshop);
  if (!advice) return undefined;
  const worth = trueProfit(truth, workshop);
  const ways: [string, Purchase][] = [
    ["all-knowing", allKnowing(truth, workshop)],
    ["advice", advice],
    ["mean demand ÷ naive yield", meanDemandRule(truth, workshop)],
    ["demand quantile less pipeline ÷ yield", quantileRule(truth, workshop)],
    ["last year's number", lastYear(workshop)]
  ];
  return ways.map(([by, purchase]) => ({by, purchase, profit: worth(purchase)}));
}

/** What the season's report would say, over the year to come. */
function advised({histories}: Workshop): Purchase | undefined {
  const forecast = demandForecast(histories, "ash", dayText(histories.asOf + year));
  if (!forecast) return undefined;
  const {pieces} = histories;
  const stock = supply(histories, "ash", finishChance(histories, pieces), {
    inTime: finishChance(histories, pieces, {withinDays: year}),
    stageDoubts: stageDoubts(stageYields(histories, pieces).stages)
  });
  if (stock.offers.length === 0) return undefined;
  const {mean, size, open: known} = forecast;
  const input: PlanInput = {
    finished: stock.rack,
    pipeline: stock.pipeline,
    demand: {mean, known, ...(size !== undefined && {size})},
    // Every lot is carried home by a trip of its own.
    offers: stock.offers.map((offer) => ({...offer, unitCost: offer.unitCost + offer.tripCost / offer.lotSize!})),
    money
  };
  return asPurchase(purchasePlan(input).best.orders);
}

export const asPurchase = (orders: readonly {supplier: string; squares: number}[]): Purchase =>
  Object.fromEntries(orders.map(({supplier, squares}) => [supplier, squares]));

/** Orders not served yet. */
function openOrders({histories: {orders, pieces}}: Workshop): number {
  const served = new Set(pieces.flatMap(({allottedTo}) => allottedTo ?? []));
  return orders.filter(({order}) => !served.has(order)).length;
}

function rack({histories: {pieces}}: Workshop): number {
  return pieces.filter((piece) => piece.fate === "finished" && piece.allottedTo === undefined && fits(piece)).length;
}

/** (Orders of a mean year + open orders − rack) ÷ (finished so far ÷ bought · share in the window), of the supplier cheapest by that yield. */
function meanDemandRule(truth: Truth, workshop: Workshop): Purchase {
  const {histories} = workshop;
  const perYear = histories.orders.length / (truth.months / 12);
  const naive = (pieces: readonly Piece[]) =>
    pieces.filter((piece) => piece.fate === "finished" && fits(piece)).length / Math.max(1, pieces.length);
  return ofCheapest(truth, workshop, perYear + openOrders(workshop) - rack(workshop), naive);
}

/** (90 % quantile of Poisson demand of last year's mean + open orders − rack − pipeline · yield) ÷ yield, yield = fitting ÷ decided. */
function quantileRule(truth: Truth, workshop: Workshop): Purchase {
  const {histories} = workshop;
  const lastYears = histories.orders.filter(({orderedOn}) => dayNumber(orderedOn) > histories.asOf - year).length;
  const demand = countQuantile(negativeBinomialPmf(Number.POSITIVE_INFINITY, lastYears, 3 * lastYears + 60), 0.9)!;
  const decided = (pieces: readonly Piece[]) => pieces.filter(({fate}) => fate !== "in stock");
  const share = (pieces: readonly Piece[]) =>
    decided(pieces).filter((piece) => piece.fate === "finished" && fits(piece)).length /
    Math.max(1, decided(pieces).length);
  const pipeline = histories.pieces.filter(({fate}) => fate === "in stock").length * share(histories.pieces);
  return ofCheapest(truth, workshop, demand + openOrders(workshop) - rack(workshop) - pipeline, share);
}

/** So many usable shafts from the supplier whose square costs least by its yield. */
function ofCheapest(
  truth: Truth,
  {histories}: Workshop,
  shafts: number,
  share: (pieces: readonly Piece[]) => number
): Purchase {
  const bySupplier = groupBy(histories.pieces, ({supplier}) => supplier);
  const costs = truth.suppliers
    .map((one) => ({one, share: share(bySupplier.get(one.name) ?? [])}))
    .filter((row) => row.share > 0)
    .map((row) => ({...row, cost: unitCost(truth, row.one) / row.share}));
  const cheapest = costs.toSorted((a, b) => a.cost - b.cost)[0];
  return cheapest ? {[cheapest.one.name]: Math.max(0, Math.round(shafts / cheapest.share))} : {};
}

/** What was bought in the last year, of the same suppliers. */
function lastYear({histories}: Workshop): Purchase {
  const purchase: Purchase = {};
  for (const {boughtOn, supplier, squaresBought} of histories.lots)
    if (dayNumber(boughtOn) > histories.asOf - year) purchase[supplier] = (purchase[supplier] ?? 0) + squaresBought;
  return purchase;
}

/** The best purchase by the true rates. */
function allKnowing(truth: Truth, workshop: Workshop): Purchase {
  return asPurchase(purchasePlan(trueInput(truth, workshop)).best.orders);
}

/**
 * What the plan would have to be told to be all-knowing: each piece on its way with its true chance, and beta-binomial and negative binomial
 * numbers with the true means and variances of each supplier's lots and of the year's orders.
 */
export function trueInput(truth: Truth, workshop: Workshop): PlanInput {
  const offers = truth.suppliers.map((one) => {
    const shares = lotShares(truth, one);
    const mean = sum(shares.map(({weight, share}) => weight * share));
    const variance = sum(shares.map(({weight, share}) => weight * (share - mean) ** 2));
    return {
      supplier: one.name,
      ...betaByMoments({mean, variance: Math.max(variance, 1e-7)})!,
      lotSize: truth.squaresPerLot,
      unitCost: unitCost(truth, one),
      available: 400
    };
  });
  const demand = trueDemand(truth, workshop);
  const known = openOrders(workshop);
  const mean = sum(demand.map((p, k) => p * k)) - known;
  const extra = sum(demand.map((p, k) => p * (k - known - mean) ** 2)) - mean;
  const pipeline = trueChances(truth, workshop).map((chance) => ({n: 1, alpha: chance, beta: 1 - chance}));
  return {
    finished: rack(workshop),
    pipeline: pipeline.filter(({alpha, beta}) => alpha > 0 && beta > 0),
    demand: {mean, known, ...(extra > 0 && {size: mean ** 2 / extra})},
    offers,
    money
  };
}

function unitCost({squaresPerLot}: Truth, {price: each, carriage}: SupplierTruth): number {
  return each + carriage / squaresPerLot + turningCostPerSquare;
}

/** A purchase comes in as many lots of about the usual size as it takes, each with a luck of its own. */
function lotSizes({squaresPerLot}: Truth, squares: number): number[] {
  const lots = Math.max(1, Math.round(squares / squaresPerLot));
  return Array.from(
    {length: lots},
    (_, i) => Math.floor((squares * (i + 1)) / lots) - Math.floor((squares * i) / lots)
  );
}

/** The expected profit of any purchase by the truth, exactly. */
export function trueProfit(truth: Truth, workshop: Workshop): (purchase: Purchase) => number {
  const stock = trueStock(truth, workshop);
  const demand = trueDemand(truth, workshop);
  const mean = sum(demand.map((p, k) => p * k));
  const shares = new Map(truth.suppliers.map((one) => [one.name, gatheredShares(truth, one)]));
  return (purchase) => {
    let [supplied, cost] = [stock, 0];
    for (const [name, squares] of Object.entries(purchase)) {
      if (squares === 0) continue;
      const one = truth.suppliers.find((supplier) => supplier.name === name)!;
      for (const lot of lotSizes(truth, squares)) supplied = convolve(supplied, lotPmf(shares.get(name)!, lot));
      cost += squares * unitCost(truth, one);
    }
    const pmf = [...demand, ...new Array<number>(Math.max(0, supplied.length - demand.length + 1)).fill(0)];
    return planOutcome(supplied, demandCurve(pmf, mean), money, cost).profit;
  };
}

/** The orders open and those of the twelve months to come. */
function trueDemand(truth: Truth, workshop: Workshop): number[] {
  const months = Array.from({length: 12}, (_, k) => meanOrders(truth, truth.months + k));
  const pmf = months.reduce<number[]>(
    (all, mean) =>
      convolve(
        all,
        negativeBinomialPmf(
          truth.demand.size,
          mean,
          Math.ceil(mean + 12 * Math.sqrt(mean + mean ** 2 / truth.demand.size) + 20)
        )
      ),
    [1]
  );
  return [...new Array<number>(openOrders(workshop)).fill(0), ...pmf];
}

/** Usable shafts from stock: the rack, and every piece on its way with its true chance. */
function trueStock(truth: Truth, workshop: Workshop): number[] {
  return [...new Array<number>(rack(workshop)).fill(0), ...poissonBinomialPmf(trueChances(truth, workshop))];
}

/** The chances of the pieces on their way that are inside the window, their lots' luck known. */
function trueChances(truth: Truth, {histories, luck}: Workshop): number[] {
  return histories.pieces
    .filter((piece) => piece.fate === "in stock" && fits(piece))
    .map((piece) => trueChance(truth, piece, luck.get(piece.lot)!, histories.asOf));
}

/** The chance of a piece at its stage for so many days to be finished, its lot's luck known. */
export function trueChance(truth: Truth, piece: Piece, u: number, asOf: number): number {
  const one = truth.suppliers.find(({name}) => name === piece.supplier)!;
  const month = Math.floor((piece.boughtOn - dayNumber("2020-01-01")) / (365.25 / 12));
  const stay = piece.stays.at(-1)!;
  const at = settings.stages.findIndex(({name}) => name === stay.stage);
  let chance = 1;
  for (let k = at; k < truth.stages.length; k++) {
    const {discarded, diverted, passed} = stageChances(truth, one, k, {u, month});
    const age = k === at ? asOf - stay.from : 0;
    const staying = restsLonger(age, truth.stages[k]!.days);
    const unseen = truth.early ? discardsLater(age, truth.stages[k]!.days) : staying;
    chance *= (passed * staying) / ((passed + diverted) * staying + discarded * unseen);
  }
  return chance;
}

/** P(whole rest > age), gamma of shape 16. */
function restsLonger(age: number, days: number): number {
  return Math.max(1e-12, 1 - gammaCdf(age, 16, 16 / days));
}

/** P(part of the rest > age), the part Beta(1, 1.5), which has the distribution function 1 − (1 − x)^1.5. */
function discardsLater(age: number, days: number): number {
  const steps = 200;
  const at = (b: number) => 1 - (1 - b) ** 1.5;
  let total = 0;
  for (let i = 0; i < steps; i++) {
    const [from, to] = [i / steps, (i + 1) / steps];
    total += (at(to) - at(from)) * restsLonger(age / ((from + to) / 2), days);
  }
  return total;
}

/** The usable share of a supplier's lots to come: by luck and by the lot's mean density, on a grid. */
function lotShares(truth: Truth, one: SupplierTruth): {weight: number; share: number}[] {
  const grid = Array.from({length: 41}, (_, i) => -4 + (8 * (i + 0.5)) / 41);
  const weights = grid.map((z) => Math.exp((-z * z) / 2));
  const total = sum(weights);
  const {mean, sdBetween, sdWithin} = one.density;
  const month = truth.months;
  const finished = grid.map((z) =>
    truth.stages.reduce((share, _, k) => share * stageChances(truth, one, k, {u: truth.lotSd * z, month}).passed, 1)
  );
  const inside = grid.map((z) => {
    const at = (x: number) => normalCdf(x, mean + sdBetween * z, sdWithin);
    return at(window.high) - at(window.low);
  });
  return grid.flatMap((_, i) =>
    grid.map((_, k) => ({weight: (weights[i]! * weights[k]!) / total ** 2, share: finished[i]! * inside[k]!}))
  );
}

/** The shares of a supplier's lots, gathered to a thousandth, and the weight of each. */
function gatheredShares(truth: Truth, one: SupplierTruth): Map<number, number> {
  const gathered = new Map<number, number>();
  for (const {weight, share} of lotShares(truth, one)) {
    const near = Math.round(share * 1000) / 1000;
    gathered.set(near, (gathered.get(near) ?? 0) + weight);
  }
  return gathered;
}

/** Usable shafts from one lot of so many squares. */
function lotPmf(shares: ReadonlyMap<number, number>, squares: number): number[] {
  const pmf = new Array<number>(squares + 1).fill(0);
  for (const [share, weight] of shares) {
    if (weight < 1e-9) continue;
    for (let k = 0; k <= squares; k++) pmf[k]! += weight * binomialPmf(k, squares, share);
  }
  return pmf;
}
