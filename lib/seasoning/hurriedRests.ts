import type {Histories} from "../book/histories.ts";
import {trialSize} from "../stats/trialSize.ts";
import {type RestComparison, restComparisons} from "./compareRests.ts";
import {type RestKind, type RestStep, restSteps} from "./restSteps.ts";

/** One fault or group of faults after hurried rests and after served ones. */
export interface HurriedRow extends RestComparison {
  /** A defect, or all of a group: "all drying", "all growth". */
  defects: string;
}

/** Whether hurrying cost pieces, and how sure that is. */
export interface HurriedRests {
  steps: RestStep[];
  /** Each drying defect, all of drying, and all of growth as the control. */
  rows: HurriedRow[];
  /** The row that is asked about: "warp" where the settings have it, else "all drying". */
  asked: HurriedRow;
  finding: "more" | "fewer" | "unclear";
  /** Why it is unclear: too few to tell; inside lots and over all lots point different ways; or growth differs too, which no rest can make. */
  why?: "few" | "disagree" | "growth";
  /** Hurried pieces inside lots that it takes to tell twice as often from as often, in 8 of 10 cases, with so many served ones to each as now. */
  hurriedNeeded?: number;
}

const served: readonly RestKind[] = ["shorter half", "longer half"];

/**
 * Did pieces that were turned before their least rest was over warp more? What was thrown out at the next stage after hurried rests against served
 * ones (`compareRests`), with the faults of growth as the control: a knot does not come of hurry. It is clear where the limits of the ratio inside lots leave out
 * 1, the rates over all lots point the same way, and growth does not clearly do so too.
 *
 * Source: negative control, Lipsitch et al. (2010), Epidemiology 21:383–388 (from memory). Checked: tests/seasoning/hurriedRests.test.ts;
 * tests/recovery/seasoning.test.ts, against the factor that the sample was made with
 */
export function hurriedRests(histories: Pick<Histories, "settings" | "asOf" | "pieces">): HurriedRests {
  const {defects} = histories.settings;
  const steps = restSteps(histories).filter(({hurried, middleDays}) => hurried > 0 && middleDays !== undefined);
  const of = (group: string) => defects.filter((one) => one.group === group).map(({name}) => name);
  const compared = restComparisons(histories, {one: ["hurried"], other: served, steps});
  const row = (called: string, names: readonly string[]): HurriedRow => ({
    defects: called,
    ...compared((defect) => names.includes(defect))
  });
  const drying = of("drying");
  const rows = [...drying.map((name) => row(name, [name])), row("all drying", drying), row("all growth", of("growth"))];
  const asked = rows.find((one) => one.defects === "warp" && drying.includes("warp")) ?? rows.at(-2)!;
  const control = rows.at(-1)!;
  const rate = (asked.other.per100 ?? 0) / 100;
  const canBeTold = rate > 0 && rate < 0.5 && asked.insideOne > 0;
  return {
    steps,
    rows,
    asked,
    ...verdict(asked, control),
    ...(canBeTold && {hurriedNeeded: trialSize(2 * rate, rate, {times: asked.insideOther / asked.insideOne})})
  };
}

function verdict(asked: RestComparison, control: RestComparison): Pick<HurriedRests, "finding" | "why"> {
  const inside = way(asked);
  if (inside === 0) return {finding: "unclear", why: "few"};
  if (asked.difference === undefined || Math.sign(asked.difference) !== inside)
    return {finding: "unclear", why: "disagree"};
  if (way(control) === inside) return {finding: "unclear", why: "growth"};
  return {finding: inside > 0 ? "more" : "fewer"};
}

/** 1 where the first has clearly more inside lots, −1 where fewer, 0 where it cannot be told. */
function way({insideRatioLow = 0, insideRatioHigh = Number.POSITIVE_INFINITY}: RestComparison): -1 | 0 | 1 {
  return insideRatioLow > 1 ? 1 : insideRatioHigh < 1 ? -1 : 0;
}
