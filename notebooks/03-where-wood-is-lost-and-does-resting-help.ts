// %% [markdown]
// # Where is wood lost, and does resting help?
//
// Most of the timber we pay for ends as shavings or in the stove. The shavings are the price of a round taper in a square
// stick; what is thrown out we might avoid. Pieces move as they dry, so each rests before the next cut. If a longer rest
// surely kept pieces from warping and checking, we would build more racks and wait.
//
// ## Where the wood goes

// %% Shaft, shavings and the rest
import {shown, shownInterval} from "../lib/report/quantity.ts";
import {stageYields} from "../lib/yield/stageYields.ts";
import {woodYield} from "../lib/yield/woodYield.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, book, asOf} = open();
const {pieces} = histories;
const {stages, defects} = book.settings;
const yields = stageYields(histories, pieces);
const wood = woodYield(histories, pieces, yields.rolledFraction);
const litres = (mm3: number) => `${shown(mm3 / 1e6, "number")} litres`;

const {rolledLow, rolledHigh} = yields;
const shaftRange =
  wood && rolledLow !== undefined && rolledHigh !== undefined
    ? `95 % interval ${shownInterval({low: wood.taperFraction * rolledLow, high: wood.taperFraction * rolledHigh}, "fraction")}`
    : "too few lots for an interval";

show(
  wood
    ? `A square holds ${litres(wood.squareVolumeMm3)} on average (${wood.squares} squares), a finished shaft ${litres(wood.shaftVolumeMm3)}. Of the wood bought ${shown(wood.woodFraction, "fraction")} becomes shaft (${shaftRange}), ${shown(wood.shavingsFraction, "fraction")} is cut off shafts that are finished, and ${shown(wood.discardsFraction, "fraction")} lies in pieces that never are.`
    : "It cannot be said yet: some stage has been left by no piece, or workshop.json gives the last stage no diameters."
);

// %% Of 100 pieces that reach a stage
import {discardRates} from "../lib/defects/discardRates.ts";
import {intervalDots} from "../lib/figures/intervalDots.ts";
import {taperVolume} from "../lib/wood/taper.ts";

const lost = stages.slice(0, -1).map(({name: stage, largeMm, smallMm, lengthMm}) => {
  const all = discardRates(histories, pieces, {stage}).find(({defect}) => defect === "all");
  const volumeMm3 = largeMm && smallMm && lengthMm ? taperVolume({largeMm, smallMm, lengthMm}) : wood?.squareVolumeMm3;
  return {
    stage,
    pieces: all?.squares ?? 0,
    lots: all?.lots ?? 0,
    discarded: all?.discarded ?? 0,
    per100: all?.per100,
    per100Low: all?.per100Low,
    per100High: all?.per100High,
    leftFraction: volumeMm3 && wood && volumeMm3 / wood.squareVolumeMm3
  };
});
const known = lost.flatMap(({per100}) => per100 ?? []);
const spread =
  known.length > 0 ? shownInterval({low: Math.min(...known), high: Math.max(...known)}, "count") : "not known";
const firstDay = histories.lots.map(({boughtOn}) => boughtOn).sort()[0]!;

show(
  intervalDots({
    id: "lost-by-stage",
    title: `Thrown out: ${spread} per 100, stage by stage`,
    subtitle: `Thrown out per 100 pieces that reach the stage; all species, ${firstDay} to ${asOf}`,
    alt: `Dots with 95 % intervals. ${lost.map(({stage, per100}) => `${stage}: ${shown(per100, "per 100")}`).join("; ")}.`,
    note: "95 % intervals from how lots differ; the upper end leaves room for pieces not decided yet.",
    unit: "per 100",
    axis: "thrown out per 100 pieces",
    dots: lost.map(({stage, per100, per100Low, per100High}) => ({
      label: stage,
      value: per100,
      low: per100Low,
      high: per100High
    })),
    table: {
      id: "lost-by-stage-data",
      caption: "What is thrown out at each stage, and what was left of the wood by then",
      columns: [
        {key: "stage", heading: "Stage", unit: "text"},
        {key: "pieces", heading: "Reached it", unit: "count"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "discarded", heading: "Thrown out", unit: "count"},
        {key: "per100", heading: "Rate", unit: "per 100", low: "per100Low", high: "per100High"},
        {key: "leftFraction", heading: "Wood left of the square", unit: "fraction"}
      ],
      rows: lost
    }
  })
);

