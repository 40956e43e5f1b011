import {keyFigures} from "../../lib/report/keyFigures.ts";
import {shown} from "../../lib/report/quantity.ts";
import {restLosses} from "../../lib/seasoning/restLosses.ts";
import {counted} from "../faultLines.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {type Beside, compose, type Report} from "./compose.ts";
import {howSure} from "./howSure.ts";
import {dryingMethods, dryingPart, moisturePart} from "./seasoning/drying.ts";
import {hurryMethods, hurryPart} from "./seasoning/hurry.ts";
import {longerMethods, longerPart} from "./seasoning/longer.ts";
import {lossesMethods, lossesPart} from "./seasoning/losses.ts";

/** The seasoning report: what a rest takes off, how long it needs, what is lost in it, whether hurry costs pieces and what a longer rest would. */
export function seasoningReport(read: BookAsOf, beside: Beside): Report {
  return compose("seasoning", read, beside, (composer) => {
    const {histories: now, book, asOf} = read;
    const firstDay = now.lots.map(({boughtOn}) => boughtOn).sort()[0] ?? asOf;
    const period = `${firstDay} to ${asOf}`;
    const drying = dryingPart(read, composer, period);
    // Figures are numbered as they are made, in the order of the sections.
    const parts = [
      moisturePart(read, drying.moisture, composer, period),
      drying.part(),
      lossesPart(restLosses(now, now.pieces), composer, period),
      hurryPart(now, composer, period),
      longerPart(now, composer, period)
    ];
    return {
      title: "Seasoning: what a rest does and costs",
      subtitle: `${book.settings.name} · squares bought ${period}`,
      // What there is to decide comes first; the index page shows the first of them.
      lead: [3, 4, 2, 1, 0].flatMap((k) => parts[k]!.points),
      summary: keyFigures(
        parts.flatMap(({key}) => key),
        {currency: composer.currency}
      ),
      sections: parts.map(({id, heading, body}) => ({id, heading, body})),
      method: [...dryingMethods, ...lossesMethods, ...hurryMethods, ...longerMethods, howSure],
      limits: [
        "Rests were not drawn by lot: who waits is decided by the work at hand, by the look of a lot, by the season. A difference after longer rests may come of that; only a trial tells.",
        "Drying faults are counted at the stage after the rest: pieces that fail during the extra days of a longer rest are in neither its saving nor its cost, and what shows later still, on the rack or in the customer’s hands, is not in the book.",
        "The saving of serving the least rest is that against all served rests, which mostly lasted longer than the least. A year is the last 365 days of the book, or what there is of them.",
        `Thrown out counts by the day on which it was written down. ${shown(now.pieces.length, "count")} squares in ${counted(new Set(now.pieces.map(({lot}) => lot)).size, "lot")} are followed; those still resting count for as long as they were seen.`,
        "Moisture is % of oven-dry mass; a point is one of these percents.",
        "Money is advice: what pieces have cost, interest and room are settings and book values, taxes are not in it. Decide yourself."
      ]
    };
  });
}
