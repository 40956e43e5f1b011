import type {Histories, Piece} from "../book/histories.ts";
import type {Reading} from "../book/records.ts";
import {groupBy} from "../book/spells.ts";
import {check} from "../check.ts";
import {clusterMeanInterval} from "../stats/clusterInterval.ts";
import {type ClusterEstimate, clusterJackknife, fewestClusters} from "../stats/clusterJackknife.ts";
import type {Interval} from "../stats/interval.ts";
import {mean} from "../stats/mean.ts";
import {least, sum} from "../stats/numbers.ts";
import {quantile} from "../stats/quantile.ts";
import {root} from "../stats/root.ts";
import {dryMasses, moistureAt} from "./pieceMoisture.ts";
import {smoothedCourse} from "./smoothedCourse.ts";
import {storeCourse} from "./storeMoisture.ts";

type HalfYear = "winter" | "summer";
const halves = ["all year", "winter", "summer"] as const;

/** How fast pieces at a stage follow the store, from those weighed twice there. */
export interface DryingTime {
  species: string;
  stage: string;
  /** When they came to the stage. */
  entered: (typeof halves)[number];
  lots: number;
  pieces: number;
  /** Time constant, days: of the gap to the store's equilibrium 37 % is left after one, 14 % after two, 5 % after three. */
  days?: number;
  /** 95 % limits by lots. */
  daysLow?: number;
  daysHigh?: number;
  /** Why there is no number, or no interval. */
  why?: string;
}

/** How much slower pieces dried that came to a stage in winter. */
export interface DryingHalfYears {
  species: string;
  stage: string;
  winterDays: number;
  summerDays: number;
  /** Time constant of winter as a multiple of summer's. */
  ratio: number;
  ratioLow: number;
  ratioHigh: number;
  /** Whether the interval leaves out 1. */
  isClear: boolean;
}

/** How the meter and the equation of the store's air differ, as the drying of the first stage tells. */
export interface MeterOffset {
  species: string;
  /** What the meter reads above the moisture at which the equation of `equilibriumMoisture` has the wood at rest, points; 95 % limits by lots. */
  offsetPct: number;
  offsetLow: number;
  offsetHigh: number;
}

/** What `dryingTimes` tells. */
export interface Drying {
  times: DryingTime[];
  halfYears: DryingHalfYears[];
  offsets: MeterOffset[];
}

/** Between these a time constant is looked for, days; common practice, no source. */
const [shortest, longest] = [1, 1000];
/** Limits further apart than this many times tell nothing worth planning with; common practice, no source. */
const widest = 10;
/** How far a piece may be from the course of its lot, points; only weights hang on it. Common practice, no source. */
const followedSdPct = 0.3;

/**
 * The time constant of drying at each stage by species, days, from pieces weighed twice or more there, with 95 % limits by lots; all year, and by
 * the half of the year in which the piece came to the stage.
 *
 *   dM/dt = (E(t) − M)/τ        E what the store's air tends to on that day (`storeCourse`, `smoothedCourse`), so the season is in it
 *   loss m₀ − m₁ = h (m₀ − D(1 + Ē))        h = 1 − e^(−Δ/τ), Δ days between; Ē the mean of E with weights e^(−(t₁ − t)/τ)
 *   τ solves Σ z c·(loss − predicted loss) = 0        c = V⁻¹ dh/d ln τ, V the variance of a piece's losses less those predicted
 *   first stage: D by all readings of the piece's meter (`dryMasses`) less an offset, z = start moisture of the lot's other pieces, mean, less mean E;
 *     the offset, common to all, solves Σ V⁻¹ h·(loss − predicted loss) = 0
 *   later: D = m₀/(1 + M), z = M − mean E, M what the lot's intake moisture, less the offset, has come to with the time constants of the stages before
 *   limits: ln τ ∓ t √v, v from leaving out each lot in turn of all stages at once
 *
 * The trap: the gap of one piece is known to the error of its meter, a point or more, and later gaps are no larger: least squares on them makes τ
 * far too long. The first stage's z foresees the gap with other pieces' errors, which have nothing to do with its own, so the sum is 0 on average
 * at the true τ. Later the meter is not used at all: what was wrong at intake has died away, and the gap is what the store's weather and season make.
 * A meter that reads high, or wood that rests at another moisture than the equation says, is the offset and moves no τ.
 * Error: limits hold the truth in 95 to 97 of 100 simulated workshops. A meter off on the day of one lot moves the first τ; readings of the air that
 * are off by 3 % of humidity, each on its own, draw the last one up by a sixth, and its limits then hold in 81 of 100.
 * Range: τ from 1 to 1000 days. Left out are pieces alone in their lot at the first stage, later ones not weighed on the day of the cut, and rests
 * with days on which the store is not known. Wood does not quite dry by one exponential: the first days are faster; τ is that of rests as they are kept.
 * Source: first-order approach to equilibrium, common practice; instrumental variables, Durbin (1954), Rev. Int. Stat. Inst. 22:23–32; optimal
 * estimating functions, Godambe (1960), Ann. Math. Stat. 31:1208–1211 (both from memory); `clusterJackknife`.
 * Checked: tests/seasoning/dryingTimes.test.ts, by simulated workshops of known truth and a sinusoidal store in closed form; tests/recovery/drying.test.ts
 *
 * @returns `times` by species and stage, three rows each, without `days` and with `why` where the data cannot tell: fewer than four lots, or limits
 * more than tenfold apart; `halfYears` where both halves can be told, limits at the level 1 − 0.05/stages so that those of a species hold together;
 * `offsets` by species
 */
