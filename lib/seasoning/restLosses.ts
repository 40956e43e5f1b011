import type {Histories, Piece} from "../book/histories.ts";
import {byLotSpells, piecesIn, type SpellCount, spellCounts} from "../book/spellCounts.ts";
import {defectOf} from "../book/spells.ts";
import {clusterShareInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import type {Spell} from "../stats/eventTable.ts";
import {sum} from "../stats/numbers.ts";
import {weightedIncidence} from "../stats/weightedIncidence.ts";

/** Of 100 pieces that reach a stage, how many are lost there to one defect, and when. */
export interface RestLoss {
  stage: string;
  /** A defect, or "all". */
  defect: string;
  /** Where its cause lies, or "all". */
  group: string;
  pieces: number;
  lots: number;
  /** Thrown out before the least rest was over: seen while resting. */
  resting: number;
  restingPer100: number;
  restingLow?: number;
  restingHigh?: number;
  /** Thrown out later: when the piece was taken up. */
  takenUp: number;
  takenUpPer100: number;
  takenUpLow?: number;
  takenUpHigh?: number;
}

const early = "\u0000early";

/**
 * Pieces lost at each stage by defect and group, per 100 that reach it: apart those thrown out before the least rest was over, and after. Aalen–Johansen
 * incidence on the stage's own clock; pieces still there are censored, so that they count for as long as they were seen. A row for each defect that
 * occurred there, for each group and for all, groups in the order of the settings.
 *
 * Interval: from how lots differ (`clusterShareInterval`), as far as pieces were followed; none with fewer than four lots.
 * The trap: a fault is dated by the day on which it was seen. That it was seen when the piece was taken up does not say that it was not there before.
 * Source: as `aalenJohansen`. Checked: tests/seasoning/restLosses.test.ts
 */
export function restLosses(histories: Pick<Histories, "settings" | "asOf">, pieces: readonly Piece[]): RestLoss[] {
  return countedRestLosses(histories, spellCounts(pieces));
}

/** The same from counts of squares: the losses depend on a book by these alone. */
export function countedRestLosses(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  counts: readonly SpellCount[]
): RestLoss[] {
  const ofLots = byLotSpells(counts, asOf);
  const groups = [...new Set(settings.defects.map(({group}) => group))];
  return settings.stages.slice(0, -1).flatMap(({name: stage, restDays}) => {
    const lots = ofLots
      .map((lot) => lot.spells(stage).map((spell) => dated(spell, restDays)))
      .filter((spells) => spells.length > 0);
    const all = lots.flat();
    if (all.length === 0) return [];
    const incidence = weightedIncidence(lots);
    const decided = piecesIn(all, (cause) => cause !== undefined);
    const row = (defect: string, group: string, of: readonly string[]): RestLoss => {
      const isOf = (cause: string, isEarly: boolean) =>
        cause.endsWith(early) === isEarly && of.includes(defectOf(cause.replace(early, "")) ?? "");
      const shares = (weights: readonly number[], out?: readonly number[]) => {
        const {fraction} = incidence(weights, out);
        const share = (isEarly: boolean) =>
          sum(Object.entries(fraction).map(([cause, part]) => (isOf(cause, isEarly) ? part : 0)));
        return [share(true), share(false)];
      };
      const [resting, takenUp] = shares(lots.map(() => 1));
      const estimates = clusterJackknife(lots.length, shares);
      const count = (isEarly: boolean) => piecesIn(all, (cause) => cause !== undefined && isOf(cause, isEarly));
      const limits = (name: string, index: number) => {
        const estimate = estimates[index];
        if (!estimate || decided === 0) return {};
        const {low, high} = clusterShareInterval(estimate, decided);
        return {[`${name}Low`]: 100 * low, [`${name}High`]: 100 * high};
      };
      return {
        stage,
        defect,
        group,
        pieces: piecesIn(all),
        lots: lots.length,
        resting: count(true),
        restingPer100: 100 * resting!,
        ...limits("resting", 0),
        takenUp: count(false),
        takenUpPer100: 100 * takenUp!,
        ...limits("takenUp", 1)
      };
    };
    const names = settings.defects.map(({name}) => name);
    return [
      row("all", "all", names),
      ...groups.flatMap((group) => {
        const own = settings.defects.filter((one) => one.group === group).map(({name}) => name);
        const seen = own.filter((name) =>
          all.some(({cause}) => cause !== undefined && defectOf(cause.replace(early, "")) === name)
        );
        return [row("all", group, own), ...seen.map((name) => row(name, group, [name]))];
      })
    ];
  });
}

/** A discard before the least rest was over has a cause of its own. */
function dated(spell: Spell, restDays: number): Spell {
  const {cause, exit} = spell;
  return cause !== undefined && defectOf(cause) !== undefined && exit < restDays
    ? {...spell, cause: `${cause}${early}`}
    : spell;
}
