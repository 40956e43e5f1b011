import {intervalDots} from "../../../lib/figures/intervalDots.ts";
import {html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import type {RestLoss} from "../../../lib/seasoning/restLosses.ts";
import {type Composer, plain} from "../compose.ts";
import {extremes} from "../extremes.ts";
import type {Part} from "./part.ts";

const whens = ["seen while resting", "found when taken up"] as const;

const bare = (per100: number | undefined) => shown(per100, "per 100", {bare: true});
const between = (low: number | undefined, high: number | undefined) =>
  low === undefined || high === undefined
    ? ""
    : ` (95\u00a0% interval ${shownInterval({low, high}, "per 100", {bare: true})})`;

/** Of 100 pieces that reach a stage, how many are lost there, for what, and whether it was seen while they rested. */
export function lossesPart(rows: readonly RestLoss[], {figure, table}: Composer, period: string): Part {
  const groups = rows.filter(({defect, group}) => defect === "all" && group !== "all");
  const seen = groups.filter(({group}) => groups.some((row) => row.group === group && row.resting + row.takenUp > 0));
  const totals = rows.filter(({group}) => group === "all");
  const worst = totals.toSorted((a, b) => b.restingPer100 - a.restingPer100)[0];
  const drying = (row: RestLoss) => groups.find(({stage, group}) => stage === row.stage && group === "drying");
  const isMost = worst !== undefined && totals.every((row) => row === worst || apart(worst, row));
  const dots = seen.flatMap((row) => [
    {when: whens[0], value: row.restingPer100, low: row.restingLow, high: row.restingHigh, row},
    {when: whens[1], value: row.takenUpPer100, low: row.takenUpLow, high: row.takenUpHigh, row}
  ]);
  const any = totals.some(({resting, takenUp}) => resting + takenUp > 0);
  return {
    id: "lost",
    heading: !any
      ? "Lost in the rest: nothing was thrown out yet"
      : isMost
        ? `Lost in the rest: most at ${worst.stage}, ${shown(worst.restingPer100, "per 100")} pieces`
        : "Lost in the rest: the data cannot tell which stage loses most",
    points:
      worst && any
        ? [
            `Of 100 pieces at ${worst.stage} ${bare(worst.restingPer100)}${between(worst.restingLow, worst.restingHigh)} are thrown out before the least rest is over, ${bare(drying(worst)?.restingPer100)} of them for drying, and ${bare(worst.takenUpPer100)} when they are taken up${isMost ? "" : "; the data cannot tell whether another stage loses more in the rest"}.`
          ]
        : ["No piece has been thrown out in a rest yet."],
    key: [],
    body: [
      figure(
        intervalDots({
          id: "rest-losses",
          title: !any
            ? "Nothing was thrown out in a rest yet"
            : dryingIsSeenEarly(groups)
              ? "Drying faults show while resting, the others at the lathe"
              : "What is lost in each rest, and when it shows",
          subtitle: `Thrown out per 100 pieces that reach the stage, by where the cause lies; all species, ${period}`,
          alt: any
            ? `Dots with intervals. ${extremes(
                dots.map(({row, when, value}) => ({name: `${row.stage} ${row.group}, ${when}`, value})),
                "per 100"
              )}`
            : "No data: no piece has been thrown out in a rest yet, so there is nothing to see.",
          note: "Lines: 95 % intervals, from how lots differ. While resting: before the least rest was over.",
          method: "how-rest-losses",
          notebook: "03",
          unit: "per 100",
          axis: "per 100 pieces",
          series: whens,
          dots: dots.map(({row, when, value, low, high}) => ({
            label: row.group,
            panel: row.stage,
            series: when,
            value,
            low,
            high
          })),
          table: {
            id: "rest-losses-data",
            caption: "Thrown out at each stage per 100 pieces that reach it, before the least rest was over and after",
            columns: [
              {key: "stage", heading: "Stage", unit: "text"},
              {key: "group", heading: "Cause lies in", unit: "text"},
              {key: "defect", heading: "Defect", unit: "text"},
              {key: "pieces", heading: "Reached it", unit: "count"},
              {key: "lots", heading: "Lots", unit: "count"},
              {key: "resting", heading: "While resting", unit: "count"},
              {
                key: "restingPer100",
                heading: "While resting",
                unit: "per 100",
                low: "restingLow",
                high: "restingHigh"
              },
              {key: "takenUp", heading: "When taken up", unit: "count"},
              {
                key: "takenUpPer100",
                heading: "When taken up",
                unit: "per 100",
                low: "takenUpLow",
                high: "takenUpHigh"
              }
            ],
            rows: any ? plain(rows) : []
          }
        })
      ),
      ...(totals.length === 0
        ? []
        : [
            table({
              id: "rest-losses-stages",
              caption: "All defects together: thrown out per 100 pieces that reach the stage",
              columns: [
                {key: "stage", heading: "Stage", unit: "text"},
                {key: "pieces", heading: "Reached it", unit: "count"},
                {key: "lots", heading: "Lots", unit: "count"},
                {
                  key: "restingPer100",
                  heading: "While resting",
                  unit: "per 100",
                  low: "restingLow",
                  high: "restingHigh"
                },
                {
                  key: "takenUpPer100",
                  heading: "When taken up",
                  unit: "per 100",
                  low: "takenUpLow",
                  high: "takenUpHigh"
                }
              ],
              rows: plain(totals)
            })
          ]),
      html`<p>That a fault was found at the lathe does not say that it was not there before: it says when somebody looked.</p>\n`
    ]
  };
}

/** Whether one stage loses more in the rest than another by intervals apart. */
function apart(more: RestLoss, less: RestLoss): boolean {
  return more.restingLow !== undefined && less.restingHigh !== undefined && more.restingLow > less.restingHigh;
}

/** Whether at every stage drying faults are mostly seen in the rest, and all others mostly later. */
function dryingIsSeenEarly(groups: readonly RestLoss[]): boolean {
  return groups
    .filter(({resting, takenUp}) => resting + takenUp > 0)
    .every(({group, resting, takenUp}) => (group === "drying" ? resting > takenUp : takenUp > resting));
}

export const lossesMethods: readonly Method[] = [
  {
    id: "how-rest-losses",
    heading: "Lost in the rest",
    text: "Each stage is followed on its own clock, and a piece counts for as long as it has been seen there, so that those still resting are neither lost nor through. What was thrown out before the least rest of the stage was over is apart from what was thrown out later, when the piece was taken up.",
    formula: "per 100 = 100 · Σ over days of (share still there · thrown out that day ÷ there)",
    guide: "seasoning"
  }
];