export function dryingTimes(
  {settings, asOf, pieces}: Pick<Histories, "settings" | "asOf" | "pieces">,
  climate: readonly Reading[],
  {halfYearOf}: {halfYearOf: (day: number) => HalfYear}
): Drying {
  const from = least(
    pieces.map(({measurements, boughtOn}) => measurements[0]?.day ?? boughtOn),
    asOf
  );
  const course = smoothedCourse(storeCourse(climate, {settings, from, to: asOf}));
  // Followed some ten thousand times: numbers side by side, NaN where it is not known, make that ten times faster.
  const store = Float64Array.from(course, (tendsTo) => tendsTo ?? Number.NaN);
  const stages = settings.stages.slice(0, -1).map(({name}) => name);
  const nextHole = course.map(() => course.length);
  for (let day = course.length - 1; day >= 0; day--)
    nextHole[day] = course[day] === undefined ? day : (nextHole[day + 1] ?? course.length);
  const sumBefore = new Float64Array(store.length + 1);
  for (let day = 0; day < store.length; day++) sumBefore[day + 1] = sumBefore[day]! + (course[day] ?? 0);
  const frame = {store, nextHole, sumBefore, stages, first: from, halfYearOf};
  const answers: Drying = {times: [], halfYears: [], offsets: []};
  for (const [species, own] of [...groupBy(pieces, (piece) => piece.species)].sort()) {
    const lots = [...groupBy(own, ({lot}) => lot).values()].map((lot) =>
      lotOf(lot.map((piece) => trackOf(piece, {settings, ...frame})))
    );
    const keptWeights: KeptWeights = new Map();
    const whole = fitStages(lots, frame, keptWeights);
    const logs = clusterJackknife(lots.length, (weights) => {
      const kept = lots.filter((_, i) => weights[i] !== 0);
      const fits = fitStages(kept, frame, keptWeights, whole);
      const value = (days: number | undefined) => (days === undefined ? undefined : Math.log(days));
      const ofStages = fits.flatMap(([all, winter, summer]) => [
        ...[all, winter, summer].map((fit) => value(fit!.days)),
        winter!.days === undefined || summer!.days === undefined ? undefined : value(winter!.days / summer!.days)
      ]);
      return [...ofStages, fits[0]![0]!.offsetPct];
    });
    const offset = logs[4 * stages.length];
    const first = whole[0]![0]!;
    if (offset && first.lots >= fewestClusters) {
      const {low, high} = clusterMeanInterval({...offset, clusters: first.lots});
      answers.offsets.push({species, offsetPct: offset.estimate, offsetLow: low, offsetHigh: high});
    }
    stages.forEach((stage, s) => {
      const [all, winter, summer] = whole[s]!;
      const rows = [all, winter, summer].map((fit, i): DryingTime => {
        const counts = {species, stage, entered: halves[i]!, lots: fit!.lots, pieces: fit!.pieces};
        return {...counts, ...told(fit!, logs[4 * s + i], store)};
      });
      answers.times.push(...rows);
      const ratio = logs[4 * s + 3];
      if (!ratio || rows[1]!.days === undefined || rows[2]!.days === undefined) return;
      const clusters = Math.min(winter!.lots, summer!.lots);
      const {low, high} = clusterMeanInterval({...ratio, clusters}, {level: 1 - 0.05 / stages.length});
      answers.halfYears.push({
        species,
        stage,
        winterDays: rows[1]!.days,
        summerDays: rows[2]!.days,
        ratio: Math.exp(ratio.estimate),
        ratioLow: Math.exp(low),
        ratioHigh: Math.exp(high),
        isClear: low > 0 || high < 0
      });
    });
  }
  return answers;
}

