import type {Histories, Piece} from "../book/histories.ts";
import {type LotCounts, lotCounts, type SpellCount, spellCounts} from "../book/spellCounts.ts";
import {discardCause} from "../book/spells.ts";
import {clusterShareInterval} from "../stats/clusterInterval.ts";
import {clusterJackknife} from "../stats/clusterJackknife.ts";
import {type ClusterTable, endedByCause} from "../stats/clusterTable.ts";
import {sum} from "../stats/numbers.ts";

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
  counts: readonly SpellCount[] | LotCounts
): RestLoss[] {
  const ofLots = lotCounts(counts, asOf);
  const groups = [...new Set(settings.defects.map(({group}) => group))];
  return settings.stages.slice(0, -1).flatMap(({name: stage, restDays}) => {
    const table = ofLots.withSpellsAt([stage]).at(stage);
    const pieces = sum(table.pieces);
    if (pieces === 0) return [];
    const ended = endedByCause(table);
    const decided = sum([...ended.values()]);
    const asked = [
      {defect: "all", group: "all", of: settings.defects.map(({name}) => discardCause(name))},
      ...groups.flatMap((group) => {
        const own = settings.defects.filter((one) => one.group === group).map(({name}) => name);
        const seen = own.filter((name) => ended.has(discardCause(name)));
        return [
          {defect: "all", group, of: own.map(discardCause)},
          ...seen.map((name) => ({defect: name, group, of: [discardCause(name)]}))
        ];
      })
    ];
    const parts = partsOf(table, restDays);
    const sharesOf = ({early, late}: ReturnType<typeof parts>) =>
      asked.flatMap(({of}) => [early, late].map((shares) => sum(of.map((cause) => shares.get(cause) ?? 0))));
    const shares = sharesOf(parts());
    const estimates = clusterJackknife(table.pieces.length, (_, out) => sharesOf(parts(out)));
    const {early, late} = countsOf(table, restDays);
    return asked.map(({defect, group, of}, index): RestLoss => {
      const total = (counts: ReadonlyMap<string, number>) => sum(of.map((cause) => counts.get(cause) ?? 0));
      const limits = (name: string, place: number) => {
        const estimate = estimates[place];
        if (!estimate || decided === 0) return {};
        const {low, high} = clusterShareInterval(estimate, decided);
        return {[`${name}Low`]: 100 * low, [`${name}High`]: 100 * high};
      };
      return {
        stage,
        defect,
        group,
        pieces,
        lots: table.pieces.length,
        resting: total(early),
        restingPer100: 100 * shares[2 * index]!,
        ...limits("resting", 2 * index),
        takenUp: total(late),
        takenUpPer100: 100 * shares[2 * index + 1]!,
        ...limits("takenUp", 2 * index + 1)
      };
    });
  });
}

/** By cause, what ended before the least rest was over and what ended after it. */
interface Parts {
  early: Map<string, number>;
  late: Map<string, number>;
}

/** Returns a function that gives the final incidence of each cause in the two parts, some lots left out if asked; fractions of 1. */
function partsOf(table: ClusterTable, restDays: number): (out?: readonly number[]) => Parts {
  const {times, causes} = table;
  return (out) => {
    const {change, events, ended} = table.sums(undefined, out);
    const parts: Parts = {early: new Map(), late: new Map()};
    let [survival, atRisk] = [1, 0];
    times.forEach((time, row) => {
      atRisk += change[row]!;
      if (ended[row] === 0) return;
      const part = time < restDays ? parts.early : parts.late;
      causes.forEach((cause, k) => {
        const count = events[row * causes.length + k]!;
        if (count > 0) part.set(cause, (part.get(cause) ?? 0) + (survival * count) / atRisk);
      });
      survival *= Math.max(0, 1 - ended[row]! / atRisk);
    });
    return parts;
  };
}

/** Pieces that ended by each cause in the two parts. */
function countsOf(table: ClusterTable, restDays: number): Parts {
  const {times, causes} = table;
  const {events} = table.sums();
  const parts: Parts = {early: new Map(), late: new Map()};
  times.forEach((time, row) => {
    const part = time < restDays ? parts.early : parts.late;
    causes.forEach((cause, k) => {
      part.set(cause, (part.get(cause) ?? 0) + events[row * causes.length + k]!);
    });
  });
  return parts;
}
