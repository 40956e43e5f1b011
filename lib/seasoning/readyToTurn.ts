import {dayText} from "../book/day.ts";
import type {Histories, Piece} from "../book/histories.ts";
import type {DryingTime} from "./dryingTimes.ts";
import {dryingTimeOf} from "./dryingTimes.ts";
import type {MoistureNow} from "./moistureNow.ts";
import {type PieceMoisture, pieceMoisture} from "./pieceMoisture.ts";
import {type Steadiness, steadiness, steadyLimit} from "./steadiness.ts";
import type {StoreMoisture} from "./storeMoisture.ts";

/** A piece in stock that is not finished, and whether it may be turned. Days of the calendar are texts. */
export interface ReadyRow {
  square: string;
  lot: string;
  species: string;
  stage: string;
  nextStage: string;
  /** Days at the stage, the least rest, and what is left of it. */
  restedDays: number;
  restDays: number;
  restLeftDays: number;
  /** Moisture by the meter's last reading and by the last weighing at the stage, %, with 95 % limits and the day; see `pieceMoisture`. */
  meterPct?: number;
  meterLow?: number;
  meterHigh?: number;
  meterOn?: string;
  massPct?: number;
  massLow?: number;
  massHigh?: number;
  weighedOn?: string;
  /** Moisture expected today, see `moistureNow`, and what it is made from. */
  expectedPct?: number;
  expectedLow?: number;
  expectedHigh?: number;
  expectedBy?: string;
  /** What the store tends to, and how far the expected moisture is above it, points. */
  storePct?: number;
  gapPct?: number;
  /** Mass lost between the two weighings compared, the days between, the most it may be, and the scale's uncertainty, g. */
  lostG?: number;
  lostDays?: number;
  limitG?: number;
  scaleG: number;
  /** Mass that should be lost in the next `steadyDays` days by the fitted course, g. */
  expectedLossG?: number;
  verdict: "ready" | "not yet" | "never weighed";
  reason: string;
  /** Whether a weighing today could tell: rest served, not seen to be steady yet, last weighing long enough ago, and steady by now if its course is known. */
  weigh: boolean;
  /** When it should be ready, with the range that time constant and moisture leave; of pieces that are not ready, nor held back by their own readings, where it can be told. */
  until?: string;
  untilLow?: string;
  untilHigh?: string;
}

/** What `readyToTurn` takes beside the book. */
export interface ReadyFrom {
  store: StoreMoisture | undefined;
  times: readonly DryingTime[];
  moisture: ReadonlyMap<string, MoistureNow>;
}

/** A day further ahead than this is not told; common practice, no source. */
const furthestDays = 730;

/**
 * Every piece in stock not yet finished, with its verdict by the shop's own rules (`ready` in the settings; common practice, no source):
 *
 *   ready           the stage's least rest is served, two weighings at the stage tell that the mass is steady (`steadiness`), and the moisture is at
 *                   most `nearPct` above the store's: the expected one, and the measured one as far as its limits tell. Where store or moisture is
 *                   not known the first two decide, and the reason says so
 *   never weighed   the rest is served, but no two weighings at the stage lie `steadyDays` apart: once, long ago or yesterday, tells nothing of steadiness
 *                   whatever is expected. The reason says when to weigh: once it would tell and the course has it steady; `weigh` where that may be today
 *   not yet         all others; a piece still resting is one of them even where it has not been weighed, as there is time
 *
 *   until           the latest of: the rest's end; the day the loss in steadyDays = |gap| D e^(−t/τ)(1 − e^(−steadyDays/τ)) falls to the limit,
 *                   t = τ ln(|gap| D (1 − e^(−d/τ))/limit); the day the gap falls to nearPct, t = τ ln(gap/nearPct); the day a weighing tells
 *   its range       the same with both limits of τ and of the moisture; the store is taken to stay as it is. Without a course `until` is the
 *                   least by rest and weighings, without a range
 *
 * The trap: steady in damp air is not dry, and dry on average is not dry at the core; a rule that a laboratory uses for cubes does not hold for a
 * 40 mm square. What is expected is no measurement: no piece is called ready by it.
 * Source: the rules are common practice, no source; the course as `dryingTimes`. Checked: tests/seasoning/readyToTurn.test.ts, by hand and against
 * the course followed day by day
 */
export function readyToTurn(histories: Histories, {store, times, moisture}: ReadyFrom): ReadyRow[] {
  return histories.pieces
    .filter(({fate}) => fate === "in stock")
    .map((piece) => rowOf(piece, histories, {store, moisture, times}));
}