/** The row of a species and a stage that holds all year. */
export function dryingTimeOf(
  times: readonly DryingTime[],
  {species, stage}: {species: string; stage: string}
): DryingTime | undefined {
  return times.find((one) => one.species === species && one.stage === stage && one.entered === "all year");
}

/**
 * Days until a piece that is `gapPct` points of moisture above the store's equilibrium is within `nearPct` of it, with the limits of the time
 * constant; 0 where it is already (or below).
 *
 *   days = τ ln(gap/near)
 *
 * The trap: the store is taken to stay as it is, and the gap to be known; near nothing is never reached.
 * Source: the exponential course turned round. Checked: tests/seasoning/dryingTimes.test.ts
 *
 * @returns undefined where the time constant is not known; without limits where it has none
 * @throws RangeError unless nearPct is positive
 */
export function daysUntilNear(
  {days, daysLow, daysHigh}: Pick<DryingTime, "days" | "daysLow" | "daysHigh">,
  gapPct: number,
  nearPct: number
): ({days: number} & Partial<Interval>) | undefined {
  check(nearPct > 0 && nearPct < Infinity, "daysUntilNear: nearPct", "positive", nearPct);
  const times = gapPct > nearPct ? Math.log(gapPct / nearPct) : 0;
  if (times === 0) return {days: 0, low: 0, high: 0};
  if (days === undefined) return undefined;
  const limits = daysLow !== undefined && daysHigh !== undefined;
  return {days: days * times, ...(limits && {low: daysLow * times, high: daysHigh * times})};
}

/** How timber follows the store with a time constant; see `answerOf`. */
interface Answer {
  /** Where it stands on each day, %. */
  pct: Float64Array;
  /** Of a gap to it, the share that is left after so many days, e^(−days/τ). */
  left: Float64Array;
}

/** The pieces of a lot, with what is the same whatever the time constants and whichever other lots there are. */
interface Lot {
  /** Those with losses at a later stage: the others need not be followed. */
  tracks: readonly Track[];
  /** Moisture by the meter at intake, mean. */
  intakePct: number;
  firstRuns: readonly Run[];
}

/** A piece as the fit needs it. Days are counted from the first of the store's course. */
interface Track {
  lot: string;
  /** Moisture by the meter at intake, and the day. */
  intakePct: number;
  intakeOn: number;
  /** One for each stage, undefined where it never was. */
  rests: (Rest | undefined)[];
}

interface Rest {
  from: number;
  half: HalfYear;
  to?: number;
  /** First weighing at the stage, g. */
  start: number;
  m0: number;
  scalePct: number;
  /** Those after it: the day and the mass lost, g. */
  later: {day: number; lostG: number}[];
  /** What the store tended to from the first weighing to the last, mean, %; undefined where it was not known on all days. */
  tendsTo?: number;
  /** By the meter: dry mass, g, and moisture at the first weighing with its standard error, %. */
  read?: {dryG: number; pct: number; sdPct: number};
}

function trackOf(
  piece: Piece,
  {settings: {accuracy}, stages, first, nextHole, sumBefore, halfYearOf}: {settings: Histories["settings"]} & Frame
): Track {
  const dry = dryMasses(piece, accuracy);
  const rests = stages.map((stage): Rest | undefined => {
    const stay = piece.stays.find((one) => one.stage === stage);
    if (!stay) return undefined;
    const [start, ...rest] = piece.measurements.filter((one) => one.stage === stage && one.massG !== undefined);
    const m0 = start?.massG ?? Number.NaN;
    const own = dry.find((one) => one.stage === stage);
    const later = rest.flatMap(({day, massG}) => (day > start!.day ? [{day: day - first, lostG: m0 - massG!}] : []));
    const [begin, end] = [(start?.day ?? stay.from) - first, later.at(-1)?.day];
    const isKnown = end !== undefined && nextHole[begin]! >= end;
    return {
      from: stay.from - first,
      half: halfYearOf(stay.from),
      ...(stay.to !== undefined && {to: stay.to - first}),
      start: begin,
      m0,
      scalePct: (100 * accuracy.scaleG) / m0,
      later,
      ...(isKnown && {tendsTo: (sumBefore[end]! - sumBefore[begin]!) / (end - begin)}),
      ...(own && start && {read: {dryG: own.dryG, ...moistureAt(m0, own, accuracy)}})
    };
  });
  const intakeOn = (piece.measurements[0]?.day ?? piece.boughtOn) - first;
  return {lot: piece.lot, intakePct: piece.intake.moisturePct, intakeOn, rests};
}

