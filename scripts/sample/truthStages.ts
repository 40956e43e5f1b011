/** What becomes of squares, stage by stage: the true chances, before chance itself. See `truth.ts`. */
export const stageNames = ["square", "rough-round", "second-round", "proud-round", "finished"] as const;
export type StageName = (typeof stageNames)[number];
export type TurnedStage = Exclude<StageName, "square">;
export type RestStage = Exclude<StageName, "finished">;
export const restStages: readonly RestStage[] = ["square", "rough-round", "second-round", "proud-round"];

export const defects = [
  {name: "knot", group: "growth"},
  {name: "run-out", group: "growth"},
  {name: "stain", group: "growth"},
  {name: "soft", group: "growth"},
  {name: "check", group: "drying"},
  {name: "split", group: "drying"},
  {name: "warp", group: "drying"},
  {name: "tear-out", group: "machining"},
  {name: "undersize", group: "machining"},
  {name: "off-weight", group: "fit"}
] as const;
export type DefectName = (typeof defects)[number]["name"];

/**
 * Chance that a piece which reached the stage is thrown out there by the defect: the average supplier, a lot of middling luck,
 * rest served in full. `off-weight` is not here: it follows from the density, see `offWeight`.
 */
export const discardChance: Record<RestStage, Partial<Record<DefectName, number>>> = {
  square: {knot: 0.012, "run-out": 0.016, stain: 0.014, soft: 0.008, check: 0.024, split: 0.012, warp: 0.018},
  "rough-round": {knot: 0.024, "run-out": 0.026, stain: 0.008, soft: 0.006, check: 0.01, warp: 0.022, undersize: 0.008},
  "second-round": {knot: 0.01, "run-out": 0.014, soft: 0.004, check: 0.004, warp: 0.024, "tear-out": 0.01},
  "proud-round": {"run-out": 0.005, warp: 0.014, "tear-out": 0.01, undersize: 0.005}
};

/** Chance that a piece which reached the stage is put to other use. */
export const divertChance: Record<RestStage, number> = {
  square: 0.004,
  "rough-round": 0.008,
  "second-round": 0.014,
  "proud-round": 0.01
};

/** Lots differ: the logit of a lot's discard chance is that of its supplier plus one normal number, the same at all stages. */
export const lotLogitSd = 0.4;

/** At proud-round a piece further than the margin outside the species' density window is thrown out with this chance. */
export const offWeight = {marginKgM3: 40, chance: 0.6} as const;

/** Some pieces are turned before their rest is served; at the next stage they warp more. */
export const hurry = {share: 0.05, servedShare: [0.5, 0.93], warpFactor: 2.5} as const;

/** Some discards are seen early in the rest: day = rest × Beta(a, b); the others, and diverts, when the piece is taken up. */
export const earlyDiscard = {
  share: {growth: 0.35, drying: 0.75, machining: 0, fit: 0} as const,
  a: 1.3,
  b: 2.2
} as const;

/** A piece is taken up when its rest is served plus a delay, gamma distributed; part of it is common to its lot. */
export const delay = {
  meanDays: {square: 26, "rough-round": 17, "second-round": 15, "proud-round": 13} as Record<RestStage, number>,
  shape: 2,
  lotShare: 0.6
} as const;

/** Least rest and target sizes; the finished shaft has no rest to serve. */
export const stageSettings = [
  {name: "square", restDays: 60},
  {name: "rough-round", largeMm: 37, smallMm: 37, lengthMm: 1490, restDays: 30},
  {name: "second-round", largeMm: 33.5, smallMm: 17, lengthMm: 1480, restDays: 30},
  {name: "proud-round", largeMm: 30.5, smallMm: 11.5, lengthMm: 1475, restDays: 30},
  {name: "finished", largeMm: 29, smallMm: 9.5, lengthMm: 1470}
] as const;

export const restDays: Record<RestStage, number> = {
  square: 60,
  "rough-round": 30,
  "second-round": 30,
  "proud-round": 30
};
