import type {Histories} from "../../../lib/book/histories.ts";
import {intervalDots} from "../../../lib/figures/intervalDots.ts";
import {html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import {compareRests} from "../../../lib/seasoning/compareRests.ts";
import {type LongerRest, type LongerRestYear, longerRest} from "../../../lib/seasoning/longerRest.ts";
import {restSteps} from "../../../lib/seasoning/restSteps.ts";
import {sum} from "../../../lib/stats/numbers.ts";
import {trialSize} from "../../../lib/stats/trialSize.ts";
import {shaftCost} from "../../../lib/yield/shaftCost.ts";
import {stageYields} from "../../../lib/yield/stageYields.ts";
import type {Composer} from "../compose.ts";
import {extremes} from "../extremes.ts";
import type {Part} from "./part.ts";

/** The drop of drying faults that a trial should be able to tell. */
const dropFraction = 1 / 3;

const names: Record<LongerRest["question"], string> = {
  serve: "Serve the least rest",
  longer: "Rest longer still"
};

/** What it would save and cost to rest longer: never to hurry, and to rest as long as the longer half did. */
export function longerPart(now: Histories, {figure, table, currency}: Composer, period: string): Part {
  const {money} = now.settings;
  const pieceCost = costByStage(now);
  const {stages, years} = longerRest(now, {
    pieceCost,
    interestPct: money.interestPct,
    storageCostPerMonth: money.storageCostPerMonth
  });
  const amount = (value: number | undefined) => shown(value, "money whole", {currency});
  const [serve, longer] = (["serve", "longer"] as const).map((question) =>
    years.find((one) => one.question === question)
  );
  const sentences = (["serve", "longer"] as const).map((question) => {
    const year = years.find((one) => one.question === question);
    return year
      ? verdict(year, stages, amount, currency)
      : `${names[question]}: what that would save cannot be said yet, as too few pieces have rested and been turned.`;
  });
  return {
    id: "longer-rest",
    heading: heading(serve, longer),
    points: sentences,
    key: years.map(({question, net, netLow: low, netHigh: high, pieces}) => ({
      label: `${names[question]}: net in a year`,
      value: net,
      unit: "money whole",
      ...(low !== undefined && high !== undefined && {interval: {low, high}}),
      n: `${shown(pieces, "count")} rests of the last year`,
      note: low !== undefined && high !== undefined && low <= 0 && high >= 0 ? "the data cannot tell" : undefined
    })),
    body: [
      figure(
        intervalDots({
          id: "longer-rest-net",
          title: title(serve, longer),
          subtitle: `Saved less cost of 100 pieces that rest longer, ${currency}, by stage; all species, ${period}`,
          alt: stages.every(({net}) => net === undefined)
            ? "No data: too few pieces have rested and been turned, so there is nothing to see."
            : `Dots with intervals. ${extremes(
                stages.map((row) => ({name: `${names[row.question]}, ${row.stage}`, value: row.net})),
                "money whole",
                {currency}
              )}`,
          note: "Lines: 95 % intervals of the pieces saved, from how lots differ; costs are taken as known; each misses in 5 of 100 cases. Below 0 it costs more than it saves.",
          method: "how-longer",
          notebook: "03",
          unit: "money whole",
          currency,
          axis: `${currency} per 100 pieces`,
          dots: stages.map((row) => ({
            label: row.stage,
            panel: names[row.question],
            value: row.net,
            low: row.netLow,
            high: row.netHigh
          })),
          table: {
            id: "longer-rest-net-data",
            caption: "What a longer rest would save and cost, of 100 pieces that rest longer and of those of a year",
            columns: [
              {key: "asked", heading: "If pieces", unit: "text"},
              {key: "stage", heading: "Rest", unit: "text"},
              {key: "pieces", heading: "Rested so", unit: "count"},
              {key: "perYear", heading: "In the last year", unit: "count"},
              {key: "days", heading: "Days longer, shafts as much later", unit: "days"},
              {key: "savedPer100", heading: "Pieces saved", unit: "per 100", low: "savedLow", high: "savedHigh"},
              {key: "pieceCost", heading: "A piece has cost", unit: "money"},
              {key: "savedMoney", heading: "Saved of 100", unit: "money whole"},
              {key: "costMoney", heading: "Cost of 100", unit: "money whole"},
              {key: "net", heading: "Net of 100", unit: "money whole", low: "netLow", high: "netHigh"},
              {
                key: "netPerYear",
                heading: "Net in a year",
                unit: "money whole",
                low: "netPerYearLow",
                high: "netPerYearHigh"
              }
            ],
            rows: stages.map(({question, ...row}) => ({asked: names[question], ...row})),
            note: "Saved: pieces thrown out for drying at the next stage, fewer after the longer rest; a minus: more. In brackets 95\u00a0% intervals."
          }
        })
      ),
      ...(stages.length === 0
        ? []
        : [
            html`<p>${alone(years, stages, currency)}${costs(now, pieceCost, currency)}</p>\n`,
            trial(now),
            ...beside(now, table)
          ])
    ]
  };
}

/** What a piece at each stage has cost: the squares of late with their carriage, and its share of the work, every turning at the same cost. */
function costByStage(now: Histories): (stage: string) => number {
  const offers = shaftCost(now);
  const squares = sum(offers.map((one) => one.squares));
  const square = squares === 0 ? 0 : sum(offers.map((one) => one.latelySquareCost * one.squares)) / squares;
  const yields = stageYields(now, now.pieces).stages.map(({yieldFraction = 1}) => yieldFraction);
  const turnings = sum(yields.map((_, i) => yields.slice(0, i + 1).reduce((share, one) => share * one, 1)));
  const turning = now.settings.money.turningCostPerSquare / (turnings || 1);
  return (stage) => square + turning * now.settings.stages.findIndex(({name}) => name === stage);
}

function costs(now: Histories, pieceCost: (stage: string) => number, currency: string): string {
  const amount = (value: number) => shown(value, "money", {currency});
  const {interestPct, storageCostPerMonth} = now.settings.money;
  const each = now.settings.stages.slice(0, -1).map(({name}) => `${amount(pieceCost(name))} at ${name}`);
  return `A piece has cost ${each.join(", ")}: squares and carriage as paid of late, and the work so far. Money tied up is reckoned at ${shown(interestPct, "percent")} a year (money.interestPct), room at ${amount(storageCostPerMonth)} a month and piece (money.storageCostPerMonth).`;
}

/** Whether an interval holds 0. */
const isOpen = (row: LongerRestYear | undefined) =>
  row?.netLow === undefined || row.netHigh === undefined || (row.netLow <= 0 && row.netHigh >= 0);

function verdict(
  year: LongerRestYear,
  stages: readonly LongerRest[],
  amount: (value: number) => string,
  currency: string
): string {
  const own = stages.filter(({question}) => question === year.question);
  const days = own.map((row) => row.days);
  const later = `${shown(Math.min(...days), "count")} to ${shown(Math.max(...days), "count")} days a rest`;
  const interval =
    year.netLow === undefined || year.netHigh === undefined
      ? "no interval can be given"
      : `95\u00a0% interval ${shownInterval({low: year.netLow, high: year.netHigh}, "money whole", {currency})}`;
  const what =
    year.question === "serve"
      ? `To serve the least rest always, ${later} longer for ${shown(year.pieces, "count")} rests a year,`
      : `To rest as long as the longer half does, ${later} longer for ${shown(year.pieces, "count")} rests a year,`;
  if (isOpen(year))
    return `${what} might ${year.net > 0 ? "save" : "lose"} ${amount(Math.abs(year.net))} a year after its cost (net, ${interval}): the data cannot tell whether it pays.`;
  return `${what} would ${year.net > 0 ? "save" : "lose"} ${amount(Math.abs(year.net))} a year after its cost (net, ${interval}), if it is the rest that makes the difference.`;
}

/** Stages that are clear by themselves where all together are not. */
function alone(years: readonly LongerRestYear[], stages: readonly LongerRest[], currency: string): string {
  const amount = (value: number) => shown(value, "money whole", {currency});
  return years
    .filter(isOpen)
    .flatMap(({question}) => stages.filter((row) => row.question === question))
    .flatMap(({question, stage, netPerYear: net, netPerYearLow: low, netPerYearHigh: high}) =>
      net === undefined || low === undefined || high === undefined || (low <= 0 && high >= 0)
        ? []
        : [
            `At ${stage} alone, to ${question === "serve" ? "serve the least rest" : "rest longer still"} would ${net > 0 ? "save" : "lose"} ${amount(Math.abs(net))} a year (net, 95\u00a0% interval ${shownInterval({low, high}, "money whole", {currency})}), if it is the rest that makes the difference and not chance at one stage of several; it says nothing of rests shorter than the least. `
          ]
    )
    .join("");
}

function heading(serve: LongerRestYear | undefined, longer: LongerRestYear | undefined): string {
  if (!serve && !longer) return "A longer rest: too early to say what it would save";
  return `A longer rest: ${[
    serve &&
      `to serve the least rest ${isOpen(serve) ? "cannot be told to pay" : serve.net > 0 ? "pays" : "does not pay"}`,
    longer &&
      `to rest longer still ${isOpen(longer) ? "cannot be told to pay" : longer.net > 0 ? "pays" : "does not pay"}`
  ]
    .filter(Boolean)
    .join(", ")}`;
}

function title(serve: LongerRestYear | undefined, longer: LongerRestYear | undefined): string {
  if (!serve && !longer) return "Too few rests to say what longer ones save";
  if (isOpen(serve))
    return isOpen(longer) ? "Whether longer rests pay cannot be told" : "What longer rests save and cost";
  if (serve!.net <= 0) return "Serving the least rest costs more than it saves";
  return isOpen(longer) ? "Serving the least rest pays; resting longer is unclear" : "Serving the least rest pays";
}

/** What would settle it: so many pieces, dealt by the toss of a coin. */
function trial(now: Histories) {
  const drying = new Set(now.settings.defects.filter(({group}) => group === "drying").map(({name}) => name));
  const steps = restSteps(now);
  const {other} = compareRests(now, {
    one: ["longer half"],
    other: ["shorter half"],
    counts: (defect) => drying.has(defect),
    steps: steps.filter(({middleDays}) => middleDays !== undefined)
  });
  const from = (other.per100 ?? 0) / 100;
  const why =
    "Rests were not drawn by lot. A lot that waits may be one that nobody wanted to take up, and a busy month hurries good timber and bad; what then differs is not the rest.";
  if (from === 0)
    return html`<p>${why} Nothing was thrown out for drying after the shorter rests so far, so the size of a trial cannot be said.</p>\n`;
  const each = trialSize(from, from * (1 - dropFraction));
  const rested = sum(
    steps.map(
      ({daysOf, stage}) =>
        now.pieces.filter((piece) => {
          const to = piece.stays.find((one) => one.stage === stage)?.to;
          return daysOf(piece) !== undefined && to !== undefined && to > now.asOf - 365;
        }).length
    )
  );
  const years =
    rested > 0
      ? `, where ${shown(rested, "count")} rests were ended by the lathe in the last year: ${shown((2 * each) / rested, "count")} years of them all`
      : "";
  return html`<p>${why} A trial settles it: deal the pieces of each new lot into two heaps by the toss of a coin, turn the one when its least rest is over, let the other wait half as long again, and write both down as always. To tell ${shown(100 * from * (1 - dropFraction), "per 100", {bare: true})} from ${shown(100 * from, "per 100")} (a third fewer) in 8 of 10 such trials, with 5 false alarms in 100, takes some ${shown(each, "count")} rests in each heap${years}.</p>\n`;
}

/** The longer half against the shorter, over all lots and inside, with growth as the control. */
function beside(now: Histories, table: Composer["table"]) {
  const steps = restSteps(now).filter(({middleDays}) => middleDays !== undefined);
  const rows = (["drying", "growth"] as const).map((group) => {
    const own = new Set(now.settings.defects.filter((one) => one.group === group).map(({name}) => name));
    const {one, other, ...row} = compareRests(now, {
      one: ["longer half"],
      other: ["shorter half"],
      counts: (defect) => own.has(defect),
      steps
    });
    return {
      group,
      longer: one.pieces,
      longerPer100: one.per100,
      shorter: other.pieces,
      shorterPer100: other.per100,
      ...row
    };
  });
  return [
    table({
      id: "longer-half",
      caption: "Thrown out at the next stage after the longer half of the rests and after the shorter, all stages",
      columns: [
        {key: "group", heading: "Faults of", unit: "text"},
        {key: "longer", heading: "Longer half", unit: "count"},
        {key: "longerPer100", heading: "Rate", unit: "per 100"},
        {key: "shorter", heading: "Shorter half", unit: "count"},
        {key: "shorterPer100", heading: "Rate", unit: "per 100"},
        {
          key: "difference",
          heading: "More after the longer",
          unit: "per 100",
          low: "differenceLow",
          high: "differenceHigh"
        },
        {key: "insideLots", heading: "Lots with both", unit: "count"},
        {key: "inside", heading: "More, inside lots", unit: "per 100", low: "insideLow", high: "insideHigh"},
        {
          key: "insideRatio",
          heading: "Times as often, inside lots",
          unit: "number",
          low: "insideRatioLow",
          high: "insideRatioHigh"
        }
      ],
      rows,
      note: `The halves part at ${steps.map(({stage, middleDays}) => `${shown(middleDays, "days")} (${stage})`).join(", ")}. Growth is the control. In brackets 95\u00a0% intervals.`
    })
  ];
}

export const longerMethods: readonly Method[] = [
  {
    id: "how-longer",
    heading: "What a longer rest saves and costs",
    text: "Saved are the pieces fewer thrown out for drying at the next stage, at what each has cost by then: squares and carriage as paid of late, and the work, every turning at the same cost. Cost are the days more, on what the pieces have cost so far, and the room. Shafts that come later may cost orders too: that is not in it. The interval is that of the pieces saved; a sum over stages adds the squares of how far each limit lies from its value.",
    formula:
      "net = pieces saved · cost so far at the next stage − days · (cost so far · interest ÷ 365 + room a month ÷ 30.44)",
    guide: "seasoning"
  }
];