/** The losses of one piece at one stage, with what is foreseen of them. */
interface Run {
  lot: string;
  rest: Rest;
  dryG: number;
  /** Standard error of the start moisture, points. */
  sdPct: number;
  /** Gap foreseen, points. */
  z: number;
}

/** Weights of a piece's losses for the time constant, for each point of the gap foreseen, and for the offset. */
interface Weights {
  slope: number[];
  flat: number[];
}

/** Weights made for a time constant, kept: they do not change when a lot is left out. */
type KeptWeights = Map<number, Map<Rest, Weights>>;

interface Fit {
  days: number | undefined;
  /** What the meter reads above what the store's equation calls the same moisture, points; of the first stage all year. */
  offsetPct?: number;
  lots: number;
  pieces: number;
}

interface Frame {
  /** What the store tends to, %, by day; NaN where it is not known. */
  store: Float64Array;
  /** From each day the next on which the store is not known. */
  nextHole: readonly number[];
  /** What it tended to on all days before a day added up. */
  sumBefore: Float64Array;
  stages: readonly string[];
  first: number;
  halfYearOf: (day: number) => HalfYear;
}

/** Stage after stage the fit of all year, winter and summer; with `whole` near to and with the weights of that. */
function fitStages(
  lots: readonly Lot[],
  {store, nextHole, stages}: Frame,
  kept: KeptWeights,
  whole?: readonly Fit[][]
): Fit[][] {
  let followed: (Come | undefined)[][] = [];
  return stages.map((_, s) => {
    const runs = lots.flatMap(({tracks, firstRuns}, i) => (s === 0 ? firstRuns : laterRuns(tracks, s, followed[i]!)));
    let offsetPct: number | undefined;
    const fits = halves.map((entered, i): Fit => {
      const own = entered === "all year" ? runs : runs.filter(({rest}) => rest.half === entered);
      const fit = solved(own, store, {
        near: whole?.[s]?.[i],
        offsetPct: s > 0 ? 0 : offsetPct,
        kept
      });
      offsetPct ??= fit?.offsetPct;
      return {...fit, days: fit?.days, lots: lotsOf(own), pieces: own.length};
    });
    if (s === stages.length - 1) return fits;
    const came = s === 0 ? lots.map((lot) => atIntake(lot, offsetPct ?? 0)) : followed;
    const answers = fits.map(({days, lots: many}) => {
      const used = many < fewestClusters || days === undefined ? fits[0]!.days : days;
      return used === undefined ? undefined : answerOf(store, used);
    });
    followed = lots.map(({tracks}, i) =>
      tracks.map((track, k) => {
        const at = came[i]![k];
        const rest = track.rests[s];
        const answer = answers[rest ? halves.indexOf(rest.half) : 0];
        if (!at || !answer || rest?.to === undefined || rest.to < at.day || nextHole[at.day]! < rest.to)
          return undefined;
        const left = answer.left[rest.to - at.day]!;
        return {day: rest.to, pct: answer.pct[rest.to]! + (at.pct - answer.pct[at.day]!) * left};
      })
    );
    return fits;
  });
}

/** What a piece has come to at the beginning of a stage by the course of its lot, %. */
interface Come {
  day: number;
  pct: number;
}

/** Each piece at intake, with the mean of its lot's readings. */
function atIntake({tracks, intakePct}: Lot, offsetPct: number): Come[] {
  return tracks.map(({intakeOn}) => ({day: intakeOn, pct: intakePct - offsetPct}));
}

function lotOf(tracks: readonly Track[]): Lot {
  return {
    tracks: tracks.filter(({rests: [_, ...later]}) => later.some((rest) => rest?.tendsTo !== undefined)),
    intakePct: mean(tracks.map(({intakePct}) => intakePct))!,
    firstRuns: firstRuns(tracks)
  };
}

