import type {Histories} from "../book/histories.ts";
import type {Lot} from "../book/records.ts";
import {LotCounts, type SpellCount, spellCount, windowSide} from "../book/spellCounts.ts";
import {groupBy} from "../book/spells.ts";
import {chainedIncidence} from "../stats/chainedIncidence.ts";
import {clusterLogInterval} from "../stats/clusterInterval.ts";
import {type ClusterEstimate, clusterJackknife} from "../stats/clusterJackknife.ts";
import {sum} from "../stats/numbers.ts";

/** What a finished shaft of one supplier's timber costs in money spent on wood, in the book's currency. */
export interface ShaftCost {
  species: string;
  supplier: string;
  lots: number;
  /** Bought. */
  squares: number;
  /** Squares and carriage together, ÷ squares. */
  squareCost: number;
  /** Of that, carriage. */
  carriageEach: number;
  /** As `squareCost`, but of the last three lots: what a square is paid now. */
  latelySquareCost: number;
  /** Of that, carriage. */
  latelyCarriageEach: number;
  /** Share of the squares that become finished shafts; absent while some stage has decided nothing of this supplier's. */
  yieldFraction?: number;
  /** Share of the squares that the data leave undecided. */
  undecidedFraction: number;
  shaftCost?: number;
  shaftCostLow?: number;
  shaftCostHigh?: number;
  /** The same per shaft inside the density window. */
  inWindowFraction?: number;
  inWindowCost?: number;
  inWindowCostLow?: number;
  inWindowCostHigh?: number;
  /** Natural logarithm of `inWindowCost`, as it is known from the lots; absent with fewer than four. */
  inWindowLog?: ClusterEstimate;
  /** Natural logarithm of `inWindowFraction`, likewise: without the scatter of prices. */
  inWindowShareLog?: ClusterEstimate;
}

/**
 * Cost of a finished shaft by supplier and species, and of one inside the species' density window:
 *
 *   cost of a shaft = c / Y        c = (Σ squares bought · price + carriage) / Σ squares bought + work
 *   in the window   = c / (w · Y′)
 *
 * Y the supplier's own rolled yield (`stageYields`), w the share of its squares inside the window, Y′ the rolled yield of those; work
 * is what the workshop spends on a square, whatever becomes of it, none unless given. Squares bought but never listed are taken to do as those that are.
 * All lots count alike but in the costs of now, c of the last three lots (as in `supply`).
 *
 * Interval: from how lots differ, on the logarithm (`clusterLogInterval`), from the cost if all that is undecided passes to the cost if it
 * fails; none with fewer than four lots. Cheapest in the window first.
 * Checked: tests/yield/shaftCost.test.ts; coverage in the contributor's guide
 */
export function shaftCost(histories: Histories, options: {workEach?: number} = {}): ShaftCost[] {
  const counts = histories.pieces.flatMap((piece) => {
    const side = windowSide(piece.densityAt12KgM3, histories.settings.species[piece.species]!.windowKgM3);
    return piece.stays.map((stay) => ({...spellCount(piece, stay), side}));
  });
  return countedShaftCost(histories, counts, options);
}