// %% [markdown]
// ## Three ways to rest
//
// Each stage has its least rest in `workshop.json`. Pieces that were turned before it was served are the _hurried_ ones;
// the others are cut into two halves, stage by stage: those that rested less than the middle one, and those that rested
// more. Then we look one stage on: of 100 pieces, how many were thrown out there for a fault of drying?
//
// To check ourselves we count the faults of growth beside them. A knot does not come from resting. If knots too were
// fewer after a long rest, it would be the timber that differs and not the rest.

// %% The rests that were
import {restKinds, restSteps, type RestKind} from "../lib/seasoning/restSteps.ts";

const steps = restSteps(histories);
if (steps.length === 0) show("With fewer than three stages there is no rest between two cuts to look at.");
else
  show(
    steps.map(({daysOf, kindOf, ...step}) => ({middleDays: undefined, longDays: undefined, ...step})),
    {
      caption: "How long pieces rested before they were turned",
      columns: [
        {key: "stage", heading: "Rested at"},
        {key: "next", heading: "Turned to"},
        "turned",
        {key: "leastDays", heading: "Least rest"},
        "hurried",
        {key: "middleDays", heading: "The halves part at"},
        {key: "longDays", heading: "One in ten longer than"}
      ]
    }
  );

// %% Thrown out at the next stage
import {afterRest} from "../lib/seasoning/afterRest.ts";

const groups = ["drying", "growth"] as const;
type Group = (typeof groups)[number];
const groupOf = new Map<string, string>(defects.map(({name, group}) => [name, group]));
const isOf = (group: Group) => (defect: string) => groupOf.get(defect) === group;

/** The share thrown out at the next stage, by group of defect: the mean of the stages. */
const rates = restKinds.flatMap((rest) =>
  groups.map((group) => ({rest, group, ...afterRest(histories, {kinds: [rest], counts: isOf(group), steps})}))
);
const rateOf = (rest: RestKind, group: Group) => rates.find((row) => row.rest === rest && row.group === group)!.per100;
const said = (rest: RestKind) => shown(rateOf(rest, "drying"), "per 100", {bare: true});

show(
  intervalDots({
    id: "after-rest",
    title: `Faults of drying: ${said("hurried")} hurried, ${said("shorter half")} and ${said("longer half")} rested`,
    subtitle: `Thrown out at the next stage per 100 pieces, mean of ${steps.length} stages; all species, ${firstDay} to ${asOf}`,
    alt: `Dots with 95 % intervals. ${rates.map(({rest, group, per100}) => `${rest}, ${group}: ${shown(per100, "per 100")}`).join("; ")}.`,
    note: "95 % intervals from how lots differ. Faults of growth are there to compare: no rest makes or mends a knot.",
    unit: "per 100",
    axis: "thrown out at the next stage, per 100",
    series: groups,
    dots: rates.map(({rest, group, per100, per100Low, per100High}) => ({
      label: rest,
      series: group,
      value: per100,
      low: per100Low,
      high: per100High
    })),
    table: {
      id: "after-rest-data",
      caption: "Thrown out at the stage after the rest",
      columns: [
        {key: "rest", heading: "Rest before", unit: "text"},
        {key: "group", heading: "Faults of", unit: "text"},
        {key: "pieces", heading: "Pieces", unit: "count"},
        {key: "discarded", heading: "Thrown out", unit: "count"},
        {key: "per100", heading: "Rate", unit: "per 100", low: "per100Low", high: "per100High"}
      ],
      rows: rates
    }
  })
);

// %% [markdown]
// ## Against each other
//
// Now each kind against the shorter half, which rested as `workshop.json` says and not much longer. The difference first takes
// all lots together. But the owner did not draw lots for who waits: a busy month, a poor lot, a favourite yard can all decide
// it. So it is also taken inside lots, piece against piece of the same lot, where all of both kinds have left the next stage
// (Mantel and Haenszel's way). Where the two disagree, believe neither.

