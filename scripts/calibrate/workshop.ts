import {type Day, dayNumber, dayText} from "../../lib/book/day.ts";
import type {Histories, Piece, Stay} from "../../lib/book/histories.ts";
import type {Order} from "../../lib/book/records.ts";
import {Settings} from "../../lib/book/settings.ts";
import {beta, gamma, negativeBinomial, poisson} from "../sample/counts.ts";
import {choose, normal, type Random, uniform} from "../sample/random.ts";
import {meanOrders, type SupplierTruth, stageChances, type Truth} from "./truth.ts";

/** The names of the invented suppliers. */
export const supplierNames = ["Brackenholt Timber", "Fellgate Sawmill", "Osmerdale Yard"] as const;

/** The settings of every simulated workshop: those of a book that says nothing, but for what can be had. */
export const settings = Settings.parse({
  suppliers: Object.fromEntries(supplierNames.map((name) => [name, {available: 400}]))
});

/** The day on which every simulated workshop begins. */
const firstDay: Day = "2020-01-01";
const daysPerMonth = 365.25 / 12;

/** A simulated book as it stands on its last day, with what only the maker knows: each lot's luck and each piece's end. */
export interface Workshop {
  histories: Histories;
  luck: Map<string, number>;
  /** The pieces that become shafts in the end, and on which day. */
  willFinish: Map<string, number>;
  /** Shafts that will be ordered in the twelve months after the last day. */
  toBeOrdered: number;
}

/**
 * One workshop drawn from a truth: lots bought month by month, each with its own luck, pieces turned, discarded and diverted stage by stage,
 * orders month by month; seen up to the end of its last month.
 */
export function drawWorkshop(truth: Truth, random: Random): Workshop {
  const start = dayNumber(firstDay);
  const asOf = start + Math.round(truth.months * daysPerMonth);
  const lots: Histories["lots"] = [];
  const pieces: Piece[] = [];
  const luck = new Map<string, number>();
  const willFinish = new Map<string, number>();
  for (let month = 0; month < truth.months; month++) {
    const count = poisson(random, truth.lotsPerMonth * (1 + truth.growth) ** month);
    for (let i = 0; i < count; i++) {
      const supplier = choose(random, truth.suppliers, ({share}) => share);
      const boughtOn = Math.min(asOf - 1, start + Math.floor((month + random()) * daysPerMonth));
      const lot = `L${lots.length + 1}`;
      const squaresBought = Math.max(2, Math.round(truth.squaresPerLot * uniform(random, 0.6, 1.4)));
      const u = normal(random, 0, truth.lotSd);
      luck.set(lot, u);
      const {price: priceEach, carriage} = supplier;
      lots.push({
        row: lots.length + 2,
        lot,
        boughtOn: dayText(boughtOn),
        supplier: supplier.name,
        species: "ash",
        squaresBought,
        priceEach,
        carriage
      });
      const densityMean = normal(random, supplier.density.mean, supplier.density.sdBetween);
      for (let k = 0; k < squaresBought; k++) {
        const square = `${lot}-${k + 1}`;
        const density = normal(random, densityMean, supplier.density.sdWithin);
        const drawn = drawPiece(truth, supplier, {square, lot, boughtOn, month, u, density}, asOf, random);
        pieces.push(drawn.piece);
        if (drawn.finishes !== undefined) willFinish.set(square, drawn.finishes);
      }
    }
  }
  const orders = drawOrders(truth, start, random);
  const known = orders.filter(({orderedOn}) => dayNumber(orderedOn) <= asOf);
  deliver(pieces, known, asOf);
  const histories = {settings, asOf, lots, orders: known, pieces, problems: []};
  return {histories, luck, willFinish, toBeOrdered: orders.length - known.length};
}

interface Made {
  square: string;
  lot: string;
  boughtOn: number;
  month: number;
  u: number;
  density: number;
}

/** A piece as its history stands on a day, and the day it is finished in the end, if it is. */
function drawPiece(
  truth: Truth,
  supplier: SupplierTruth,
  {square, lot, boughtOn, month, u, density}: Made,
  asOf: number,
  random: Random
): {piece: Piece; finishes?: number} {
  const stays: Stay[] = [];
  let day = boughtOn;
  let end: {fate: "finished" | "discarded" | "diverted"; defect?: string} = {fate: "finished"};
  for (const [k, stage] of truth.stages.entries()) {
    const chances = stageChances(truth, supplier, k, {u, month});
    const whole = gamma(random, 16, stage.days);
    const roll = random();
    const out =
      roll < chances.discarded ? "discarded" : roll < chances.discarded + chances.diverted ? "diverted" : "turned";
    const part = out === "discarded" && truth.early ? beta(random, 1, 1.5) : 1;
    const to = day + Math.max(1, Math.round(whole * part));
    stays.push({stage: settings.stages[k]!.name, from: day, to, left: out});
    day = to;
    if (out === "turned") continue;
    end =
      out === "diverted"
        ? {fate: "diverted"}
        : {fate: "discarded", defect: choose(random, Object.entries(stage.defects), ([, share]) => share)[0]};
    break;
  }
  const finishes = end.fate === "finished" ? day : undefined;
  if (finishes !== undefined) stays.push({stage: settings.stages.at(-1)!.name, from: day});
  const seen = stays.filter(({from}) => from <= asOf);
  const last = seen.at(-1)!;
  if (last.to !== undefined && last.to > asOf) seen[seen.length - 1] = {stage: last.stage, from: last.from};
  const decided = day <= asOf;
  const intake = {square, lot, lengthMm: 1500, widthMm: 40, thicknessMm: 40, massG: density * 2.4, moisturePct: 12};
  const piece: Piece = {
    square,
    lot,
    supplier: supplier.name,
    species: "ash",
    boughtOn,
    intake,
    densityAt12KgM3: density,
    stays: seen,
    measurements: [],
    fate: decided ? end.fate : "in stock",
    ...(decided && {fateOn: day}),
    ...(decided && end.defect !== undefined && {defect: end.defect})
  };
  return {piece, ...(finishes !== undefined && {finishes})};
}

/** Orders of one shaft each, negative binomial by month, up to twelve months after the last. */
function drawOrders(truth: Truth, start: number, random: Random): Histories["orders"] {
  const orders: (Order & {row: number})[] = [];
  for (let month = 0; month < truth.months + 12; month++) {
    const count = negativeBinomial(random, meanOrders(truth, month), truth.demand.size);
    for (let i = 0; i < count; i++) {
      const orderedOn = dayText(start + 1 + Math.floor((month + random()) * daysPerMonth));
      orders.push({row: orders.length + 2, order: `O${orders.length + 1}`, orderedOn, species: "ash", quantity: 1});
    }
  }
  return orders;
}

/** Every order is served in its turn, by the fitting shaft that has been on the rack longest; while there is none it waits. */
function deliver(pieces: Piece[], orders: Histories["orders"], asOf: number): void {
  const {low, high} = settings.species.ash!.windowKgM3;
  const shafts = pieces
    .filter(({fate, densityAt12KgM3: x}) => fate === "finished" && x >= low && x <= high)
    .sort((a, b) => a.fateOn! - b.fateOn!);
  const queue = orders.toSorted((a, b) => (a.orderedOn < b.orderedOn ? -1 : a.orderedOn > b.orderedOn ? 1 : 0));
  queue.slice(0, shafts.length).forEach(({order, orderedOn}, i) => {
    const day = Math.max(dayNumber(orderedOn), shafts[i]!.fateOn!);
    if (day <= asOf) Object.assign(shafts[i]!, {allottedTo: order, deliveredOn: day});
  });
}
