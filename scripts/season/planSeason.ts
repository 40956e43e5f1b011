import {alikeOfCounts} from "../../lib/book/alikePieces.ts";
import {bookCounts, type CountsOf} from "../../lib/book/bookCounts.ts";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import {lotCounts} from "../../lib/book/lotCounts.ts";
import {type DemandByWindow, demandByWindow, demandInWindow} from "../../lib/buying/demandByWindow.ts";
import {demandOverride, type PlannedDemand} from "../../lib/buying/demandOverride.ts";
import {nextSeason} from "../../lib/buying/leadTime.ts";
import {lowestUsableCost, type Need} from "../../lib/buying/outcomes.ts";
import {type PurchasePlan, planCurve} from "../../lib/buying/purchasePlan.ts";
import {type Planner, planner, type SeasonInput, type SeasonPlan} from "../../lib/buying/seasonPlan.ts";
import {stageDoubts} from "../../lib/buying/stageDoubts.ts";
import {countedSupply, type Supply} from "../../lib/buying/supply.ts";
import type {OneNeed} from "../../lib/buying/whatItHangsOn.ts";
import {shown} from "../../lib/report/quantity.ts";
import {quantile} from "../../lib/stats/quantile.ts";
import {countedFinishChances} from "../../lib/yield/finishChance.ts";
import {countedYields} from "../../lib/yield/stageYields.ts";
import {latelyFactors, latelyWorse} from "../pages/latelyWorse.ts";

/** What is known of one species before the plan; `why` says what is missing when there can be none. */
export interface SpeciesNeed {
  species: string;
  why?: string;
  need?: Need;
  stock?: Supply;
  demand?: PlannedDemand;
  window?: DemandByWindow;
}

/** One species' part of the season's plan. */
export interface SpeciesPlan {
  species: string;
  need: Need;
  stock: Supply;
  demand: PlannedDemand;
  window?: DemandByWindow;
  plan: PurchasePlan;
  /** The need with its trips, and the money and the trips that the other species leave. */
  alone: OneNeed;
}

/** The plan of the season that comes next, all species in one. */
export interface Season {
  startsOn: string;
  endsOn: string;
  species: SpeciesPlan[];
  /** Species for which no number can be given, and why. */
  missing: {species: string; why: string}[];
  input?: SeasonInput;
  planner?: Planner;
  plan?: SeasonPlan;
}

/** Numbers of squares on a curve. */
const finest = 60;

/** Makes the season's plan from a book: needs of all species, one purchase for all of them, and the curve of each. */
export function planSeason({histories}: {histories: Histories}): Season {
  return countedSeason(bookCounts(histories));
}

/** The same from counts of squares: the plan depends on a book by these alone. */
export function countedSeason(now: CountsOf): Season {
  const {settings} = now;
  const season = nextSeason(now);
  const lately = latelyFactors(latelyWorse(now));
  const given = new Map(now.orders.map((order) => [order.order, order.given]));
  const needs = Object.keys(settings.species)
    .filter((species) => now.lots.some((lot) => lot.species === species))
    .map((species) => speciesNeed({...now, given}, species, season.endsOn, lately));
  const missing = needs.flatMap(({species, why}) => (why === undefined ? [] : [{species, why}]));
  const known = needs.filter((one): one is Required<SpeciesNeed> => one.need !== undefined);
  if (known.length === 0) return {...season, species: [], missing};
  const {budget, trips, serviceGoal} = settings.buying;
  const tripCosts: Record<string, number> = {};
  for (const {stock} of known) for (const {supplier, tripCost} of stock.offers) tripCosts[supplier] = tripCost;
  const input: SeasonInput = {
    needs: known.map(({need}) => need),
    tripCosts,
    ...(budget !== undefined && {budget}),
    ...(trips !== undefined && {trips})
  };
  const made = planner(input);
  const plan = made.plan();
  const species = known.map(({species, need, stock, demand, window}, s): SpeciesPlan => {
    const others = plan.purchases.filter((_, k) => k !== s);
    const elsewhere = new Set(others.flatMap(({orders}) => orders.map(({supplier}) => supplier)));
    const paid =
      others.reduce((sum, {cost}) => sum + cost, 0) + [...elsewhere].reduce((sum, name) => sum + tripCosts[name]!, 0);
    // A trip that another species pays for is free.
    const alone: OneNeed = {
      need,
      tripCosts,
      visitedAnyway: [...elsewhere],
      ...(budget !== undefined && {budget: Math.max(0, budget - paid)}),
      ...(trips !== undefined && {trips: Math.max(0, trips - elsewhere.size)})
    };
    return {
      species,
      need,
      stock,
      demand,
      ...(window && {window}),
      plan: planCurve(made, plan, s, {serviceGoal, finest}),
      alone
    };
  });
  return {...season, species, missing, input, planner: made, plan};
}

function speciesNeed(
  now: CountsOf & {given: ReadonlyMap<string, number>},
  species: string,
  endsOn: string,
  lately: Record<string, number>
): SpeciesNeed {
  const {settings} = now;
  const lots = now.lots.filter((lot) => lot.species === species);
  const own = new Set(lots.map(({lot}) => lot));
  const counts = lotCounts(now.spells, now.asOf).only((lot) => own.has(lot));
  const alike = alikeOfCounts(counts, lots, settings);
  const missing = (why: string): SpeciesNeed => ({species, why});
  if (!alike.some(({fate}) => fate === "finished"))
    return missing(`no ${species} square has become a finished shaft yet, so nobody can say how many do`);
  const withinDays = dayNumber(endsOn) - now.asOf;
  const chanceWithin = countedFinishChances(now, counts, lots);
  const stock = countedSupply(now, alike, species, chanceWithin(), {
    inTime: chanceWithin(withinDays),
    stageDoubts: stageDoubts(countedYields(now, counts).stages),
    lately
  });
  if (stock.offers.length === 0)
    return missing(`no ${species} was bought in the last three years, so there is no price`);
  const demand = demandOverride(now, species, endsOn);
  if (!demand)
    return missing(`fewer than six whole months or five shafts of ${species} orders, so demand cannot be said`);
  const {shaftPrice, shortageCost, leftoverValue} = settings.money;
  const dearest = stock.offers.find((one) => leftoverValue >= lowestUsableCost(one));
  if (dearest)
    return missing(
      `a leftover shaft is set to be worth ${leftoverValue} (leftoverValue under money in workshop.json), as much as or more than the ${shown(lowestUsableCost(dearest), "money")} a usable one costs from ${dearest.supplier}: then every further square pays, which cannot be meant`
    );
  const year = dayText(now.asOf - 365);
  const prices = now.orders
    .filter((order) => order.species === species && order.orderedOn > year)
    .flatMap(({priceEach}) => priceEach ?? []);
  const window = demandByWindow(now, species);
  const need: Need = {
    finished: stock.rack,
    pipeline: stock.pipeline,
    // Only what a shaft in the window can serve counts.
    demand: window ? demandInWindow(demand, window) : ordersOf(demand),
    offers: stock.offers,
    money: {price: quantile(prices, 0.5) ?? shaftPrice, shortageCost, leftoverValue}
  };
  return {species, need, stock, demand, ...(window && {window})};
}

/** Without an order nothing is known of wishes: all of the owner's own number counts. */
function ordersOf({mean, size, known}: PlannedDemand): Need["demand"] {
  return {mean, known, ...(size !== undefined && {size})};
}