// %% Against the shorter half
import {compareRests} from "../lib/seasoning/compareRests.ts";

const ratios = (["hurried", "longer half"] as const).flatMap((rest) =>
  groups.map((group) => {
    const compared = compareRests(histories, {one: [rest], other: ["shorter half"], counts: isOf(group), steps});
    return {rest, group, pieces: compared.one.pieces, ...compared};
  })
);

show(
  ratios.map(({one, other, ...row}) => ({difference: undefined, inside: undefined, insideRatio: undefined, ...row})),
  {
    caption: "Thrown out at the next stage, against the shorter half",
    columns: [
      {key: "rest", heading: "Rest before"},
      {key: "group", heading: "Faults of"},
      "pieces",
      {key: "difference", heading: "More per 100, all lots together", unit: "number"},
      {key: "inside", heading: "More per 100, inside lots", unit: "number"},
      {key: "insideRatio", heading: "Times as often, inside lots", unit: "number"}
    ],
    note: "95 % intervals from how lots differ."
  }
);

// %% [markdown]
// ## What would settle it
//
// This is a record, not a trial. In a trial the pieces of each new lot are dealt into two heaps by the toss of a coin; one
// heap is turned when its least rest is over, the other waits half as long again, and both are written down as always. As
// both heaps are of the same lots and turned by the same hand, only the rest differs. The rarer the fault, the more pieces
// it takes.

// %% How many pieces a trial takes
import {dayNumber} from "../lib/book/day.ts";
import {trialSize} from "../lib/stats/trialSize.ts";

/** The drop worth knowing of: a third fewer faults of drying. Put another number here. */
const dropFraction = 1 / 3;
const now = (rateOf("shorter half", "drying") ?? 0) / 100;
const then = now * (1 - dropFraction);
const perHeap = now > 0 ? trialSize(now, then) : Number.NaN;
const lotsNeeded = (2 * perHeap) / (pieces.length / new Set(pieces.map(({lot}) => lot)).size);
const lotsLately = histories.lots.filter(({boughtOn}) => histories.asOf - dayNumber(boughtOn) < 365).length;

show(
  now > 0
    ? `To tell ${shown(100 * then, "per 100")} from ${shown(100 * now, "per 100")}, in 8 of 10 such trials and with 5 false alarms in 100, takes some ${shown(perHeap, "count")} pieces a heap: ${shown(lotsNeeded, "count")} lots of the usual size (one rest watched a square), where ${lotsLately} were bought in the last 365 days.`
    : "Nothing was thrown out for drying after a shorter rest so far, so the size of a trial cannot be said."
);

// %% [markdown]
// ## Answer

// %%
const drying = (rest: RestKind) => ratios.find((row) => row.rest === rest && row.group === "drying")!;
const verdict = (rest: RestKind) => {
  const {insideRatio: ratio, insideRatioLow: low, insideRatioHigh: high, difference} = drying(rest);
  if (ratio === undefined || low === undefined || high === undefined) return "the data cannot tell yet";
  const times = `${shown(ratio, "number")} times as many, 95 % interval ${shownInterval({low, high}, "number")}`;
  // Where all lots together point the other way, neither is believed.
  const agree = difference !== undefined && difference > 0 === ratio > 1;
  const finding =
    agree && low > 1 ? "more were thrown out" : agree && high < 1 ? "fewer were thrown out" : "the data cannot tell";
  return `${finding} (${times})`;
};

const ofWood = wood
  ? `Of the wood bought ${shown(wood.woodFraction, "fraction")} becomes shaft (${shaftRange})`
  : "How much of the wood becomes shaft cannot be said yet";

show(
  drying("hurried").insideRatioLow !== undefined || drying("longer half").insideRatioLow !== undefined
    ? `${ofWood}; as to faults of drying at the next stage, against pieces of the same lots that rested just long enough, after a hurried rest ${verdict("hurried")}, and after a longer rest than need be ${verdict("longer half")}, all from rests that were chosen and not drawn by lot.`
    : `${ofWood}, and whether resting helps the data cannot tell yet, for want of pieces and lots.`
);
