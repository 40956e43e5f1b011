import type {OrderShafts} from "../../lib/rack/rankShafts.ts";
import type {ShaftFit, ShaftWish} from "../../lib/rack/shaftFit.ts";

/** Each shaft by how well it fits, or by the wishes that it does not meet. */
export type Shafts = Record<string, number | ShaftWish[]>;

/** An open order with its shafts, as `rankShafts` would give it. */
export function ranked(order: string, shafts: Shafts, more: {wantedBy?: string; lacking?: number} = {}): OrderShafts {
  const {lacking = 1, ...day} = more;
  return {
    order: {order, orderedOn: "2026-01-01", species: "ash", quantity: lacking, lacking, given: 0, row: 2, ...day},
    otherSpecies: 0,
    shafts: Object.entries(shafts).map(([square, how]): ShaftFit => {
      const common = {order, square, chance: 1, bend: "no test in the settings" as const};
      return typeof how === "number"
        ? {...common, state: "fits", fit: how, wishes: []}
        : {
            ...common,
            state: "does not fit",
            fit: 0,
            wishes: how.map((wish) => ({wish, state: "does not fit" as const}))
          };
    })
  };
}