/** How many lots the runs are of; those of a lot stand together. */
function lotsOf(runs: readonly Run[]): number {
  return runs.filter(({lot}, i) => lot !== runs[i - 1]?.lot).length;
}

/** The losses of a lot's pieces at the first stage that can be used. */
function firstRuns(lot: readonly Track[]): Run[] {
  const reads = lot.flatMap(({rests: [rest]}) => (rest?.read ? [rest.read.pct] : []));
  const all = sum(reads);
  return lot.flatMap(({lot: name, rests: [rest]}): Run[] => {
    if (rest?.tendsTo === undefined || !rest.read || reads.length < 2) return [];
    const others = (all - rest.read.pct) / (reads.length - 1);
    return [{lot: name, rest, dryG: rest.read.dryG, sdPct: rest.read.sdPct, z: others - rest.tendsTo}];
  });
}

/** Those at a later stage of pieces that have come there by the course of their lot. */
function laterRuns(lot: readonly Track[], s: number, came: readonly (Come | undefined)[]): Run[] {
  const runs: Run[] = [];
  for (const [i, {lot: name, rests}] of lot.entries()) {
    const [rest, at] = [rests[s], came[i]];
    if (rest?.tendsTo === undefined || at?.day !== rest.start) continue;
    runs.push({lot: name, rest, dryG: rest.m0 / (1 + at.pct / 100), sdPct: followedSdPct, z: at.pct - rest.tendsTo});
  }
  return runs;
}

/**
 * Moisture of timber that has followed the store from the first day on, %, by day: any other piece differs from it by a gap that falls by
 * e^(−1/τ) a day, so one course serves all. After days on which the store is not known it begins anew.
 *
 * @param into an answer that is wanted no more, to be written over: making a new one takes as long as following the store
 */
function answerOf(store: Float64Array, days: number, into = emptyAnswer(store)): Answer {
  const {pct, left} = into;
  const share = -Math.expm1(-1 / days);
  let at = known(store[0]);
  let still = 1;
  for (let day = 0; day < store.length; day++) {
    pct[day] = at;
    left[day] = still;
    const tendsTo = store[day]!;
    at = Number.isNaN(tendsTo) ? known(store[day + 1]) : at + share * (tendsTo - at);
    still -= share * still;
  }
  pct[store.length] = at;
  left[store.length] = still;
  return into;
}

function emptyAnswer(store: Float64Array): Answer {
  return {pct: new Float64Array(store.length + 1), left: new Float64Array(store.length + 1)};
}

/** What the store tends to on a day, or 0 where that is not known. */
const known = (tendsTo: number | undefined) => (tendsTo === undefined || Number.isNaN(tendsTo) ? 0 : tendsTo);

/**
 * The time constant at which the weighted losses are as predicted, days; with the weights made anew until they fit it, or those of `near`. Without
 * `offsetPct` that is found too: the losses are as predicted with weights for it as well.
 */
function solved(
  runs: readonly Run[],
  store: Float64Array,
  {near, offsetPct, kept}: {near?: Fit | undefined; offsetPct?: number | undefined; kept: KeptWeights}
): {days: number; offsetPct?: number} | undefined {
  if (runs.length === 0 || (near && near.days === undefined)) return undefined;
  let days =
    near?.days ??
    quantile(
      runs.map(({rest: {start, later}}) => later.at(-1)!.day - start),
      0.5
    )! / 1.5;
  let found: {days: number; offsetPct?: number} | undefined;
  const answer = emptyAnswer(store);
  for (let round = near ? 3 : 0; round < 4; round++) {
    const own = kept.get(days) ?? new Map<Rest, Weights>();
    if (near) kept.set(days, own);
    const weights = runs.map((run) => {
      const before = own.get(run.rest);
      if (before) return before;
      const weight = weightsOf(run, days);
      own.set(run.rest, weight);
      return weight;
    });
    const sums = (tried: number) => {
      answerOf(store, tried, answer);
      const total = {excess: 0, perPoint: 0, flatExcess: 0, flatPerPoint: 0};
      for (let i = 0; i < runs.length; i++) addExcess(total, runs[i]!, weights[i]!, answer);
      return total;
    };
    const offset = ({flatExcess, flatPerPoint}: ReturnType<typeof sums>) => offsetPct ?? -flatExcess / flatPerPoint;
    const at = crossing((tried) => {
      const total = sums(tried);
      return total.excess + offset(total) * total.perPoint;
    }, days);
    if (at === undefined) return undefined;
    days = at;
    found = {days, ...(offsetPct === undefined && {offsetPct: offset(sums(days))})};
  }
  return found;
}

