import type {Histories, Piece} from "../book/histories.ts";
import {latheOffs} from "../book/latheOffs.ts";
import {check} from "../check.ts";
import {chanceWithin} from "../stats/chanceWithin.ts";
import {deviation} from "../stats/deviation.ts";
import {mean} from "../stats/mean.ts";
import {shrinkage} from "../wood/shrinkage.ts";
import {type WoodConstants, woodConstants} from "../wood/species.ts";
import type {MoistureNow} from "./moistureNow.ts";
import type {StoreMoisture} from "./storeMoisture.ts";

/** How far diameters at the large end came out from a stage's target, mm, by the book. */
export interface LatheSpread {
  stage: string;
  /** Diameters measured fresh from the lathe. */
  measured: number;
  /** Mean of measured less target, and its standard deviation without the calliper's part. */
  overMm: number;
  sdMm: number;
  /** Whether too few were measured, and the figures are the default. */
  isDefault: boolean;
}

/** One end of a piece against the target of the next stage. Diameters in mm. */
export interface OversizeRow {
  square: string;
  species: string;
  stage: string;
  nextStage: string;
  /** The end with the smaller chance; of two alike the large one. */
  end: "large" | "small";
  /** Where the size comes from: measured, the stage's target with what the lathe gave, or the smaller side of the square. */
  sizeBy: "measured" | "target" | "square";
  sizeMm: number;
  targetMm: number;
  /** What comes off the smaller diameter in drying from the day of that size to the store's equilibrium, of this how much more than off the larger, and the bow to come. */
  shrinkMm: number;
  ovalMm: number;
  bowMm: number;
  /** size − shrinkage − bow − target: what is left to turn off, with its standard deviation. */
  marginMm: number;
  sdMm: number;
  /** Chance that it is at least `ready.clearanceMm`. */
  clearsFraction: number;
  verdict: "clears" | "doubtful" | "too small";
}

/** What is not in the book: common practice, no source. */
export const oversizeDefaults = {
  /** Bow still to come, mm on each metre of length: mean and standard deviation. */
  bowMmPerM: {mean: 0.25, sd: 0.15},
  /** Where fewer than `fewestDiameters` were measured: how far the lathe ends from the target. */
  lathe: {overMm: 0.1, sdMm: 0.2},
  fewestDiameters: 8,
  /** How far the shrinkage of one stick is from that of its species, a share of it. */
  shrinkageShare: 0.2,
  /** How far the wood's rest is from the moisture of the equation, points. */
  storeSdPct: 0.5
} as const;

/**
 * How far diameters came out from the target of each turned stage, mm: mean and standard deviation of the measured ones less target, the calliper's
 * own variance taken off. Where fewer than eight were measured, defaults.
 *
 * Source: mean and standard deviation; variances of independent errors add. Checked: tests/seasoning/oversizeCheck.test.ts, tests/recovery/drying.test.ts
 */
export function latheSpread({settings, pieces}: Pick<Histories, "settings" | "pieces">): LatheSpread[] {
  return settings.stages.slice(1).map(({name: stage}) => {
    const over = latheOffs({settings, pieces}, stage);
    const sd = deviation(over);
    const isDefault = over.length < oversizeDefaults.fewestDiameters || sd === undefined;
    if (isDefault) return {stage, measured: over.length, ...oversizeDefaults.lathe, isDefault};
    const sdMm = Math.sqrt(Math.max(0, sd ** 2 - settings.accuracy.calliperMm ** 2));
    return {stage, measured: over.length, overMm: mean(over)!, sdMm, isDefault};
  });
}

/**
 * Whether each piece in stock will clear the diameter of the next stage, after what it still shrinks and bends: at the end where the chance is
 * smaller, by how much on the diameter, and with which probability.
 *
 *   margin = d − s − b − target        normal with variance u² + (s/5)² + (ds/dM · uM)² + ub²
 *   d   a round: measured at the large end (u the calliper's), else the stage's target and what the lathe gave on average (u its spread, `latheSpread`);
 *       a square: its smaller side, whose inscribed round is what is to be had
 *   s   shrinkage across the tangent, the smaller diameter (`shrinkage`, `ovality`), from the moisture on the day of that size to the store's
 *   b   bow to come: the piece is hung between centres so that its middle is as far out on one side as its ends on the other; a bow of b then costs b on
 *       the diameter, at the ends and in the middle alike, and less between
 *
 * Why the ends suffice: both the piece and the next stage taper evenly, so without bow the margin changes evenly along the piece and is least at an
 * end; the bow costs as much there as anywhere.
 *
 * The trap: the bow is an assumption, as the book records none; a piece that lies on its side and rolls on a flat table shows its own. Pith, wane, a
 * twisted square and a centre set badly are not in it, nor is the lathe's error at the next pass.
 * Error: shrinkage of a stick is easily a fifth from that of its species; the lengths of two stages are taken as one, some 0.1 mm at the small end.
 * Source: `shrinkage`; JCGM 100:2008 (GUM), eq. 10 (from memory). Bow, lathe defaults and the wish to keep `clearanceMm`: common practice, no source.
 * Checked: tests/seasoning/oversizeCheck.test.ts, by hand, by a search along the piece and by simulation
 *
 * @param options bowMmPerM: bow to come, mm on a metre of the stage's length, mean and standard deviation
 * @returns one row for each piece in stock whose next stage has a target and whose moisture and wood are known; `clears` with at least the chance
 * `ready.clearanceFraction`, `too small` with at most the rest of it to 1, `doubtful` between
 * @throws RangeError unless bowMmPerM is 0 or more
 */