/** The same from counts of squares and their lots: the costs depend on a book by these alone. */
export function countedShaftCost(
  histories: Pick<Histories, "settings" | "asOf"> & {lots: readonly Lot[]},
  counts: readonly SpellCount[],
  {workEach = 0} = {}
): ShaftCost[] {
  const {asOf} = histories;
  const names = histories.lots.map(({lot}) => lot);
  const whole = new LotCounts(counts, asOf, names);
  const within = new LotCounts(
    counts.filter(({side}) => side === "inside"),
    asOf,
    names
  );
  const first = histories.settings.stages[0]!.name;
  const groups = groupBy(histories.lots, ({species, supplier}) => JSON.stringify([species, supplier]));
  const rows = [...groups.values()].map((lots): ShaftCost => {
    const {species, supplier} = lots[0]!;
    const own = new Set(lots.map(({lot}) => lot));
    const [pieces, fitting] = [whole, within].map((counts) => counts.only((lot) => own.has(lot))) as [
      LotCounts,
      LotCounts
    ];
    const [all, inside] = [chain(histories, pieces), chain(histories, fitting)];
    // Every square listed begins at the first stage.
    const [listedEach, fittingEach] = [pieces.at(first).pieces, fitting.at(first).pieces];
    const cost = lots.map(({squaresBought, priceEach, carriage = 0}) => squaresBought * priceEach + carriage);
    const latest = lots
      .toSorted((a, b) => (a.boughtOn < b.boughtOn ? 1 : a.boughtOn > b.boughtOn ? -1 : 0))
      .slice(0, 3);
    const lately = {
      bought: sum(latest.map(({squaresBought}) => squaresBought)),
      carriage: sum(latest.map(({carriage = 0}) => carriage)),
      paid: sum(latest.map(({squaresBought, priceEach}) => squaresBought * priceEach))
    };
    const bought = lots.map(({squaresBought}) => squaresBought);
    const weighted = (values: readonly number[], weights: readonly number[]) =>
      sum(values.map((value, i) => value * weights[i]!));
    const figures = (weights: readonly number[], out?: readonly number[]) => {
      const squareCost = weighted(cost, weights) / weighted(bought, weights) + workEach;
      const fit = weighted(fittingEach, weights) / weighted(listedEach, weights);
      const [whole, part] = [all(weights, out), inside(weights, out)];
      return {
        squareCost,
        undecided: whole.undecided,
        least: {all: whole.passed, inside: times(fit, part.passed)},
        most: {all: whole.passedAtMost, inside: times(fit, part.passedAtMost)}
      };
    };
    const {squareCost, undecided, least} = figures(lots.map(() => 1));
    const [dear, cheap, dearInside, cheapInside, shareInside] = clusterJackknife(lots.length, (weights, out) => {
      const drawn = figures(weights, out);
      const costs = [drawn.least.all, drawn.most.all, drawn.least.inside, drawn.most.inside].map((share) =>
        share && drawn.squareCost > 0 ? Math.log(drawn.squareCost / share) : undefined
      );
      return [...costs, drawn.least.inside ? Math.log(drawn.least.inside) : undefined];
    });
    const limits = (name: string, least: typeof dear, most: typeof dear) =>
      least && most
        ? {[`${name}Low`]: clusterLogInterval([most]).low, [`${name}High`]: clusterLogInterval([least]).high}
        : {};
    return {
      species,
      supplier,
      lots: lots.length,
      squares: sum(bought),
      squareCost,
      carriageEach: sum(lots.map(({carriage = 0}) => carriage)) / sum(bought),
      latelySquareCost: (lately.paid + lately.carriage) / lately.bought + workEach,
      latelyCarriageEach: lately.carriage / lately.bought,
      undecidedFraction: undecided,
      ...(least.all !== undefined && {yieldFraction: least.all}),
      ...(least.all && {shaftCost: squareCost / least.all, ...limits("shaftCost", dear, cheap)}),
      ...(least.inside !== undefined && {inWindowFraction: least.inside}),
      ...(least.inside && {
        inWindowCost: squareCost / least.inside,
        ...limits("inWindowCost", dearInside, cheapInside),
        ...(dearInside && shareInside && {inWindowLog: dearInside, inWindowShareLog: shareInside})
      })
    };
  });
  return rows.sort(
    (a, b) => a.species.localeCompare(b.species, "en") || (a.inWindowCost ?? Infinity) - (b.inWindowCost ?? Infinity)
  );
}

/** What becomes of the pieces of these lots, stage by stage. */
function chain({settings}: Pick<Histories, "settings">, lots: LotCounts) {
  const names = settings.stages.slice(0, -1).map(({name}) => name);
  return chainedIncidence(
    names.map((name) => lots.at(name)),
    "passed"
  );
}

function times(a: number, b: number | undefined): number | undefined {
  return b === undefined ? undefined : a * b;
}
