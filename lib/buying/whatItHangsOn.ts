import {betaMoments} from "../stats/betaMoments.ts";
import type {PlanInput, PlanRow} from "./purchasePlan.ts";
import {bestPurchase, purchaseOutcome} from "./purchasePlan.ts";

/** What the answer becomes when one input is a tenth off. */
export interface Influence {
  input: string;
  /** "a tenth less" or "a tenth more". */
  change: string;
  squares: number;
  /** Squares more (or fewer) than the plan. */
  difference: number;
  profit: number;
  /** Profit missed when the plan's number is bought though the input is a tenth off. */
  regret: number;
}

/**
 * The best number of squares again with usable share, demand, shaft price, square cost, shortage cost and leftover value each a tenth less and a
 * tenth more, and what sticking to the plan's purchase would then miss.
 *
 * A change that would make a leftover worth more than a usable square costs has no best number and is left out.
 * Checked: tests/buying/whatItHangsOn.test.ts
 *
 * @param plan the best row of `purchasePlan(input)`
 */
export function whatItHangsOn(input: PlanInput, plan: PlanRow): Influence[] {
  const scaleUsable = <T extends {alpha: number; beta: number; doubt?: number}>(pieces: readonly T[], f: number): T[] =>
    pieces.map((piece) => {
      const m = piece.alpha + piece.beta;
      const share = Math.min(0.999, (piece.alpha / m) * f);
      const changed = {alpha: share * m, beta: (1 - share) * m};
      // The doubt stays the same part of the variance.
      const ratio = betaMoments(changed).variance / betaMoments(piece).variance;
      return {...piece, ...changed, ...(piece.doubt !== undefined && {doubt: piece.doubt * ratio})};
    });
  const money = (key: keyof PlanInput["money"]) => (f: number) => ({
    ...input,
    money: {...input.money, [key]: input.money[key] * f}
  });
  const changes: [string, (f: number) => PlanInput][] = [
    ["demand", (f) => ({...input, demand: {...input.demand, mean: input.demand.mean * f}})],
    [
      "usable share",
      (f) => ({...input, offers: scaleUsable(input.offers, f), pipeline: scaleUsable(input.pipeline, f)})
    ],
    ["price of a shaft", money("price")],
    [
      "cost of a square",
      (f) => ({...input, offers: input.offers.map((offer) => ({...offer, unitCost: offer.unitCost * f}))})
    ],
    ["cost of a shortage", money("shortageCost")],
    ["value of a leftover", money("leftoverValue")]
  ];
  return changes.flatMap(([name, change]) =>
    [0.9, 1.1].flatMap((f) => {
      const changed = change(f);
      const {leftoverValue} = changed.money;
      if (changed.offers.some(({alpha, beta, unitCost}) => leftoverValue >= (unitCost * (alpha + beta)) / alpha))
        return [];
      const best = bestPurchase(changed);
      const kept = purchaseOutcome(changed, plan);
      return {
        input: name,
        change: f < 1 ? "a tenth less" : "a tenth more",
        squares: best.squares,
        difference: best.squares - plan.squares,
        profit: best.profit,
        regret: Math.max(0, best.profit - kept.profit)
      };
    })
  );
}
