import {check} from "../check.ts";
import {firstAfter} from "./eventTable.ts";
import {distinct, greatest, least} from "./numbers.ts";

/** The way of one piece through the states. */
export interface Path {
  /** In order of time; the first is the entry into observation, the following are moves to a later state. */
  moves: readonly {state: string; at: number}[];
  /** Last time seen; for a piece in a state that nobody leaves it does not matter. */
  until: number;
}

export interface StateOccupation {
  times: number[];
  /** Share of the pieces in each state at each of the times, fractions of 1 that add up to 1. */
  occupation: Record<string, number[]>;
}

/** One piece in one state: at risk of moving on at t when from < t ≤ to. */
interface Stay {
  state: number;
  from: number;
  to: number;
  next: number | undefined;
}

/**
 * Share of pieces in each state as time goes on, as fractions of 1 (Aalen–Johansen state occupation), with pieces
 * still on their way right-censored.
 *
 *   P(t) = P(t₀) ∏ (I + dA(u))    dA_jk(u) = dN_jk(u) / Y_j(u)        over move times u ≤ t
 *   dN_jk pieces that move from j to k at u, Y_j pieces seen in j just before u
 *   t₀ the earliest entry, P(t₀) the shares of those that enter then
 *
 * Two moves at one time count as one, straight to the last state: no time was spent between. A state that nobody
 * leaves needs no mark. Shares over time hold without a Markov assumption as long as all enter at t₀.
 *
 * Source: Aalen and Johansen (1978), Scand. J. Statist. 5:141–150; Datta and Satten (2001), Statist. Probab. Lett.
 * 55:403–411, for the last remark (from memory).
 * Checked: tests/reference/stateOccupation.test.ts, against R's multi-state survfit;
 * tests/stats/stateOccupation.test.ts
 *
 * @param states every state, a piece moving only to later ones
 * @param at the times wanted, in any order; without it t₀ and every move time
 * @returns no times without paths
 * @throws RangeError on an unknown state, a move back in states or time, and times outside what was observed
 */
export function stateOccupation(
  paths: readonly Path[],
  {states, at}: {states: readonly string[]; at?: readonly number[]}
): StateOccupation {
  if (paths.length === 0) return {times: [], occupation: Object.fromEntries(states.map((state) => [state, []]))};
  const stays = paths.map((path) => pathStays(path, states));
  const start = least(stays.map((own) => own[0]!.from));
  const last = greatest([...paths.map((path) => path.until), ...stays.map((own) => own.at(-1)!.from)]);
  const all = stays.flat();
  const moving = all.filter((stay) => stay.next !== undefined);
  const moveTimes = distinct(moving.map((stay) => stay.to));
  const steps = product(startShares(stays, start, states.length), all, moving, moveTimes);
  const times = at ? [...at] : distinct([start, ...moveTimes]);
  for (const time of times) {
    check(time >= start && time <= last, "stateOccupation: at", `observed, from ${start} to ${last}`, time);
  }
  const rows = times.map((time) => steps[firstAfter(moveTimes, time)]!);
  return {times, occupation: Object.fromEntries(states.map((state, j) => [state, rows.map((row) => row[j]!)]))};
}

/** P after none, one, two, … of the move times. */
function product(first: number[], all: readonly Stay[], moving: readonly Stay[], moveTimes: readonly number[]) {
  const change = moveTimes.map(() => new Map<number, number>());
  const add = (index: number, state: number, by: number) => {
    const row = change[index];
    row?.set(state, (row.get(state) ?? 0) + by);
  };
  for (const stay of all) {
    add(firstAfter(moveTimes, stay.from), stay.state, 1);
    add(firstAfter(moveTimes, stay.to), stay.state, -1);
  }
  const moves = moveTimes.map((): Stay[] => []);
  for (const stay of moving) moves[firstAfter(moveTimes, stay.to) - 1]!.push(stay);
  const atRisk = first.map(() => 0);
  const steps = [first];
  moves.forEach((now, row) => {
    for (const [state, by] of change[row]!) atRisk[state]! += by;
    const before = steps[row]!;
    const leaving = first.map(() => 0);
    for (const {state} of now) leaving[state]!++;
    // Written so that a state all leave comes out at exactly 0.
    const after = before.map((share, j) => (leaving[j] ? share * ((atRisk[j]! - leaving[j]!) / atRisk[j]!) : share));
    for (const {state, next} of now) after[next!]! += before[state]! / atRisk[state]!;
    steps.push(after);
  });
  return steps;
}

function startShares(stays: readonly Stay[][], start: number, states: number): number[] {
  const entered = stays.map((own) => own[0]!).filter((stay) => stay.from === start);
  const shares = new Array<number>(states).fill(0);
  for (const {state} of entered) shares[state]! += 1 / entered.length;
  return shares;
}

/** The stays of a path, each with the next one of some length. */
function pathStays({moves, until}: Path, states: readonly string[]): Stay[] {
  checkPath({moves, until}, states);
  const kept = moves.filter((move, i) => moves[i + 1]?.at !== move.at);
  return kept.map(({state, at}, i): Stay => {
    const next = kept[i + 1];
    return {state: states.indexOf(state), from: at, to: next?.at ?? until, next: next && states.indexOf(next.state)};
  });
}

function checkPath({moves, until}: Path, states: readonly string[]): void {
  check(moves.length > 0, "stateOccupation: moves", "at least the entry", moves.length);
  moves.forEach(({state, at}, i) => {
    const before = moves[i - 1];
    const index = states.indexOf(state);
    check(index >= 0, "stateOccupation: state", `one of ${states.join(", ")}`, state);
    check(Number.isFinite(at) && (!before || at >= before.at), "stateOccupation: at", "in order of time", at);
    check(!before || index > states.indexOf(before.state), "stateOccupation: state", "later each time", state);
  });
  const last = moves.at(-1)!.at;
  check(Number.isFinite(until) && until >= last, "stateOccupation: until", `${last} or later`, until);
}
