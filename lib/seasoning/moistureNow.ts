import type {Histories, Piece} from "../book/histories.ts";
import type {Reading} from "../book/records.ts";
import {byLot} from "../book/spells.ts";
import {normalFactor} from "../stats/interval.ts";
import {mean} from "../stats/mean.ts";
import {least, sum} from "../stats/numbers.ts";
import {type Drying, dryingTimeOf} from "./dryingTimes.ts";
import {dryMasses, moistureAt} from "./pieceMoisture.ts";
import {smoothedCourse} from "./smoothedCourse.ts";
import {storeCourse} from "./storeMoisture.ts";

/** The moisture that a piece should have today, % of oven-dry mass: expected, not measured. */
export interface MoistureNow {
  pct: number;
  low: number;
  high: number;
  /** What it is made from: "meter", "losses", "lot", in this order. */
  by: ("meter" | "losses" | "lot")[];
  /** The same for the day it came to its stage (of a square: was measured), from meter and lot, with its standard error, points. */
  cameWithPct?: number;
  cameWithSdPct?: number;
}

/** One guess and its standard error, points. */
interface Guess {
  by: MoistureNow["by"][number];
  pct: number;
  sdPct: number;
}

/**
 * How far a guess may be off beside what is reckoned, points, standard errors; common practice, no source: where the offset of the meter is not known;
 * one piece from the mean of its lot at intake; and any course from the true one.
 */
const [offsetSdPct, pieceSdPct, courseSdPct] = [0.5, 1, 0.2];

/**
 * The moisture of every piece in stock on the day of the question, expected by the course that its stage dries at, with 95 % limits: up to three guesses,
 * each weighted by 1/(its variance).
 *
 *   meter    M at the last weighing of its stage by the dry mass of all its readings (`pieceMoisture`), less the meter's offset
 *   losses   D = (m₁ − a m₀)/(1 − a + R), M₁ = m₁/D − 1, from the first weighing at the stage and the last, Δ days later; a = e^(−Δ/τ), R what the
 *            store alone brings dry wood to in Δ
 *   lot      the mean of the lot at intake, less the offset, followed through all stages
 *   from its day to today   M ← M + (1 − e^(−1/τ))(E(day) − M), day by day, E as `smoothedCourse`
 *
 * It is in the terms of the store's equation, so it may be set against the store's equilibrium; where the meter has an offset it reads otherwise.
 *
 * The trap: it is what pieces like this one do. One that dries otherwise, through wax or a wet corner, is found by weighing it, not here.
 * Error: limits as the guesses' own errors make them, taken as independent; that of τ is in `losses` alone.
 * Source: as `dryingTimes`; weighted mean. Checked: tests/seasoning/moistureNow.test.ts; tests/recovery/drying.test.ts, against the true moisture of the
 * sample's pieces
 *
 * @returns by square; without those of which nothing can be said, as where neither the store nor the meter was read
 */
export function moistureNow(
  {settings, asOf, pieces}: Pick<Histories, "settings" | "asOf" | "pieces">,
  climate: readonly Reading[],
  {times, offsets}: Pick<Drying, "times" | "offsets">
): Map<string, MoistureNow> {
  const first = least(
    pieces.map(({measurements, boughtOn}) => measurements[0]?.day ?? boughtOn),
    asOf
  );
  const store = smoothedCourse(storeCourse(climate, {settings, from: first, to: asOf}));
  const follow: Follow = (pct, from, to, days) => {
    let now: number | undefined = pct;
    const share = -Math.expm1(-1 / days);
    for (let day = from; day < to && now !== undefined; day++) {
      const tendsTo = store[day - first];
      now = tendsTo === undefined ? undefined : now + share * (tendsTo - now);
    }
    return now;
  };
  const answers = new Map<string, MoistureNow>();
  for (const lot of byLot(pieces)) {
    const {species} = lot[0]!;
    const offset = offsets.find((one) => one.species === species);
    const intakePct = mean(lot.map(({intake}) => intake.moisturePct))! - (offset?.offsetPct ?? 0);
    const daysOf = (stage: string) => dryingTimeOf(times, {species, stage});
    for (const piece of lot) {
      if (piece.fate !== "in stock") continue;
      const frame = {settings, asOf, daysOf, follow, offset};
      const guesses = [byMeter(piece, frame), byLosses(piece, frame), fromLot(piece, intakePct, frame)];
      const known = guesses.filter((one) => one !== undefined);
      if (known.length === 0) continue;
      const day = piece.stays.length === 1 ? (piece.measurements[0]?.day ?? piece.boughtOn) : piece.stays.at(-1)!.from;
      const then = {...frame, asOf: day};
      const before = [byMeter(piece, then), fromLot(piece, intakePct, then)].filter((one) => one !== undefined);
      const came = before.length > 0 ? weighted(before) : undefined;
      answers.set(piece.square, {
        ...limitsOf(weighted(known)),
        by: known.map(({by}) => by),
        ...(came && {cameWithPct: came.pct, cameWithSdPct: came.sdPct})
      });
    }
  }
  return answers;
}

