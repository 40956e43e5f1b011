import type {Measurement, Piece} from "../book/histories.ts";
import type {Settings} from "../book/settings.ts";
import {normalQuantile} from "../stats/normalQuantile.ts";

/** The dry wood of a piece at one stage, g, as all readings of the meter tell. */
export interface DryMass {
  stage: string;
  dryG: number;
  /** Its relative standard error. */
  sdFraction: number;
  /** Readings of the meter behind it. */
  readings: number;
}

/** The moisture of a piece, % of oven-dry mass, by the meter and by mass. */
export interface PieceMoisture {
  /** The last reading of the meter. */
  meter?: {pct: number; low: number; high: number; day: number};
  /** By the last weighing at the stage the piece is at, with the dry mass of all readings. */
  mass?: {pct: number; low: number; high: number; day: number; massG: number; dryG: number; readings: number};
}

/** A weighing stands for the cut when it was done on its day or so many days before; common practice, no source. */
export const daysBeforeCut = 3;

/**
 * The dry mass of a piece at each of its stages, g, pooled from all readings of the meter, earlier and later ones.
 *
 *   of one reading   D = m/(1 + M/100), with the mass m of the same day       u² = (uM/(100 + M))² + (um/m)²
 *   over a cut       D after = D before · m after/m before      weighed before (at most three days) and after it, u² + (um/m)² of both
 *   pooled           ln D = Σ w ln D / Σ w, w = 1/u², of the readings at the stage, of all before carried to it, and of all after carried back
 *
 * Each reading has an error of its own, so five of them know the dry mass twice as well as one; mass alone says nothing of it. A stage that no
 * chain of cuts weighed on both sides joins to a reading has none.
 *
 * The trap: a meter that reads high at every reading is high in the mean too; the interval knows only what differs from reading to reading.
 * Source: oven-dry method, M = (m − m₀)/m₀; weighted mean and JCGM 100:2008 (GUM), eq. 10; pooled stage by stage, and so with the error of a cut
 * common to all readings beyond it, as Kalman's filter does forwards and backwards (all from memory). Checked:
 * tests/seasoning/pieceMoisture.test.ts, by hand, against generalised least squares with all covariances, and by simulation
 *
 * @returns one row for each stage at which it is known
 */
export function dryMasses({stays, measurements}: Piece, accuracy: Settings["accuracy"]): DryMass[] {
  const stages = stays
    .map(({stage, from}) => ({stage, from, here: measurements.filter((one) => one.stage === stage)}))
    .filter(({here}) => here.some(({massG}) => massG !== undefined));
  const links = stages.map(({stage, from, here}, i) => {
    const after = here.find(({turned, day, massG}) => turned && day === from && massG !== undefined)?.massG;
    const before = stages[i - 1]?.here.findLast(({massG}) => massG !== undefined);
    const isWeighed = after !== undefined && before && from - before.day <= daysBeforeCut;
    const cut = isWeighed && {
      ln: Math.log(after / before.massG!),
      variance: (accuracy.scaleG / after) ** 2 + (accuracy.scaleG / before.massG!) ** 2
    };
    return {stage, cut, own: here.map((one) => readingOf(one, here, accuracy)).reduce(joined, nothing)};
  });
  const upTo: Known[] = [];
  for (const {own, cut} of links) upTo.push(joined(own, cut ? carried(upTo.at(-1)!, cut) : nothing));
  const beyond = links.map(() => nothing);
  for (let i = links.length - 1; i > 0; i--) {
    const {own, cut} = links[i]!;
    if (cut) beyond[i - 1] = carried(joined(own, beyond[i]!), {...cut, ln: -cut.ln});
  }
  return links.flatMap(({stage}, i) => {
    const {lnDry, weight, readings} = joined(upTo[i]!, beyond[i]!);
    return readings === 0 ? [] : [{stage, dryG: Math.exp(lnDry), sdFraction: Math.sqrt(1 / weight), readings}];
  });
}