function rowOf(piece: Piece, {settings, asOf}: Histories, {store, times, moisture}: ReadyFrom): ReadyRow {
  const {stage, from} = piece.stays.at(-1)!;
  const place = settings.stages.findIndex(({name}) => name === stage);
  const {restDays} = settings.stages[place]!;
  const restedDays = asOf - from;
  const restLeftDays = Math.max(0, Math.ceil(restDays - restedDays));
  const weighed = steadiness(piece, settings);
  const measured = pieceMoisture(piece, settings.accuracy);
  const now = moisture.get(piece.square);
  const gap = store && now && gapOf(now, store);
  const known = {restLeftDays, weighed, gap};
  const state = {
    ...known,
    wet: store && wetOf(measured, store, {...known, settings, from, asOf}),
    time: dryingTimeOf(times, {species: piece.species, stage}),
    massG: measured.mass?.dryG ?? (weighed.massG === undefined ? undefined : dryOf(weighed.massG, now))
  };
  const ahead = daysAhead(state, settings, asOf);
  const {verdict, reason} = verdictOf(state, ahead, settings, asOf);
  const day = (count: number) => dayText(asOf + count);
  const isRange = ahead?.low !== undefined && ahead.high !== undefined;
  const {meter, mass} = measured;
  return {
    square: piece.square,
    lot: piece.lot,
    species: piece.species,
    stage,
    nextStage: settings.stages[place + 1]!.name,
    restedDays,
    restDays,
    restLeftDays,
    ...(meter && {meterPct: meter.pct, meterLow: meter.low, meterHigh: meter.high, meterOn: dayText(meter.day)}),
    ...(mass && {massPct: mass.pct, massLow: mass.low, massHigh: mass.high}),
    ...(weighed.weighedOn !== undefined && {weighedOn: dayText(weighed.weighedOn)}),
    ...(now && {expectedPct: now.pct, expectedLow: now.low, expectedHigh: now.high, expectedBy: now.by.join(", ")}),
    ...(store && {storePct: store.equilibriumPct}),
    ...(gap && {gapPct: gap.pct}),
    ...(weighed.lostG !== undefined && {lostG: weighed.lostG, lostDays: weighed.days!, limitG: weighed.limitG!}),
    scaleG: settings.accuracy.scaleG,
    ...expectedLoss(state, settings),
    verdict,
    reason,
    weigh:
      verdict !== "ready" &&
      restLeftDays === 0 &&
      !state.wet &&
      weighed.steady !== true &&
      waitOf(weighed, ahead, asOf) <= 0,
    ...(verdict !== "ready" && !state.wet && ahead && {until: day(ahead.days)}),
    ...(verdict !== "ready" && !state.wet && isRange && {untilLow: day(ahead.low!), untilHigh: day(ahead.high!)})
  };
}

/** What is known of a piece today; `massG` is its dry mass. */
interface State {
  restLeftDays: number;
  weighed: Steadiness;
  gap: ReturnType<typeof gapOf> | undefined;
  /** That its own readings hold it back: then the course cannot say until when. */
  wet: string | undefined;
  time: DryingTime | undefined;
  massG: number | undefined;
}

const gapOf = ({pct, low, high}: MoistureNow, {equilibriumPct}: StoreMoisture) => ({
  pct: pct - equilibriumPct,
  low: low - equilibriumPct,
  high: high - equilibriumPct,
  storePct: equilibriumPct
});

const dryOf = (massG: number, now: MoistureNow | undefined) => now && massG / (1 + now.pct / 100);

/**
 * Whether a rested piece is too wet by its own readings, even at their lower limit: by the meter, if read at this stage in the last `steadyDays` days,
 * as older readings say how wet it was and the course takes them on from there; or by mass, as weighed last, where nothing else holds it back.
 */
function wetOf(
  {meter, mass}: PieceMoisture,
  {equilibriumPct}: StoreMoisture,
  {
    restLeftDays,
    weighed,
    gap,
    settings: {ready},
    from,
    asOf
  }: Pick<State, "restLeftDays" | "weighed" | "gap"> & Pick<Histories, "settings" | "asOf"> & {from: number}
): string | undefined {
  if (restLeftDays > 0) return undefined;
  const isWet = ({low}: {low: number}) => low - equilibriumPct > ready.nearPct;
  if (meter && meter.day >= Math.max(from, asOf - ready.steadyDays) && isWet(meter))
    return `the meter read ${meter.pct.toFixed(1)} % on ${dayText(meter.day)}, ${points(meter.pct - equilibriumPct)} above the store: read it again`;
  return weighed.steady && !(gap && gap.pct > ready.nearPct) && mass && isWet(mass)
    ? "steady, but by its own readings far wetter than the store: read the meter again"
    : undefined;
}

