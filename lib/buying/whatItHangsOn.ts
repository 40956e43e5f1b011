import {changedNeed, isSensible, type NeedChange} from "./changedNeed.ts";
import {type Need, splitOf} from "./outcomes.ts";
import {type Purchase, planner, type SeasonInput} from "./seasonPlan.ts";

/** What the answer becomes when one input is a tenth off. */
export interface Influence {
  input: string;
  /** "a tenth less" or "a tenth more". */
  change: string;
  squares: number;
  /** Squares more (or fewer) than the plan. */
  difference: number;
  profit: number;
  /** Profit missed when the plan's number is bought though the input is a tenth off; undefined where the budget then forbids it. */
  regret?: number;
}

/** One species' need with what binds its purchase: carriage, and the money and the trips that the other species leave. */
export type OneNeed = Omit<SeasonInput, "needs"> & {need: Need};

/**
 * The best number of squares again with demand, usable share, shaft price, square cost, shortage cost and leftover value each a tenth less and a
 * tenth more, and what sticking to the plan's purchase would then miss.
 *
 * A change that would make a leftover worth more than a usable square costs has no best number and is left out.
 * Checked: tests/buying/whatItHangsOn.test.ts
 *
 * @param bought what the plan buys
 */
export function whatItHangsOn(input: OneNeed, bought: Pick<Purchase, "orders">): Influence[] {
  const inputs: [string, keyof NeedChange][] = [
    ["demand", "demand"],
    ["usable share", "usable"],
    ["price of a shaft", "shaftPrice"],
    ["cost of a square", "squareCost"],
    ["cost of a shortage", "shortageCost"],
    ["value of a leftover", "leftoverValue"]
  ];
  return inputs.flatMap(([name, key]) =>
    [0.9, 1.1].flatMap((f) => {
      const row = planAgain(input, bought, {[key]: f});
      return row ? [{input: name, change: f < 1 ? "a tenth less" : "a tenth more", ...row}] : [];
    })
  );
}

/** What a plan becomes when its inputs are changed, and what sticking to the purchase would then miss; undefined when there is no best number. */
export function planAgain(
  {need, ...limits}: OneNeed,
  {orders}: Pick<Purchase, "orders">,
  change: NeedChange
): Omit<Influence, "input" | "change"> | undefined {
  const changed = changedNeed(need, change);
  if (!isSensible(changed)) return undefined;
  const made = planner({needs: [changed], ...limits}, [need]);
  const best = made.plan();
  const split = splitOf(changed.offers, orders);
  const kept = made.purchase(0, split);
  const {tripCost, isAllowed} = made.beside(0, best)(split);
  const {squares} = best.purchases[0]!;
  const row = {squares, difference: squares - kept.squares, profit: best.profit};
  return isAllowed ? {...row, regret: Math.max(0, best.profit - (kept.profit - tripCost))} : row;
}
