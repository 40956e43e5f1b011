import type {Histories} from "../../../lib/book/histories.ts";
import {intervalDots} from "../../../lib/figures/intervalDots.ts";
import {html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import {type HurriedRests, hurriedRests} from "../../../lib/seasoning/hurriedRests.ts";
import {counted} from "../../faultLines.ts";
import type {Composer} from "../compose.ts";
import {extremes} from "../extremes.ts";
import type {Part} from "./part.ts";

const kinds = ["hurried", "rest served"] as const;

/** Whether pieces that were turned before their least rest was over warped more. */
export function hurryPart(now: Histories, {figure, table}: Composer, period: string): Part {
  const found = hurriedRests(now);
  const {rows, asked, finding} = found;
  const what = wordOf(asked.defects);
  const ratio = shown(asked.insideRatio, "number");
  const any = rows.some(({one}) => one.pieces > 0);
  const dots = rows.flatMap(({defects, one, other}) =>
    [one, other].map((side, i) => ({
      label: defects,
      series: kinds[i]!,
      value: side.per100,
      low: side.per100Low,
      high: side.per100High
    }))
  );
  const sentence = answer(found);
  return {
    id: "hurry",
    heading: !any
      ? "Hurry: no hurried piece came to another rest"
      : finding === "more"
        ? `Hurry: hurried pieces were thrown out for ${what} ${ratio} times as often`
        : finding === "fewer"
          ? `Hurry: hurried pieces were thrown out for ${what} less often`
          : `Hurry: the data cannot tell whether it costs pieces`,
    points: [sentence],
    key: any
      ? [
          {
            label: `Thrown out for ${what} after hurry, times as often`,
            value: asked.insideRatio,
            unit: "number",
            ...(asked.insideRatioLow !== undefined &&
              asked.insideRatioHigh !== undefined && {
                interval: {low: asked.insideRatioLow, high: asked.insideRatioHigh}
              }),
            n: `${shown(asked.insideOne, "count")} hurried pieces in ${counted(asked.insideLots, "lot")}`,
            note: "pieces of one lot against each other; 1: as often"
          }
        ]
      : [],
    body: [
      html`<p>${sentence}${control(found)}</p>\n`,
      figure(
        intervalDots({
          id: "after-hurry",
          title: !any
            ? "No hurried piece came to another rest"
            : finding === "more"
              ? what === "warp"
                ? "Hurried pieces warp more, beyond chance"
                : "Hurried pieces show more drying faults, beyond chance"
              : finding === "fewer"
                ? `Fewer hurried pieces were lost to ${what}`
                : "Hurried and served rests cannot be told apart",
          subtitle: `Thrown out at the next stage per 100 pieces, by rest and defect; all species, ${period}`,
          alt: any
            ? `Dots with intervals. ${extremes(
                dots.map(({label, series, value}) => ({name: `${label}, ${series}`, value})),
                "per 100"
              )}`
            : "No data: no piece was turned before its least rest was over, so there is nothing to see.",
          note: "Lines: 95 % intervals, from how lots differ. Growth is the control: no rest makes or mends a knot.",
          method: "how-hurry",
          notebook: "03",
          unit: "per 100",
          axis: "thrown out at the next stage, per 100",
          series: kinds,
          dots,
          table: {
            id: "after-hurry-data",
            caption: "Thrown out at the next stage after hurried and after served rests, and the difference",
            columns: [
              {key: "defects", heading: "Defect", unit: "text"},
              {key: "hurried", heading: "Hurried", unit: "count"},
              {key: "hurriedOut", heading: "Thrown out", unit: "count"},
              {key: "hurriedPer100", heading: "Rate", unit: "per 100", low: "hurriedLow", high: "hurriedHigh"},
              {key: "served", heading: "Rest served", unit: "count"},
              {key: "servedOut", heading: "Thrown out", unit: "count"},
              {key: "servedPer100", heading: "Rate", unit: "per 100", low: "servedLow", high: "servedHigh"},
              {
                key: "difference",
                heading: "More after hurry, all lots",
                unit: "per 100",
                low: "differenceLow",
                high: "differenceHigh"
              }
            ],
            rows: any
              ? rows.map(({defects, one, other, difference, differenceLow, differenceHigh}) => ({
                  defects,
                  hurried: one.pieces,
                  hurriedOut: one.discarded,
                  hurriedPer100: one.per100,
                  hurriedLow: one.per100Low,
                  hurriedHigh: one.per100High,
                  served: other.pieces,
                  servedOut: other.discarded,
                  servedPer100: other.per100,
                  servedLow: other.per100Low,
                  servedHigh: other.per100High,
                  difference,
                  differenceLow,
                  differenceHigh
                }))
              : []
          }
        })
      ),
      ...(any
        ? [
            table({
              id: "hurry-inside-lots",
              caption: "Inside lots: hurried pieces against served ones of the same lot and stage",
              columns: [
                {key: "defects", heading: "Defect", unit: "text"},
                {key: "insideLots", heading: "Lots", unit: "count"},
                {key: "insideOne", heading: "Hurried", unit: "count"},
                {key: "insideOther", heading: "Rest served", unit: "count"},
                {key: "inside", heading: "More after hurry", unit: "per 100", low: "insideLow", high: "insideHigh"},
                {
                  key: "insideRatio",
                  heading: "Times as often",
                  unit: "number",
                  low: "insideRatioLow",
                  high: "insideRatioHigh"
                }
              ],
              rows: rows.map(({one, other, difference, differenceLow, differenceHigh, ...row}) => row),
              note: "In brackets 95\u00a0% intervals, each lot left out in turn. A dash: too few to say. Compared where all pieces of both kinds have left the next stage."
            }),
            html`<p>${stepsSaid(found)}</p>\n`
          ]
        : [])
    ]
  };
}

const wordOf = (defects: string) => (defects === "all drying" ? "drying faults" : defects);

/** The answer in one sentence, with its interval, or that the data cannot tell and what it would take. */
function answer({asked, finding, why, hurriedNeeded}: HurriedRests): string {
  const what = wordOf(asked.defects);
  const {one, other, insideRatio, insideRatioLow: low, insideRatioHigh: high} = asked;
  if (one.pieces === 0)
    return "No piece was turned to another rest before its least rest was over, so it cannot be said what hurry would do.";
  const rates =
    one.per100 === undefined || other.per100 === undefined
      ? `${shown(one.discarded, "count")} of ${shown(one.pieces, "count")} hurried pieces at the next stage`
      : `${shown(one.per100, "per 100", {bare: true})} against ${shown(other.per100, "per 100", {bare: true})} per 100 at the next stage`;
  const times =
    insideRatio === undefined || low === undefined || high === undefined
      ? "too few to compare pieces of one lot"
      : `pieces of one lot against each other ${shown(insideRatio, "number")} times as often, 95\u00a0% interval ${shownInterval({low, high}, "number")}`;
  if (finding !== "unclear")
    return `Pieces turned before their least rest was over were thrown out for ${what} ${finding === "more" ? "more" : "less"} often: ${rates}, ${shown(one.pieces, "count")} hurried pieces of all lots (${times}, ${shown(asked.insideOne, "count")} of them).`;
  const because =
    why === "disagree"
      ? "over all lots it points the other way, so believe neither"
      : why === "growth"
        ? "faults of growth differ likewise, which no rest can make, so the timber differs"
        : hurriedNeeded === undefined
          ? "too few were thrown out"
          : `to tell twice as often takes some ${shown(hurriedNeeded, "count")} hurried pieces, and there are ${shown(asked.insideOne, "count")}`;
  return `The data cannot tell whether hurried pieces are thrown out for ${what} more often: ${rates} (${times}); ${because}.`;
}

/** What the control says. */
function control({rows, asked}: HurriedRests): string {
  const growth = rows.at(-1)!;
  const {insideRatio, insideRatioLow: low, insideRatioHigh: high} = growth;
  if (asked.one.pieces === 0 || insideRatio === undefined || low === undefined || high === undefined) return "";
  const differs = low > 1 || high < 1;
  return ` The control: faults of growth, which no rest makes, were ${shown(insideRatio, "number")} times as often (${shownInterval({low, high}, "number")}), ${differs ? "so the timber differed too" : "no different beyond chance"}.`;
}

function stepsSaid({steps}: HurriedRests): string {
  return `Hurried: ${steps.map(({stage, hurried, turned, leastDays}) => `${shown(hurried, "count")} of ${shown(turned, "count")} turned from ${stage} before ${shown(leastDays, "days")}`).join(", ")}.`;
}

export const hurryMethods: readonly Method[] = [
  {
    id: "how-hurry",
    heading: "Hurried rests",
    text: "A piece was hurried if it was turned before the least rest of its stage was over. What was thrown out at the next stage is counted by how long the pieces there were seen, the mean of the stages, first over all lots, then inside lots, piece against piece of one lot at one stage (Mantel and Haenszel), so that what is common to a lot falls out. It is called clear only if the interval inside lots leaves out 1, all lots together point the same way, and faults of growth do not.",
    formula: "times as often = Σ (hurried out · served ÷ all) ÷ Σ (served out · hurried ÷ all), over lots and stages",
    guide: "seasoning"
  }
];