export function oversizeCheck(
  {settings, pieces}: Histories,
  {store, moisture}: {store: StoreMoisture | undefined; moisture: ReadonlyMap<string, MoistureNow>},
  {bowMmPerM = oversizeDefaults.bowMmPerM}: {bowMmPerM?: {mean: number; sd: number}} = {}
): OversizeRow[] {
  check(bowMmPerM.mean >= 0 && bowMmPerM.mean < Infinity, "oversizeCheck: bowMmPerM.mean", "0 or more", bowMmPerM.mean);
  check(bowMmPerM.sd >= 0 && bowMmPerM.sd < Infinity, "oversizeCheck: bowMmPerM.sd", "0 or more", bowMmPerM.sd);
  const lathe = latheSpread({settings, pieces});
  return pieces.flatMap((piece): OversizeRow[] => {
    const place = settings.stages.findIndex(({name}) => name === piece.stays.at(-1)!.stage);
    const [here, next] = [settings.stages[place]!, settings.stages[place + 1]];
    const wood = settings.species[piece.species]?.wood;
    const now = moisture.get(piece.square);
    if (piece.fate !== "in stock" || !next || !wood || !store || now?.cameWithPct === undefined) return [];
    const dries = {fromPct: now.cameWithPct, sdPct: now.cameWithSdPct!, toPct: store.equilibriumPct};
    const lengthMm = place === 0 ? piece.intake.lengthMm : (here.lengthMm ?? piece.intake.lengthMm);
    const bow = {mean: (bowMmPerM.mean * lengthMm) / 1000, sd: (bowMmPerM.sd * lengthMm) / 1000};
    const ends = sizes(piece, place, settings, lathe).flatMap(({end, ...size}) => {
      const targetMm = end === "large" ? next.largeMm : next.smallMm;
      return targetMm === undefined
        ? []
        : [{end, ...size, targetMm, ...left(size, targetMm, {dries, bow, wood: woodConstants(wood)})}];
    });
    const rows = ends.map((one): OversizeRow => {
      const {clearanceMm, clearanceFraction} = settings.ready;
      const clearsFraction = chanceWithin({mean: one.marginMm, sd: one.sdMm, freedom: Infinity}, {low: clearanceMm});
      const fails = clearsFraction <= 1 - clearanceFraction ? "too small" : "doubtful";
      const {sizeSdMm: _, ...shown} = one;
      return {
        square: piece.square,
        species: piece.species,
        stage: here.name,
        nextStage: next.name,
        ...shown,
        clearsFraction,
        verdict: clearsFraction >= clearanceFraction ? "clears" : fails
      };
    });
    return rows.toSorted((a, b) => a.clearsFraction - b.clearsFraction || a.marginMm - b.marginMm).slice(0, 1);
  });
}

interface Size {
  sizeBy: OversizeRow["sizeBy"];
  sizeMm: number;
  sizeSdMm: number;
}

/** The diameter at both ends as it came to the stage. */
function sizes(
  {intake, measurements}: Piece,
  place: number,
  {stages, accuracy}: Histories["settings"],
  lathe: readonly LatheSpread[]
): (Size & {end: OversizeRow["end"]})[] {
  if (place === 0) {
    const sizeMm = Math.min(intake.widthMm, intake.thicknessMm);
    const side = {sizeBy: "square" as const, sizeMm, sizeSdMm: accuracy.calliperMm};
    return [
      {end: "large", ...side},
      {end: "small", ...side}
    ];
  }
  const {name, largeMm, smallMm} = stages[place]!;
  const {overMm, sdMm} = lathe[place - 1]!;
  const measured = measurements.find((one) => one.stage === name && one.turned)?.diameterMm;
  const byTarget = (targetMm: number) => ({sizeBy: "target" as const, sizeMm: targetMm + overMm, sizeSdMm: sdMm});
  const asMeasured = (sizeMm: number) => ({sizeBy: "measured" as const, sizeMm, sizeSdMm: accuracy.calliperMm});
  const large = measured === undefined ? largeMm !== undefined && byTarget(largeMm) : asMeasured(measured);
  // A cylinder is as thick at its other end.
  const small = smallMm === largeMm ? large : smallMm !== undefined && byTarget(smallMm);
  return [...(large ? [{end: "large" as const, ...large}] : []), ...(small ? [{end: "small" as const, ...small}] : [])];
}

/** What is left at an end, and how sure. */
function left(
  {sizeMm, sizeSdMm}: Size,
  targetMm: number,
  {
    dries: {fromPct, sdPct, toPct},
    bow,
    wood
  }: {dries: {fromPct: number; sdPct: number; toPct: number}; bow: {mean: number; sd: number}; wood: WoodConstants}
): Pick<OversizeRow, "shrinkMm" | "ovalMm" | "bowMm" | "marginMm" | "sdMm"> {
  const dried = (from: number, direction: "radial" | "tangential") =>
    shrinkage({sizeMm, fromPct: Math.max(0, from), toPct, species: wood, direction});
  const [radial, tangential] = [dried(fromPct, "radial"), dried(fromPct, "tangential")];
  // Wood that takes up moisture grows most along the rings: then the radius is the smaller.
  const direction = tangential > radial ? "tangential" : "radial";
  const shrinkMm = Math.max(radial, tangential);
  const perPoint = dried(fromPct + 0.5, direction) - dried(fromPct - 0.5, direction);
  const ofMoisture = Math.abs(perPoint) * Math.hypot(sdPct, oversizeDefaults.storeSdPct);
  return {
    shrinkMm,
    ovalMm: Math.abs(tangential - radial),
    bowMm: bow.mean,
    marginMm: sizeMm - shrinkMm - bow.mean - targetMm,
    sdMm: Math.hypot(sizeSdMm, oversizeDefaults.shrinkageShare * shrinkMm, ofMoisture, bow.sd)
  };
}
