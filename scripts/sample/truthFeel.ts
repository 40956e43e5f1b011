/** Stiffness, grain and colour: what a hand and an eye choose by. All invented. See `truth.ts`. */

/** From this day on squares get their grain and colour written down, and shafts are bent when they are finished. */
export const feelFrom = "2025-05-01";
/** How often it is done. */
export const feelShare = {square: 0.92, bendTest: 0.9} as const;

/** The workshop's test, as in workshop.json: a weight in the middle of a free length of a shaft lying on two supports. */
export const bendTest = {loadKg: 2, support: "simple", fromLargeMm: 100, spanMm: 1200} as const;
/** Standard deviation of a reading of it. */
export const deflectionSdMm = 0.08;

/**
 * Modulus of a stick at the moisture of the store: mean of its species, MPa, × (1 + densityShare · (ρ/meanDensity − 1) + normal(0, sd)).
 * Means as published for the woods (see `lib/wood/speciesTable.ts`).
 */
export const modulus = {
  meanMPa: {ash: 12900, maple: 12600},
  meanDensityKgM3: {ash: 690, maple: 709},
  densityShare: 1,
  sd: 0.12
} as const;

/** Slope of the grain of a bought square, one in so many. */
export const grains = [
  {oneIn: 12, weight: 0.06},
  {oneIn: 15, weight: 0.2},
  {oneIn: 20, weight: 0.36},
  {oneIn: 25, weight: 0.22},
  {oneIn: 30, weight: 0.16}
] as const;

export const colours = {
  ash: [
    {colour: "white", weight: 0.55},
    {colour: "cream", weight: 0.3},
    {colour: "brown", weight: 0.15}
  ],
  maple: [
    {colour: "white", weight: 0.5},
    {colour: "cream", weight: 0.42},
    {colour: "brown", weight: 0.08}
  ]
} as const;

/** What orders of this day and later wish for beside length, tip and weight. */
export const wishes = {
  from: "2026-01-01",
  deflection: {share: 0.12, middleMm: {mean: 8.7, sd: 1.3}, halfRangeMm: [0.5, 0.8, 1.2]},
  grain: {share: 0.12, oneIn: [15, 20, 25]},
  colour: {share: 0.15, colours: ["white", "white", "cream", "brown"]}
} as const;
