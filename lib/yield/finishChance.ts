import {dayNumber} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {LotCounts} from "../book/lotCounts.ts";
import type {Lot} from "../book/records.ts";
import {purchaseSpells, stageSpells} from "../book/spells.ts";
import {aalenJohansen, conditionalIncidence, incidenceAt} from "../stats/aalenJohansen.ts";
import {pooledEvents} from "../stats/clusterTable.ts";
import {type EventTable, eventTable} from "../stats/eventTable.ts";

/**
 * The chance that a piece becomes a finished shaft, fraction of 1, from what has become of pieces like it: 1 for a finished one, 0 for
 * one that is out; for a piece in stock
 *
 *   [F(∞) − F(a)] / S(a) · ∏ later stage yields
 *
 * with F the cumulative incidence of passing its stage, S the share not yet decided there and a the days it has been there.
 *
 * With `withinDays` it must also be finished so soon: the share above times [G(b + d) − G(b)] / [G(∞) − G(b)], G the cumulative incidence
 * of finishing since purchase and b the piece's age.
 *
 * Checked: tests/yield/finishChance.test.ts; the conditional share against R in tests/reference (aj.conditional-finish)
 *
 * @param pieces those that stand as examples, e.g. all of the species
 * @returns a function of a piece; undefined while no example has left a stage that the piece still has before it
 */
export function finishChance(
  histories: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[],
  {withinDays}: {withinDays?: number} = {}
): FinishChance {
  return finishChances(histories, pieces)(withinDays);
}

/** The same within any number of days: the curves are worked out once. */
export function finishChances(histories: Pick<Histories, "settings" | "asOf">, pieces: readonly Piece[]): ChanceWithin {
  const {asOf} = histories;
  const at = (stage: string) => eventTable(stageSpells(pieces, stage, asOf));
  return chancesFrom(histories, at, eventTable(purchaseSpells(pieces, asOf)));
}

/** The same from counts of squares: the chances depend on a book by these alone. */
export function countedFinishChances(
  histories: Pick<Histories, "settings" | "asOf">,
  counts: LotCounts,
  lots: readonly Lot[]
): ChanceWithin {
  const bought = new Map(lots.map(({lot, boughtOn}) => [lot, dayNumber(boughtOn)]));
  const last = histories.settings.stages.at(-1)!.name;
  const purchases = counts.purchases((lot) => bought.get(counts.lots[lot]!)!, {last});
  return chancesFrom(histories, (stage) => pooledEvents(counts.at(stage)), pooledEvents(purchases));
}

/** The chance of a piece, by what has become of it so far. */
export type FinishChance = (piece: Pick<Piece, "fate" | "stays" | "boughtOn">) => number | undefined;

/** The chance to be finished within so many days; at any time unless given. */
export type ChanceWithin = (withinDays?: number) => FinishChance;

function chancesFrom(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  tableAt: (stage: string) => EventTable,
  purchases: EventTable
): ChanceWithin {
  const names = settings.stages.map(({name}) => name);
  const curves = names.slice(0, -1).map((name) => aalenJohansen(tableAt(name)));
  const yields = curves.map((curve) =>
    curve.times.length === 0 ? undefined : (curve.incidence.passed?.fraction.at(-1) ?? 0)
  );
  const finishing = aalenJohansen(purchases);
  const inTime = (age: number, withinDays: number) => {
    const rest = incidenceAt(finishing, "finished", Number.MAX_VALUE) - incidenceAt(finishing, "finished", age);
    const soon = incidenceAt(finishing, "finished", age + withinDays) - incidenceAt(finishing, "finished", age);
    return withinDays === Number.POSITIVE_INFINITY ? 1 : rest > 0 ? soon / rest : 1;
  };
  return (withinDays = Number.POSITIVE_INFINITY) =>
    (piece) => {
      if (piece.fate === "finished") return 1;
      if (piece.fate !== "in stock") return 0;
      const stay = piece.stays.at(-1)!;
      const stage = names.indexOf(stay.stage);
      const curve = curves[stage]!;
      if (curve.times.length === 0) return undefined;
      // A piece older at its stage than any that was decided: take it as one that has just come, for want of anything better.
      const age = asOf - stay.from;
      const older = age >= curve.times.at(-1)!;
      const here = older ? yields[stage] : conditionalIncidence(curve, "passed", age, Number.MAX_VALUE);
      const factors = [here, ...yields.slice(stage + 1), inTime(asOf - piece.boughtOn, withinDays)];
      const chance = factors.reduce<number | undefined>(
        (a, b) => (a === undefined || b === undefined ? undefined : a * b),
        1
      );
      return chance === undefined ? undefined : Math.min(1, Math.max(0, chance)); // sums of steps may pass 1 by 1e-16
    };
}
