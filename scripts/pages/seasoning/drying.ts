import {capital} from "../../../lib/figures/densityDots.ts";
import {intervalDots} from "../../../lib/figures/intervalDots.ts";
import {moistureSteps} from "../../../lib/figures/moistureSteps.ts";
import {html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import {type DryingTime, daysUntilNear, dryingTimeOf, type MeterOffset} from "../../../lib/seasoning/dryingTimes.ts";
import {moistureLosses} from "../../../lib/seasoning/moistureLosses.ts";
import {type RestMoisture, restMoisture} from "../../../lib/seasoning/restMoisture.ts";
import {storeMoisture} from "../../../lib/seasoning/storeMoisture.ts";
import {counted} from "../../faultLines.ts";
import type {BookAsOf} from "../../io/readBook.ts";
import {dryingOf} from "../../rack/dryingOf.ts";
import {type Composer, plain} from "../compose.ts";
import {extremes} from "../extremes.ts";
import type {Part} from "./part.ts";

const points = (pct: number | undefined) => `${shown(pct, "percent", {bare: true})} points`;
const between = (low: number | undefined, high: number | undefined) =>
  low === undefined || high === undefined
    ? ""
    : ` (95\u00a0% interval ${shownInterval({low, high}, "percent", {bare: true})})`;

/** What each rest took off, and how far from the store's moisture it ended. */
export function moisturePart(
  {histories: now, book}: BookAsOf,
  rows: readonly RestMoisture[],
  {figure, table}: Composer,
  period: string
): Part {
  const rests = book.settings.stages.slice(0, -1).map(({name}) => name);
  const store = storeMoisture(book.climate, now);
  const most = mostLost(rows);
  const firsts = rows.filter(({stage}) => stage === rests[0]);
  return {
    id: "moisture",
    heading:
      rows.length === 0
        ? "Moisture: no rest has been weighed at both ends"
        : most
          ? `Moisture: most is lost in the ${most} rest`
          : "Moisture: the data cannot tell in which rest most is lost",
    points:
      firsts.length === 0
        ? ["No piece has been weighed at both ends of a rest yet, so it cannot be said what a rest takes off."]
        : [
            `In the ${rests[0]} rest ${firsts.map((row) => `${row.species} loses ${points(row.lossPct)} of moisture${between(row.lossLow, row.lossHigh)}${endOf(row)}`).join("; ")}.`
          ],
    key: firsts.map((row) => ({
      label: `${capital(row.species)}, moisture lost in the ${row.stage} rest`,
      value: row.lossPct,
      unit: "percent",
      ...(row.lossLow !== undefined &&
        row.lossHigh !== undefined && {interval: {low: row.lossLow, high: row.lossHigh}}),
      n: `${shown(row.pieces, "count")} ${row.pieces === 1 ? "piece" : "pieces"}, ${counted(row.lots, "lot")}`
    })),
    body: [
      figure(moistureSteps(moistureLosses(now), {stages: rests, equilibriumPct: store?.equilibriumPct, period})),
      table({
        id: "rest-moisture",
        caption: "Points of moisture lost in each rest, and how far above the store the pieces began and ended",
        columns: [
          {key: "species", heading: "Species", unit: "text"},
          {key: "stage", heading: "Rest", unit: "text"},
          {key: "lots", heading: "Lots", unit: "count"},
          {key: "pieces", heading: "Pieces", unit: "count"},
          {key: "lossPct", heading: "Points lost, mean", unit: "percent", low: "lossLow", high: "lossHigh"},
          {key: "startGapPct", heading: "Above the store at the beginning", unit: "percent"},
          {key: "endGapPct", heading: "At the end", unit: "percent", low: "endGapLow", high: "endGapHigh"}
        ],
        rows: plain(rows),
        note: "Means, in brackets their 95\u00a0% intervals from how lots differ. Above the store: above the moisture to which its air of those days tended; below 0 the piece took moisture up. A dash: not known."
      })
    ]
  };
}

/** The stage at which every species loses most, by intervals apart; undefined of a single stage too, as there is nothing to be more than. */
function mostLost(rows: readonly RestMoisture[]): string | undefined {
  const stage = rows.toSorted((a, b) => b.lossPct - a.lossPct)[0]?.stage;
  const own = rows.filter((row) => row.stage === stage);
  const isApart = own.every(({species, lossLow}) =>
    rows
      .filter((row) => row.species === species && row.stage !== stage)
      .every(({lossHigh}) => lossLow !== undefined && lossHigh !== undefined && lossLow > lossHigh)
  );
  return isApart && rows.some((row) => row.stage !== stage) ? stage : undefined;
}

function endOf({endGapPct, endGapLow, endGapHigh}: RestMoisture): string {
  if (endGapPct === undefined) return "";
  return ` and ends ${points(Math.abs(endGapPct))} ${endGapPct < 0 ? "below" : "above"} what the store tends to${endGapPct < 0 ? "" : between(endGapLow, endGapHigh)}`;
}

/** Why no pace is known: the reason of most of the stages. */
function whyNot(times: readonly DryingTime[]): string {
  const reasons = times.flatMap(({why, entered}) => (why !== undefined && entered === "all year" ? [why] : []));
  const count = (why: string) => reasons.filter((one) => one === why).length;
  return reasons.toSorted((a, b) => count(b) - count(a))[0] ?? "too few were weighed twice in a rest";
}

/** Whether the meter agrees with what the drying itself says of a species. */
function meterWords({species, offsetPct, offsetLow, offsetHigh}: MeterOffset): string {
  const range = between(offsetLow, offsetHigh);
  if (Math.max(-offsetLow, offsetHigh) < 0.05)
    return ` For ${species} the meter agrees with where drying comes to rest, to less than a tenth of a point.`;
  return offsetLow <= 0 && offsetHigh >= 0
    ? ` For ${species} the meter agrees with where drying comes to rest: off by ${points(offsetPct)}${range}.`
    : ` For ${species} the meter reads ${points(Math.abs(offsetPct))} too ${offsetPct > 0 ? "high" : "low"} against where drying comes to rest${range}.`;
}

const halves = ["all year", "winter", "summer"] as const;
/** After how many time constants half of the gap is gone. */
const half = Math.LN2;

/** How long a rest takes to bring pieces near the store's moisture, and whether winter differs from summer. The fit comes first, as the moisture part tells what it makes of the readings. */
export function dryingPart(read: BookAsOf, {figure, table}: Composer, period: string) {
  const {histories: now, book} = read;
  const {nearPct} = book.settings.ready;
  const {times, halfYears, offsets} = dryingOf(read);
  const moisture = restMoisture(now, book.climate, {offsets});
  const clear = halfYears.filter(({isClear}) => isClear);
  const rows = times.map((row) => {
    const gap = moisture.find(({species, stage}) => species === row.species && stage === row.stage)?.startGapPct;
    const near = gap === undefined ? undefined : daysUntilNear(row, gap, nearPct);
    const least = book.settings.stages.find(({name}) => name === row.stage)!.restDays;
    return {...row, ...halfTimes(row), gap, nearDays: near?.days, nearLow: near?.low, nearHigh: near?.high, least};
  });
  const known = rows.filter(({halfDays}) => halfDays !== undefined);
  const first = book.settings.stages[0]!.name;
  const ofFirst = rows.filter((row) => row.stage === first && row.entered === "all year" && row.days !== undefined);
  const seasons =
    halfYears.length === 0
      ? "whether winter differs from summer cannot be told yet"
      : clear.length === 0
        ? "winter cannot be told from summer at any stage"
        : `winter differs from summer ${clear.map(({species, stage, ratio}) => `for ${species} at ${stage}, ${shown(ratio, "number")} times as long`).join("; ")}`;
  const part = (): Part => ({
    id: "time",
    heading:
      ofFirst.length === 0
        ? "Time: too few weighings to say how fast pieces dry"
        : `Time: half of the gap to the store is gone after ${ofFirst.map((row) => `${shown(row.halfDays, "days")} (${row.species})`).join(", ")} at ${first}`,
    points:
      ofFirst.length === 0
        ? [`How fast pieces dry cannot be said yet: ${whyNot(times)}.`]
        : [
            `In the ${first} rest the mean piece is within ${points(nearPct)} of the store's moisture after ${ofFirst.map((row) => `${shown(row.nearDays, "days")} for ${row.species}`).join(", ")}; the least rest is ${shown(ofFirst[0]!.least, "days")}; ${seasons}.`
          ],
    key: [],
    body: [
      figure(
        intervalDots({
          id: "drying-times",
          title:
            known.length === 0
              ? "No pace of drying can be told yet"
              : clear.length === 0
                ? title(isFaster(rows), halfYears.length > 0)
                : "Winter and summer rests dry at a different pace",
          subtitle: `Days until half of the gap to the store's moisture is gone; by stage and season of arrival, ${period}`,
          alt:
            known.length === 0
              ? "No data: too few pieces were weighed twice in a rest, so there is nothing to see."
              : `Dots with intervals. ${extremes(
                  known.map((row) => ({name: `${row.species} ${row.stage}, ${row.entered}`, value: row.halfDays})),
                  "days"
                )}`,
          note: "Lines: 95 % intervals, from how lots differ. The season of the store's air is taken out: what is left is the wood's own pace.",
          method: "how-drying",
          unit: "days",
          axis: "days",
          series: halves,
          dots: rows.map((row) => ({
            label: row.stage,
            panel: row.species,
            series: row.entered,
            value: row.halfDays,
            low: row.halfLow,
            high: row.halfHigh
          })),
          table: {
            id: "drying-times-data",
            caption: `How long pieces take at each stage to come near the store's moisture, with 95 % intervals`,
            columns: [
              {key: "species", heading: "Species", unit: "text"},
              {key: "stage", heading: "Stage", unit: "text"},
              {key: "entered", heading: "Came to it in", unit: "text"},
              {key: "lots", heading: "Lots", unit: "count"},
              {key: "pieces", heading: "Pieces weighed twice", unit: "count"},
              {key: "halfDays", heading: "Half of the gap", unit: "days", low: "halfLow", high: "halfHigh"},
              {key: "gap", heading: "Gap at the beginning, points", unit: "percent"},
              {
                key: "nearDays",
                heading: `To within ${points(nearPct)}`,
                unit: "days",
                low: "nearLow",
                high: "nearHigh"
              },
              {key: "least", heading: "Least rest", unit: "days"},
              {key: "why", heading: "Why not", unit: "text"}
            ],
            rows: rows.map(({days, daysLow, daysHigh, why, ...row}) => ({...row, why: why ?? ""})),
            note: `The gap is the mean of all pieces at the stage when it begins; the limits of the days to near are those of the pace alone, with that gap taken as known. 0 days: the mean piece is that near already. ${points(nearPct)}: ready.nearPct in workshop.json.`
          }
        })
      ),
      html`<p>${capital(seasons)}.${offsets.map(meterWords)}${
        ofFirst.some(({nearDays, least}) => nearDays !== undefined && nearDays < least) &&
        " By moisture alone the first rest could be shorter than the least; what pieces do that are turned sooner is told under hurry, and that is what to go by."
      }</p>\n`,
      ...(halfYears.length === 0
        ? []
        : [
            html`<details>\n<summary>Winter against summer</summary>\n${table({
              id: "drying-half-years",
              caption: "Time that the wood takes in winter as a multiple of summer's",
              columns: [
                {key: "species", heading: "Species", unit: "text"},
                {key: "stage", heading: "Stage", unit: "text"},
                {key: "lots", heading: "Lots, winter", unit: "count"},
                {key: "lotsSummer", heading: "Lots, summer", unit: "count"},
                {key: "ratio", heading: "Times as long", unit: "number", low: "ratioLow", high: "ratioHigh"},
                {key: "clear", heading: "Clear", unit: "text"}
              ],
              rows: halfYears.map(({isClear, species, stage, ratio, ratioLow, ratioHigh}) => {
                const lots = (entered: string) =>
                  times.find((row) => row.species === species && row.stage === stage && row.entered === entered)?.lots;
                return {
                  species,
                  stage,
                  lots: lots("winter"),
                  lotsSummer: lots("summer"),
                  ratio,
                  ratioLow,
                  ratioHigh,
                  clear: isClear ? "yes" : "no"
                };
              }),
              note: "Intervals that hold together for all stages of a species in 95 of 100 cases. Clear: the interval leaves out 1. Winter: pieces that came to the stage from October to March."
            })}</details>\n`
          ])
    ]
  });
  /** Whether every species' last stage is faster than its first, by intervals apart. */
  function isFaster(all: readonly DryingTime[]): boolean {
    const last = book.settings.stages.at(-2)!.name;
    return [...new Set(all.map(({species}) => species))].every((species) => {
      const [one, other] = [first, last].map((stage) => dryingTimeOf(all, {species, stage}));
      return one?.daysLow !== undefined && other?.daysHigh !== undefined && other.daysHigh < one.daysLow;
    });
  }
  return {moisture, part};
}

/** What the figure of drying times shows, where no season differs clearly. */
function title(isFaster: boolean, isCompared: boolean): string {
  if (isFaster) return `Thinner pieces follow the store faster${isCompared ? "; no clear winter effect" : ""}`;
  return isCompared ? "No clear difference between winter and summer" : "How fast pieces follow the store's moisture";
}

function halfTimes({days, daysLow, daysHigh}: DryingTime) {
  const times = (value: number | undefined) => (value === undefined ? undefined : half * value);
  return {halfDays: times(days), halfLow: times(daysLow), halfHigh: times(daysHigh)};
}

export const dryingMethods: readonly Method[] = [
  {
    id: "how-moisture",
    heading: "Moisture in a rest",
    text: "Moisture at the end of a rest comes from mass, as the dry wood of a piece does not change while it rests. The gap to the store is taken on the day, to what its air tended to then (Wood Handbook, FPL-GTR-190, eq. 4-5, readings smoothed), less what the meter reads above that equation, where that could be told.",
    formula: "M₂ = (1 + M₁) · m₂ ÷ m₁ − 1;  points lost = M₁ − M₂;  gap = M − offset − E(day)",
    guide: "moisture"
  },
  {
    id: "how-drying",
    heading: "Time to the store's moisture",
    text: "From pieces weighed twice or more in a rest: the gap to the store's moisture shrinks by the same share each day, and the store's own course from week to week is in the sum, so that a slow winter is not taken for slow wood. Half of the gap is gone after 0.69 time constants. Days to near count from the mean gap at the beginning, with the store as it is.",
    formula: "dM/dt = (E(t) − M) ÷ τ;  half of the gap: τ · ln 2;  near: τ · ln(gap ÷ near)",
    guide: "ready-to-turn"
  }
];