/** Moisture on a later day of wood that follows the store with the time constant; undefined where the store is not known. */
type Follow = (pct: number, from: number, to: number, days: number) => number | undefined;

interface Frame {
  settings: Histories["settings"];
  asOf: number;
  daysOf: (stage: string) => ReturnType<typeof dryingTimeOf>;
  follow: Follow;
  offset?: Drying["offsets"][number] | undefined;
}

function byMeter(piece: Piece, {settings: {accuracy, ready}, asOf, daysOf, follow, offset}: Frame): Guess | undefined {
  const {stage} = piece.stays.at(-1)!;
  const weighed = piece.measurements.filter((one) => one.stage === stage && one.massG !== undefined);
  const last = weighed.findLast(({day}) => day <= asOf);
  const dry = dryMasses(piece, accuracy).find((one) => one.stage === stage);
  if (!last || !dry) return undefined;
  const {pct, sdPct} = moistureAt(last.massG!, dry, accuracy);
  const ofOffset = offset
    ? (offset.offsetHigh - offset.offsetLow) / (2 * normalFactor(0.95, "moistureNow"))
    : offsetSdPct;
  const then = {by: "meter" as const, pct: pct - (offset?.offsetPct ?? 0), sdPct: Math.hypot(sdPct, ofOffset)};
  const days = daysOf(stage)?.days;
  const now = days === undefined ? undefined : follow(then.pct, last.day, asOf, days);
  // Without a course a reading holds for a while only.
  if (days === undefined || now === undefined) return asOf - last.day <= ready.steadyDays ? then : undefined;
  return {...then, pct: now, sdPct: Math.hypot(then.sdPct * Math.exp((last.day - asOf) / days), courseSdPct)};
}

function byLosses(piece: Piece, {settings: {accuracy, ready}, asOf, daysOf, follow}: Frame): Guess | undefined {
  const {stage} = piece.stays.at(-1)!;
  const time = daysOf(stage);
  const weighed = piece.measurements.filter((one) => one.stage === stage && one.massG !== undefined);
  const [start, last] = [weighed[0], weighed.at(-1)];
  if (!start || !last || time?.days === undefined || last.day - start.day < ready.steadyDays) return undefined;
  const ended = (days: number) => {
    const response = follow(0, start.day, last.day, days);
    if (response === undefined) return undefined;
    const left = Math.exp((start.day - last.day) / days);
    const dryG = (last.massG! - left * start.massG!) / (1 - left + response / 100);
    return {pct: 100 * (last.massG! / dryG - 1), left};
  };
  const end = ended(time.days);
  const now = end && follow(end.pct, last.day, asOf, time.days);
  if (now === undefined) return undefined;
  // 100 dM/dm of the two masses: 100 a/(1 − a) (1/m₀ and 1/m₁ are alike).
  const ofScale = (100 * Math.SQRT2 * accuracy.scaleG * end!.left) / (last.massG! * (1 - end!.left));
  const [low, high] = [time.daysLow, time.daysHigh].map((days) => (days === undefined ? end!.pct : ended(days)!.pct));
  const ofTime = (high! - low!) / (2 * normalFactor(0.95, "moistureNow"));
  const left = Math.exp((last.day - asOf) / time.days);
  return {by: "losses", pct: now, sdPct: Math.hypot(ofScale * left, ofTime * left, courseSdPct)};
}

function fromLot(piece: Piece, intakePct: number, {asOf, daysOf, follow}: Omit<Frame, "settings">): Guess | undefined {
  let [pct, sdPct]: [number | undefined, number] = [intakePct, pieceSdPct];
  let day = piece.measurements[0]?.day ?? piece.boughtOn;
  for (const {stage, from, to: left} of piece.stays) {
    if (from > asOf || (from === asOf && from > day)) break;
    const to = Math.min(asOf, left ?? asOf);
    const days = daysOf(stage)?.days;
    if (pct === undefined || days === undefined) return undefined;
    pct = follow(pct, day, to, days);
    sdPct *= Math.exp(Math.min(0, day - to) / days);
    day = Math.max(day, to);
  }
  return pct === undefined ? undefined : {by: "lot", pct, sdPct: Math.hypot(sdPct, courseSdPct)};
}

function weighted(guesses: readonly Guess[]): {pct: number; sdPct: number} {
  const weights = guesses.map(({sdPct}) => 1 / sdPct ** 2);
  const pct = sum(guesses.map((one, i) => one.pct * weights[i]!)) / sum(weights);
  return {pct, sdPct: 1 / Math.sqrt(sum(weights))};
}

function limitsOf({pct, sdPct}: {pct: number; sdPct: number}) {
  const half = normalFactor(0.95, "moistureNow") * sdPct;
  return {pct, low: Math.max(0, pct - half), high: pct + half};
}