function verdictOf(
  {restLeftDays, weighed, gap, wet}: State,
  ahead: Ahead | undefined,
  {ready}: Histories["settings"],
  asOf: number
): Pick<ReadyRow, "verdict" | "reason"> {
  if (restLeftDays > 0) return {verdict: "not yet", reason: `the least rest has ${days(restLeftDays)} to go`};
  if (wet) return {verdict: "not yet", reason: wet};
  const wait = waitOf(weighed, ahead, asOf);
  const next = wait > 0 ? `on ${dayText(asOf + wait)}` : "today";
  if (weighed.steady === undefined) {
    const why =
      weighed.weighings === 0 ? "not weighed at this stage" : "not weighed twice at this stage far enough apart";
    const twice = weighed.weighings === 0 ? ` and again in ${days(Math.ceil(ready.steadyDays))}` : "";
    return {verdict: "never weighed", reason: `${why}: weigh it ${next}${twice}`};
  }
  if (!weighed.steady) {
    const change = `${grams(Math.abs(weighed.lostG!))} ${weighed.lostG! > 0 ? "lost" : "gained"} in ${days(weighed.days!)}`;
    return {verdict: "not yet", reason: `${change}, at most ${grams(weighed.limitG!)} is steady: weigh it ${next}`};
  }
  if (gap && gap.pct > ready.nearPct) {
    const above = `${points(gap.pct)} above the store's moisture`;
    return {verdict: "not yet", reason: `steady, but ${above}, at most ${points(ready.nearPct)} wanted`};
  }
  return {
    verdict: "ready",
    reason: gap ? "rested, steady, near the store's moisture" : "rested and steady; how dry it is cannot be told"
  };
}

/** Days until a weighing could settle it: not before one tells, nor before the course has it ready. */
function waitOf({tellsFrom}: Steadiness, ahead: Ahead | undefined, asOf: number): number {
  // A piece never weighed at the stage is weighed first of all.
  return tellsFrom === undefined ? 0 : Math.max(0, tellsFrom - asOf, ahead?.days ?? 0);
}

const days = (count: number) => (count === 1 ? "1 day" : `${count} days`);
const grams = (value: number) => `${Number(value.toFixed(1))} g`;
const points = (value: number) => `${value.toFixed(1)} points`;

/** Mass lost or gained in so many days by the course, g. */
function lossAhead(gapPct: number | undefined, tau: number | undefined, dryG: number | undefined, within: number) {
  if (gapPct === undefined || tau === undefined || dryG === undefined) return undefined;
  return ((Math.abs(gapPct) * dryG) / 100) * -Math.expm1(-within / tau);
}

function expectedLoss({gap, time, massG}: State, {ready}: Histories["settings"]): Pick<ReadyRow, "expectedLossG"> {
  const loss = lossAhead(gap?.pct, time?.days, massG, ready.steadyDays);
  return loss === undefined ? {} : {expectedLossG: Math.sign(gap!.pct) * loss};
}

/** Whole days until a piece should be ready; with its range where its course is known, else the least by rest and weighings. */
interface Ahead {
  days: number;
  low?: number;
  high?: number;
}

/** Undefined where it is too far off, or cannot be told. */
function daysAhead(
  {restLeftDays, weighed, gap, time, massG}: State,
  settings: Histories["settings"],
  asOf: number
): Ahead | undefined {
  const {steadyDays, nearPct} = settings.ready;
  const tells = weighed.tellsFrom === undefined ? Math.ceil(steadyDays) : weighed.tellsFrom - asOf;
  const least = Math.max(0, restLeftDays, tells);
  // Too wet, and nobody knows how fast it dries: no day can be told.
  if (gap && gap.pct > nearPct && time?.days === undefined) return undefined;
  if (!gap || time?.days === undefined) return {days: least};
  const until = (gapPct: number, tau: number) => {
    const nearIn = gapPct > nearPct ? tau * Math.log(gapPct / nearPct) : 0;
    const loss = lossAhead(gapPct, tau, massG, steadyDays) ?? 0;
    const limitG = steadyLimit((massG ?? 0) * (1 + gap.storePct / 100), settings);
    const steadyIn = loss > limitG ? tau * Math.log(loss / limitG) : 0;
    return Math.max(least, Math.ceil(Math.max(steadyIn, nearIn)));
  };
  // How steady a piece is that was never on a scale cannot be foreseen, how near it is can.
  if (massG === undefined) return {days: until(gap.pct, time.days)};
  const taus = [time.daysLow ?? time.days, time.days, time.daysHigh ?? time.days];
  const gaps = [gap.low, gap.pct, gap.high, ...(gap.low < 0 && gap.high > 0 ? [0] : [])];
  const all = gaps.flatMap((pct) => taus.map((tau) => until(pct, tau)));
  const high = Math.max(...all);
  return high > furthestDays ? undefined : {days: until(gap.pct, time.days), low: Math.min(...all), high};
}
