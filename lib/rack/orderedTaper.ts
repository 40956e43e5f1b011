import type {Order} from "../book/records.ts";
import type {Settings} from "../book/settings.ts";
import {type Taper, taperDiameter} from "../wood/taper.ts";

/** The taper that an order makes of a shaft, or the nearest that can be made of it. */
export interface OrderedTaper extends Taper {
  /** Whether anything has to be taken off the shaft. */
  cut: boolean;
  /** Whether the shaft is long enough, and thick enough where the tip will be. */
  lengthFits: boolean;
  tipFits: boolean;
  /** The shaft's own length, and its diameter where the tip will be. */
  shaftMm: number;
  thereMm: number;
}

/** Sizes this near are alike, mm: rounding of numbers, not of tools. */
const alikeMm = 1e-6;

/**
 * What a shaft becomes when it is cut to an order. A shaft is cut down, never grown: the large end is kept as it is, what it is too long is
 * taken off the small end, and what is left is turned to a straight taper down to the ordered tip.
 *
 *   fits when    L ≥ ordered length + splice margin    and    D − (D − d) · ordered length/L ≥ ordered tip + tip margin
 *
 * A shaft of smaller tip than ordered can fit when it is long enough: cut back from the small end the tip grows thicker. (Cut at the large end
 * instead the butt would grow thinner, which no order has a word for, so it is not done.) A straight line that ends no thicker than the shaft
 * lies within it all along, so nothing else need be asked. Where an order names no length or no tip, the shaft keeps its own.
 *
 * Where it does not fit, the taper is the nearest that can be made: as long as the shaft, or with the tip it has there.
 * Source: common practice, no source. Checked: tests/rack/orderedTaper.test.ts, by hand, and point by point along the shaft
 *
 * @throws RangeError unless the shaft is a taper
 */
export function orderedTaper(
  shaft: Taper,
  {lengthMm: wantedMm, tipMm}: Pick<Order, "lengthMm" | "tipMm">,
  {spliceMarginMm, tipMarginMm}: Pick<Settings["rack"], "spliceMarginMm" | "tipMarginMm">
): OrderedTaper {
  const lengthMm = Math.min(wantedMm ?? shaft.lengthMm, shaft.lengthMm);
  const thereMm = taperDiameter(shaft, lengthMm);
  const smallMm = Math.min(tipMm ?? thereMm, thereMm);
  return {
    largeMm: shaft.largeMm,
    smallMm,
    lengthMm,
    shaftMm: shaft.lengthMm,
    thereMm,
    cut: shaft.lengthMm - lengthMm > alikeMm || thereMm - smallMm > alikeMm,
    lengthFits: wantedMm === undefined || shaft.lengthMm >= wantedMm + spliceMarginMm - alikeMm,
    tipFits: tipMm === undefined || thereMm >= tipMm + tipMarginMm - alikeMm
  };
}
