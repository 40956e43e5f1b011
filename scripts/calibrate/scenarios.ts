import type {StageTruth, SupplierTruth, Truth} from "./truth.ts";

const stages: readonly StageTruth[] = [
  {days: 80, discarded: 0.1, diverted: 0.01, defects: {check: 0.5, warp: 0.3, stain: 0.2}},
  {days: 45, discarded: 0.08, diverted: 0.01, defects: {knot: 0.6, "run-out": 0.3, warp: 0.1}},
  {days: 45, discarded: 0.07, diverted: 0.02, defects: {warp: 0.6, knot: 0.3, "tear-out": 0.1}},
  {days: 35, discarded: 0.05, diverted: 0, defects: {"off-weight": 0.7, undersize: 0.3}}
];

const suppliers: readonly SupplierTruth[] = [
  {
    name: "Brackenholt Timber",
    share: 0.4,
    price: 9.5,
    carriage: 30,
    shift: 0,
    density: {mean: 690, sdBetween: 12, sdWithin: 38}
  },
  {
    name: "Fellgate Sawmill",
    share: 0.35,
    price: 13,
    carriage: 45,
    shift: -0.4,
    density: {mean: 685, sdBetween: 8, sdWithin: 24}
  },
  {
    name: "Osmerdale Yard",
    share: 0.25,
    price: 7,
    carriage: 25,
    shift: 0.5,
    density: {mean: 668, sdBetween: 15, sdWithin: 42}
  }
];

const usual: Truth = {
  months: 48,
  lotsPerMonth: 1,
  growth: 0,
  squaresPerLot: 28,
  stages,
  early: false,
  lotSd: 0.4,
  suppliers,
  demand: {perMonth: 13, growth: 0.05, season: 0.25, size: 12}
};

/**
 * The workshops that the intervals and the advice are tried in: some 15 usable shafts a month from one lot a month, orders for about as many.
 * Chances, times and prices are made up.
 */
export const scenarios: Record<string, Truth> = {
  "lots alike": {...usual, lotSd: 0},
  "lots differ": usual,
  "lots differ much": {...usual, lotSd: 0.8},
  "growing, faults seen early": {
    ...usual,
    growth: 0.03,
    lotsPerMonth: 0.55,
    early: true,
    demand: {...usual.demand, perMonth: 6.5, growth: 0.42}
  },
  "a supplier turned bad": {
    ...usual,
    early: true,
    worse: {supplier: "Brackenholt Timber", fromMonth: 38, shift: 1.1}
  },
  "15 months old": {
    ...usual,
    months: 15,
    lotsPerMonth: 1.1,
    growth: 0.02,
    early: true,
    demand: {...usual.demand, perMonth: 11}
  },
  "five lots a month": {...usual, lotsPerMonth: 5, squaresPerLot: 12, demand: {...usual.demand, perMonth: 28}},
  small: {...usual, months: 36, lotsPerMonth: 0.55, demand: {...usual.demand, perMonth: 7}}
};
