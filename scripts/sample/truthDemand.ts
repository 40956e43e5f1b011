import type {SpeciesName} from "./truth.ts";

/** What customers want. See `truth.ts`. */
export const demand = {
  firstMonth: "2022-08",
  /** Shafts a month in the first year, the mean over its twelve months. */
  meanPerMonth: {ash: 12, maple: 6.6} as Record<SpeciesName, number>,
  /** January to December; the mean of the twelve is 1. */
  shapeByMonth: [0.85, 0.8, 0.75, 0.7, 0.65, 0.7, 0.85, 1.15, 1.55, 1.6, 1.4, 1],
  /** Each year from August is so many times the one before. */
  growthPerYear: 1.18,
  /** Negative binomial size: variance of a month = mean + mean²/size. */
  size: 7
} as const;

export const orderHabits = {
  quantity: [
    {quantity: 1, weight: 0.8},
    {quantity: 2, weight: 0.15},
    {quantity: 3, weight: 0.05}
  ],
  daysUntilWanted: [60, 120],
  /** Length and tip of the shaft wanted; all can be cut from a standard one. */
  sizes: [
    {lengthMm: 1470, tipMm: 9.5, weight: 0.6},
    {lengthMm: 1465, tipMm: 9.5, weight: 0.1},
    {lengthMm: 1460, tipMm: 9.6, weight: 0.14},
    {lengthMm: 1450, tipMm: 9.7, weight: 0.1},
    {lengthMm: 1440, tipMm: 9.8, weight: 0.06}
  ],
  /** Orders that name a weight, and the range they name. */
  massNamedShare: 0.45,
  massMiddleG: {ash: {mean: 321, sd: 9}, maple: {mean: 329, sd: 7}},
  massHalfRangeG: [10, 15, 20],
  shaftPrice: {ash: 138, maple: 145},
  priceRisePerYear: 0.02,
  handlingDays: {shape: 2, mean: 9},
  deliveryDays: [2, 10],
  /** Of the orders owed on the last day for so many days, those whose customer would not wait. */
  lostAfterDays: 7,
  lostShare: 0.15
} as const;

export const windows: Record<SpeciesName, {low: number; high: number}> = {
  ash: {low: 650, high: 735},
  maple: {low: 675, high: 745}
};

export const money = {
  currency: "£",
  shaftPrice: 140,
  shortageCost: 25,
  leftoverValue: 15,
  turningCostPerSquare: 14
} as const;
