import type {StageYield, StageYields} from "./stageYields.ts";

/** Where of more than this share nothing is decided yet, a yield tells how long squares rest, not how many pass; common practice, no source. */
const mostUndecided = 0.1;

/**
 * The yields that may be told: without those of which it is too early to speak, as of more than a tenth it is not decided yet. What has passed so far
 * is then no yield, and its interval from that to everything says nothing.
 *
 * Checked: tests/yield/yieldsToTell.test.ts
 */
export function yieldsToTell(yields: StageYields): StageYields {
  const {rolledFraction: _, rolledLow: __, rolledHigh: ___, ...untold} = yields;
  const stages = yields.stages.map(stageToTell);
  const isEarly =
    (yields.rolledUndecidedFraction ?? 0) > mostUndecided || stages.some((row) => row.yieldFraction === undefined);
  return isEarly ? {...untold, stages} : {...yields, stages};
}

function stageToTell(row: StageYield): StageYield {
  if ((row.undecidedFraction ?? 0) <= mostUndecided) return row;
  const {yieldFraction: _, yieldLow: __, yieldHigh: ___, ...untold} = row;
  return {...untold, method: "too few to say"};
}