/** What some readings tell of the dry mass at a stage: its logarithm, and one over the variance of that. */
interface Known {
  lnDry: number;
  weight: number;
  readings: number;
}

const nothing: Known = {lnDry: 0, weight: 0, readings: 0};

/** What one measurement tells: nothing without a reading of the meter and a mass of the day. */
function readingOf(one: Measurement, here: readonly Measurement[], accuracy: Settings["accuracy"]): Known {
  const massG = one.massG ?? here.find(({day, massG: g}) => day === one.day && g !== undefined)?.massG;
  if (one.moisturePct === undefined || massG === undefined) return nothing;
  const variance = (accuracy.meterPct / (100 + one.moisturePct)) ** 2 + (accuracy.scaleG / massG) ** 2;
  // Of an instrument without error it would be infinite.
  return {lnDry: Math.log((100 * massG) / (100 + one.moisturePct)), weight: 1 / Math.max(1e-12, variance), readings: 1};
}

/** Two things known apart, as one. */
function joined(a: Known, b: Known): Known {
  if (a.weight === 0 || b.weight === 0) return a.weight === 0 ? b : a;
  const weight = a.weight + b.weight;
  return {lnDry: (a.weight * a.lnDry + b.weight * b.lnDry) / weight, weight, readings: a.readings + b.readings};
}

/** What is known on one side of a cut, on the other. */
function carried({lnDry, weight, readings}: Known, {ln, variance}: {ln: number; variance: number}): Known {
  return weight === 0 ? nothing : {lnDry: lnDry + ln, weight: 1 / (1 / weight + variance), readings};
}

/**
 * Moisture at a weighing by the dry mass of its stage, % of oven-dry mass, with its standard error.
 *
 *   M = 100 (m/D − 1)        u = (100 + M) √(uD² + (um/m)²)
 *
 * The trap: the doubt is that of the dry mass, common to all weighings of the piece; how much it lost between two is known some ten times better.
 * Source: as `dryMasses`. Checked: tests/seasoning/pieceMoisture.test.ts
 */
export function moistureAt(massG: number, {dryG, sdFraction}: DryMass, {scaleG}: Settings["accuracy"]) {
  const pct = 100 * (massG / dryG - 1);
  return {pct, sdPct: (100 + pct) * Math.hypot(sdFraction, scaleG / massG)};
}

/**
 * The moisture of a piece where it stands last, by the meter's last reading and by its last weighing at its stage, % of oven-dry mass, each with
 * 95 % limits and its day. By mass it hangs on all readings of the meter that the piece ever had, see `dryMasses`.
 *
 * Source: as `dryMasses`. Checked: tests/seasoning/pieceMoisture.test.ts
 *
 * @returns without `meter` where it never was read, without `mass` where it was not weighed at its stage or its dry mass is not known
 */
export function pieceMoisture(piece: Piece, accuracy: Settings["accuracy"]): PieceMoisture {
  const {stage} = piece.stays.at(-1)!;
  const read = piece.measurements.findLast(({moisturePct}) => moisturePct !== undefined);
  const weighed = piece.measurements.findLast((one) => one.stage === stage && one.massG !== undefined);
  const dry = weighed && dryMasses(piece, accuracy).find((one) => one.stage === stage);
  return {
    ...(read && {meter: {...limits(read.moisturePct!, accuracy.meterPct), day: read.day}}),
    ...(dry && {mass: byMass(weighed, dry, accuracy)})
  };
}

function byMass({massG, day}: Measurement, dry: DryMass, accuracy: Settings["accuracy"]) {
  const {pct, sdPct} = moistureAt(massG!, dry, accuracy);
  return {...limits(pct, sdPct), day, massG: massG!, dryG: dry.dryG, readings: dry.readings};
}

function limits(pct: number, sd: number) {
  const half = normalQuantile(0.975) * sd;
  return {pct, low: Math.max(0, pct - half), high: pct + half};
}
