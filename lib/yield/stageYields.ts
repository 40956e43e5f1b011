import type {Histories, Piece} from "../book/histories.ts";
import {type LotCounts, lotCounts} from "../book/lotCounts.ts";
import {type SpellCount, spellCounts} from "../book/spellCounts.ts";
import {chainedIncidence} from "../stats/chainedIncidence.ts";
import {clusterShareInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {type ClusterTable, endedByCause} from "../stats/clusterTable.ts";
import type {Interval} from "../stats/interval.ts";
import {sum} from "../stats/numbers.ts";
import {wilson} from "../stats/wilson.ts";

/** What becomes of the pieces that reach one stage. Fractions of 1. */
export interface StageYield {
  stage: string;
  lots: number;
  entered: number;
  passed: number;
  discarded: number;
  diverted: number;
  inStage: number;
  /** Share that passes on, once all is decided. */
  yieldFraction?: number;
  yieldLow?: number;
  yieldHigh?: number;
  /** Share of which the data do not yet say what becomes. */
  undecidedFraction?: number;
  method: "from lots" | "Wilson, lots taken as alike" | "too few to say";
}

export interface StageYields {
  stages: StageYield[];
  /** From square to finished shaft: the product of the stage yields. */
  rolledFraction?: number;
  rolledLow?: number;
  rolledHigh?: number;
  /** Share of squares of which the data do not yet say what becomes, at whatever stage; they are not in the rolled yield. */
  rolledUndecidedFraction?: number;
}

/**
 * Yield of every stage and of all together, fractions of 1, with pieces still at a stage taken for what they are: not decided.
 *
 *   stage yield = Aalen–Johansen cumulative incidence of "passed" on the stage's own clock, against discard by defect and diversion
 *   rolled yield = ∏ stage yields
 *
 * Finished ÷ started mixes different squares, finished so far ÷ bought counts every resting piece as lost, and passed ÷ decided
 * is too low when faults show before a rest is over: none of them is used.
 *
 * Interval: from how lots differ (`clusterShareInterval`); where fewer than four lots have reached the stage Wilson's for the yield as a
 * share of the decided pieces, which is too short when lots differ, and then none for the rolled yield. The upper limit leaves room for all
 * that is undecided to pass, so that early discards alone do not make a poor yield.
 * Source: Aalen & Johansen (1978), Scand. J. Statist. 5:141–150.
 * Checked: tests/reference/pipelineSixty.test.ts (R survival), tests/yield/stageYields.test.ts; coverage in the contributor's guide
 *
 * @param pieces those to look at, e.g. of one species
 * @param since look only at what happened from this day number on
 */
export function stageYields(
  histories: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[],
  options: {since?: number; level?: number} = {}
): StageYields {
  return countedYields(histories, spellCounts(pieces), options);
}

/** The same from counts of squares: the yields depend on a book by these alone. */
export function countedYields(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  counts: readonly SpellCount[] | LotCounts,
  {since, level = 0.95}: {since?: number; level?: number} = {}
): StageYields {
  const lots = lotCounts(counts, asOf);
  const names = settings.stages.slice(0, -1).map(({name}) => name);
  const stages = names.map((stage) => stageYield(stage, lots.withSpellsAt([stage], {since}).at(stage, {since}), level));
  const seen = lots.withSpellsAt(names, {since});
  const way = names.map((stage) => seen.at(stage, {since}));
  const {passed: rolled, undecided} = chainedIncidence(way, "passed")();
  if (rolled === undefined) return {stages};
  const known = stages.every(({method}) => method === "from lots");
  const interval = known ? shareOfLots(way, alikeSquares(stages), level) : undefined;
  return {stages, rolledFraction: rolled, ...named("rolled", interval), rolledUndecidedFraction: undecided};
}

/**
 * The number of squares, followed to the end, that would tell as much of the product as these pieces do at their stages, were all lots alike:
 *
 *   n = (1 − Y)/Y ÷ Σ (1 − p_k)/(p_k n_k)        p = (passed + ½)/(decided + 1), Y = ∏ p
 *
 * From Var ln Y = Σ (1 − p)/(p n); the halves keep it finite where nothing failed. One stage gives its own decided pieces.
 */
function alikeSquares(stages: readonly StageYield[]): number {
  let [product, variance] = [1, 0];
  for (const {passed, entered, inStage} of stages) {
    const decided = entered - inStage;
    const share = (passed + 0.5) / (decided + 1);
    product *= share;
    variance += (1 - share) / (share * decided);
  }
  return (1 - product) / product / variance;
}

function stageYield(stage: string, lots: ClusterTable, level: number): StageYield {
  const ended = endedByCause(lots);
  const [passed, diverted] = [ended.get("passed") ?? 0, ended.get("diverted") ?? 0];
  const [entered, decided] = [sum(lots.pieces), sum([...ended.values()])];
  const inStage = entered - decided;
  const counts = {stage, lots: lots.pieces.length, entered, passed, discarded: decided - passed - diverted};
  if (decided === 0) return {...counts, diverted, inStage, method: "too few to say"};
  const {passed: share = 0, undecided} = chainedIncidence([lots], "passed")();
  const yieldFraction = Math.min(1, share); // the sum can come to 1 + 2e-16
  const fromLots = shareOfLots([lots], decided, level);
  const {low, high} = wilson(Math.round(yieldFraction * decided), decided, {level})!;
  return {
    ...counts,
    diverted,
    inStage,
    yieldFraction,
    undecidedFraction: undecided,
    ...named("yield", fromLots ?? {low, high: Math.min(1, Math.max(high, yieldFraction + undecided))}),
    method: fromLots ? "from lots" : "Wilson, lots taken as alike"
  };
}

/** From what passes all stages if all that is undecided fails to what passes if none of it does, each with its scatter over lots. */
function shareOfLots(stages: readonly ClusterTable[], pieces: number, level: number): Interval | undefined {
  const chain = chainedIncidence(stages, "passed");
  const [least, most] = clusterJackknife(stages[0]?.pieces.length ?? 0, (weights, out) => {
    const {passed, passedAtMost} = chain(weights, out);
    return [passed, passedAtMost];
  });
  return (
    least &&
    most && {
      low: clusterShareInterval(least, pieces, {level}).low,
      high: clusterShareInterval(most, pieces, {level}).high
    }
  );
}

/** An interval as two fields of a flat row. */
function named(name: string, interval: Interval | undefined): Record<string, number> {
  return interval ? {[`${name}Low`]: interval.low, [`${name}High`]: interval.high} : {};
}
