import {betaMoments} from "../stats/betaMoments.ts";
import {lowestUsableCost, type Need} from "./outcomes.ts";

/** Inputs of a plan made larger or smaller: factors, 1 for as it is. */
export interface NeedChange {
  demand?: number;
  /** Of pieces on their way and of new squares. */
  usable?: number;
  squareCost?: number;
  shaftPrice?: number;
  shortageCost?: number;
  leftoverValue?: number;
}

/**
 * A need with some of its inputs larger or smaller. Demand: the orders to come, not those that are there. A usable share goes up to 0.999; its
 * precision stays, and the doubt about its supplier the same part of its variance.
 *
 * Checked: tests/buying/changedNeed.test.ts
 */
export function changedNeed(
  need: Need,
  {demand = 1, usable = 1, squareCost = 1, shaftPrice = 1, shortageCost = 1, leftoverValue = 1}: NeedChange
): Need {
  const {price, ...money} = need.money;
  return {
    ...need,
    demand: {...need.demand, mean: need.demand.mean * demand},
    pipeline: need.pipeline.map((pieces) => scaled(pieces, usable)),
    offers: need.offers.map((offer) => ({
      ...scaled(offer, usable),
      unitCost: offer.unitCost * squareCost,
      ...(offer.priceBreaks && {
        priceBreaks: offer.priceBreaks.map(({from, unitCost}) => ({from, unitCost: unitCost * squareCost}))
      })
    })),
    money: {
      price: price * shaftPrice,
      shortageCost: money.shortageCost * shortageCost,
      leftoverValue: money.leftoverValue * leftoverValue
    }
  };
}

/** Whether a plan can be made: a leftover must be worth less than a usable square costs. */
export function isSensible({offers, money}: Need): boolean {
  return offers.every((offer) => money.leftoverValue < lowestUsableCost(offer));
}

function scaled<T extends {alpha: number; beta: number; doubt?: number}>(piece: T, factor: number): T {
  if (factor === 1) return piece;
  const m = piece.alpha + piece.beta;
  const share = Math.min(0.999, (piece.alpha / m) * factor);
  const changed = {alpha: share * m, beta: (1 - share) * m};
  const ratio = betaMoments(changed).variance / betaMoments(piece).variance;
  return {...piece, ...changed, ...(piece.doubt !== undefined && {doubt: piece.doubt * ratio})};
}
