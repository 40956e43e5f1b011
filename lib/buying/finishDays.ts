import type {Histories, Piece} from "../book/histories.ts";
import {stageSpells} from "../book/spells.ts";
import {aalenJohansen} from "../stats/aalenJohansen.ts";
import {convolve} from "../stats/convolve.ts";
import {sum} from "../stats/numbers.ts";

/** When a piece will be a finished shaft, if it becomes one. */
export interface PieceFinish {
  /** The day number by which the share p of such pieces are finished. */
  quantile: (p: number) => number;
  /** The share of them finished by a day number, from 0 to 1. */
  shareBy: (day: number) => number;
}

/**
 * When each piece in stock will be a finished shaft, of those that become one: the days left at its stage, given the days it has been there, and
 * those at each later stage, added up as independent.
 *
 *   days left at stage k of age a      P(T = t | T > a, passes) = ΔFₖ(t)/(Fₖ(∞) − Fₖ(a))        F cumulative incidence of passing (Aalen–Johansen)
 *   days to the shaft                  that, convolved with ΔF/F(∞) of each later stage
 *
 * A piece older at its stage than any that passed is taken as one that has just come, as in `finishChance`.
 *
 * The trap: pieces of one lot are taken up together, so the times of several pieces hang together; and a workshop that is busier than it was is slower than
 * this says.
 * Source: Aalen & Johansen (1978), Scand. J. Statist. 5:141–150 (from memory); the sum of independent times. Checked: tests/buying/finishDays.test.ts,
 * by hand; tests/recovery/rack.test.ts, against when pieces of the sample book came to be finished
 *
 * @param pieces those that stand as examples, e.g. all of the species
 * @returns a function of a piece; undefined of a piece that is not in stock, or while no example has passed a stage it still has before it
 */
export function finishDays(
  {settings, asOf}: Pick<Histories, "settings" | "asOf">,
  pieces: readonly Piece[]
): (piece: Piece) => PieceFinish | undefined {
  const names = settings.stages.map(({name}) => name);
  const days = names.slice(0, -1).map((name) => passingDays(pieces, name, asOf));
  /** Days from leaving each stage to the shaft. */
  const later = days.map((_, k) =>
    days.slice(k + 1).reduce<number[] | undefined>((all, one) => (all && one ? convolve(all, one) : undefined), [1])
  );
  const known = new Map<string, PieceFinish | undefined>();
  return (piece) => {
    if (piece.fate !== "in stock") return undefined;
    const {stage, from} = piece.stays.at(-1)!;
    const k = names.indexOf(stage);
    const age = asOf - from;
    const key = `${k} ${age}`;
    if (!known.has(key)) known.set(key, finishOf(days[k], later[k], {age, asOf}));
    return known.get(key);
  };
}

/** The share of the pieces that pass a stage which do so after 0, 1, 2 … days; undefined while none did. */
function passingDays(pieces: readonly Piece[], stage: string, asOf: number): number[] | undefined {
  const {times, incidence} = aalenJohansen(stageSpells(pieces, stage, asOf));
  const passed = incidence.passed?.fraction;
  if (!passed || passed.at(-1)! <= 0) return undefined;
  const shares = Array.from({length: times.at(-1)! + 1}, () => 0);
  for (const [i, time] of times.entries()) shares[time]! += (passed[i]! - (passed[i - 1] ?? 0)) / passed.at(-1)!;
  return shares;
}

function finishOf(
  here: readonly number[] | undefined,
  later: readonly number[] | undefined,
  {age, asOf}: {age: number; asOf: number}
): PieceFinish | undefined {
  if (!here || !later) return undefined;
  const left = here.slice(age + 1);
  const share = sum(left);
  // Entry i is the chance of so many days from today on.
  const today = share > slack ? [0, ...left.map((one) => one / share)] : here;
  let total = 0;
  const by = convolve(today, later).map((one) => (total += one));
  return {
    quantile: (p) => {
      const i = by.findIndex((one) => one >= p - slack);
      return asOf + (i < 0 ? by.length - 1 : i);
    },
    shareBy: (day) => (day < asOf ? 0 : Math.min(1, by[Math.min(day - asOf, by.length - 1)]!))
  };
}

/** Sums of shares reach a share given only but for rounding. */
const slack = 1e-9;
