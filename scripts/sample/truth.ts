/**
 * What is true in the invented workshop: every value that the book was made with, as data. The book shows it only through
 * chance, waiting and measuring error. All values are invented; where one is modelled on the trade it is common practice, no source.
 */
export const asOf = "2026-10-31";
export const firstDay = "2021-11-01";

/** Which of all the books that these truths could bring forth; chosen so that no supplier was far luckier than its truth. */
export const seed = 37;

export type SpeciesName = "ash" | "maple";

/** True density at 12 % moisture, kg/m³: the supplier's mean, and the spread of lots about it and of squares about their lot. */
export interface DensityTruth {
  mean: number;
  sdBetweenLots: number;
  sdWithinLot: number;
}

export interface SupplierTruth {
  name: string;
  drying: "air" | "kiln";
  density: Partial<Record<SpeciesName, DensityTruth>>;
  /** Price of a square in the first year, in the book's currency. */
  price: Partial<Record<SpeciesName, number>>;
  carriage: number;
  /** Chance of each discard against that of the average supplier; 1 where not named. */
  discardFactor: Partial<Record<DefectGroup, number>>;
  /** Visits in each of the five buying years, November to October, and where in the year they fall, 0 to 1. */
  visits: readonly (readonly number[])[];
}

export type DefectGroup = "growth" | "drying" | "machining" | "fit";

const at = (mean: number, sdBetweenLots: number, sdWithinLot: number): DensityTruth => ({
  mean,
  sdBetweenLots,
  sdWithinLot
});

export const suppliers: readonly SupplierTruth[] = [
  {
    name: "Fennaby Yard",
    drying: "air",
    density: {ash: at(690, 18, 34), maple: at(705, 14, 29)},
    price: {ash: 10.5, maple: 11.5},
    carriage: 38,
    discardFactor: {},
    visits: [
      [0.05, 0.55],
      [0.1, 0.6],
      [0.08, 0.52],
      [0.12, 0.62],
      [0.1, 0.955]
    ]
  },
  {
    name: "Haskerdene Mill", // dearer, and about half the spread
    drying: "kiln",
    density: {ash: at(698, 9, 17), maple: at(712, 7, 14)},
    price: {ash: 14.8, maple: 15.5},
    carriage: 62,
    discardFactor: {growth: 0.8, drying: 0.9},
    visits: [[0.3], [0.35], [0.3], [0.28, 0.75], [0.25, 0.7]]
  },
  {
    name: "Tolverby Saws", // the one that got worse
    drying: "air",
    density: {ash: at(684, 19, 36), maple: at(700, 15, 30)},
    price: {ash: 9.4, maple: 10.2},
    carriage: 30,
    discardFactor: {},
    visits: [[0.18], [0.22], [0.15, 0.7], [0.18, 0.72], [0.14, 0.53, 0.62, 0.78]]
  },
  {
    name: "Ludmarsh Timber", // light, wide and cheap
    drying: "air",
    density: {ash: at(663, 22, 42)},
    price: {ash: 8.8},
    carriage: 24,
    discardFactor: {growth: 1.3, drying: 1.1},
    visits: [[0.4], [0.3, 0.8], [0.38, 0.85], [0.35, 0.82], [0.4]]
  },
  {
    name: "Osmerley Wharf",
    drying: "kiln",
    density: {maple: at(716, 12, 26)},
    price: {maple: 12.9},
    carriage: 55,
    discardFactor: {drying: 0.85},
    visits: [[0.7], [0.5], [0.6], [0.45], [0.33, 0.85]]
  },
  {
    name: "Thrawl Bridge Yard", // heavy ash
    drying: "air",
    density: {ash: at(714, 17, 33)},
    price: {ash: 11.2},
    carriage: 44,
    discardFactor: {growth: 0.9, drying: 1.15},
    visits: [[0.82], [0.15, 0.7], [0.2, 0.75], [0.55], [0.3, 0.66]]
  },
  {
    name: "Quillmoor Sawpit", // new, so little is known of it
    drying: "air",
    density: {ash: at(690, 18, 34)},
    price: {ash: 10.2},
    carriage: 34,
    discardFactor: {},
    visits: [[], [], [], [0.68], [0.45]]
  }
];

/** Squares a lot, mean of each buying year by species; lots hold 20 to 50. Prices rise by this share a year. */
export const buying = {
  squaresPerLot: {ash: [34, 35, 36.5, 38, 38.5], maple: [25, 26, 27, 28, 29]},
  sdSquaresPerLot: 4,
  leastPerLot: 20,
  mostPerLot: 50,
  priceRisePerYear: 0.035,
  shareOfLotsWithSquaresLookedAt: 0.8,
  lookedAtPerSquareBought: [2.2, 5.5]
} as const;

/** Lots of this supplier bought from this day on lose twice as much in the first two stages. */
export const turnForTheWorse = {
  supplier: "Tolverby Saws",
  from: "2026-05-01",
  stages: ["square", "rough-round"],
  factor: 2
} as const;