/**
 * Adds the losses of one piece less those predicted, weighted for the time constant and for the offset (`flat`), and what one point of offset
 * adds to them.
 */
function addExcess(
  total: {excess: number; perPoint: number; flatExcess: number; flatPerPoint: number},
  {rest: {start, m0, later}, dryG, z}: Run,
  {slope, flat}: Weights,
  answer: Answer
): void {
  for (let j = 0; j < later.length; j++) {
    const {day, lostG} = later[j]!;
    const left = answer.left[day - start]!;
    const tendsTo = answer.pct[day]! - left * answer.pct[start]!;
    const excess = (100 * (lostG - (1 - left) * (m0 - dryG) + (dryG * tendsTo) / 100)) / m0;
    const perPoint = ((1 - left) * dryG) / m0;
    total.excess += z * slope[j]! * excess;
    total.perPoint += z * slope[j]! * perPoint;
    total.flatExcess += flat[j]! * excess;
    total.flatPerPoint += flat[j]! * perPoint;
  }
}

/**
 * Weights of a piece's losses: V⁻¹ dh/d ln τ, to be multiplied by z, for the time constant, V⁻¹ h for the offset; V = s² (I + 1 1ᵀ) + u² h hᵀ, as the first weighing and
 * the start moisture are common to all of them.
 */
function weightsOf({rest: {start, later, scalePct}, sdPct}: Run, days: number): Weights {
  const spans = later.map(({day}) => (day - start) / days);
  const h = spans.map((x) => -Math.expm1(-x));
  const slope = spans.map((x) => x * Math.exp(-x));
  const s2 = Math.max(1e-9, scalePct ** 2);
  // (I + 1 1ᵀ)⁻¹ b and then the second vector by Sherman and Morrison's rule.
  const first = (b: readonly number[]) => b.map((one) => (one - sum(b) / (1 + b.length)) / s2);
  const [vSlope, vH] = [first(slope), first(h)];
  const dot = (a: readonly number[], b: readonly number[]) => sum(a.map((one, i) => one * b[i]!));
  const all = 1 + sdPct ** 2 * dot(h, vH);
  const share = (sdPct ** 2 * dot(h, vSlope)) / all;
  return {slope: vSlope.map((one, i) => one - share * vH[i]!), flat: vH.map((one) => one / all)};
}

/** Where the function rises through zero nearest to a place, days: by a few secants if it is near, else looked for from end to end. */
function crossing(f: (days: number) => number, about: number): number | undefined {
  let [a, b] = [about, about * 1.02];
  let [fa, fb] = [f(a), f(b)];
  for (let step = 0; step < 6 && fb > fa === b > a; step++) {
    const next = b * (b / a) ** (fb / (fa - fb));
    if (Math.abs(next / b - 1) < 1e-9) return next;
    if (!(next > about / 2 && next < about * 2)) break;
    [a, fa, b, fb] = [b, fb, next, f(next)];
    if (fa === fb) return b;
  }
  const grid = Array.from({length: 41}, (_, i) => shortest * (longest / shortest) ** (i / 40));
  const values = grid.map(f);
  const rises = grid.flatMap((_, i) => (values[i]! < 0 && values[i + 1]! > 0 ? [i] : []));
  const apart = (i: number) => Math.abs(Math.log(grid[i]! / about));
  const nearest = rises.toSorted((one, other) => apart(one) - apart(other))[0];
  return nearest === undefined ? undefined : root(f, grid[nearest]!, grid[nearest + 1]!);
}

/** What is said of a fit. */
function told({days, lots, pieces}: Fit, log: ClusterEstimate | undefined, store: Float64Array): Partial<DryingTime> {
  if (store.every(Number.isNaN)) return {why: "the store's air is not known: climate.csv has no readings"};
  if (pieces === 0) return {why: "no piece was weighed twice at the stage with its start known"};
  if (days === undefined) return {why: "the moisture changed too little"};
  if (lots < fewestClusters) return {why: `fewer than ${fewestClusters} lots`};
  if (!log) return {why: "it hangs on a single lot"};
  const {low, high} = clusterMeanInterval({...log, clusters: lots});
  if (high - low > Math.log(widest)) return {why: "its limits lie more than tenfold apart"};
  return {days, daysLow: Math.exp(low), daysHigh: Math.exp(high)};
}
