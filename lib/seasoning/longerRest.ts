import type {Histories, Piece} from "../book/histories.ts";
import {mean} from "../stats/mean.ts";
import {sum} from "../stats/numbers.ts";
import {compareRests} from "./compareRests.ts";
import {type RestKind, type RestStep, restSteps} from "./restSteps.ts";

/** What a longer rest at one stage would save and cost, in the book's currency. */
export interface LongerRest {
  /** "serve": hurried pieces rest as long as the least; "longer": those of the shorter half rest as long as those of the longer. */
  question: "serve" | "longer";
  stage: string;
  /** That rested so in the book, and of them in the last year. */
  pieces: number;
  perYear: number;
  /** How much longer each would rest, and its shaft be finished later, mean days. */
  days: number;
  /** Pieces fewer thrown out for drying at the next stage, per 100; 95 % limits by lots. */
  savedPer100?: number;
  savedLow?: number;
  savedHigh?: number;
  /** What a piece thrown out there has cost by then. */
  pieceCost: number;
  /** Saved, of 100 pieces. */
  savedMoney?: number;
  /** Interest on what the pieces have cost and room for them, of 100 pieces. */
  costMoney: number;
  /** Saved less cost, of 100 pieces, and of the pieces of a year. */
  net?: number;
  netLow?: number;
  netHigh?: number;
  netPerYear?: number;
  netPerYearLow?: number;
  netPerYearHigh?: number;
}

/** What all stages together come to in a year, for one question; limits absent where a stage's are. */
export interface LongerRestYear {
  question: LongerRest["question"];
  pieces: number;
  net: number;
  netLow?: number;
  netHigh?: number;
}

const questions: Record<LongerRest["question"], {one: RestKind[]; other: RestKind[]}> = {
  serve: {one: ["hurried"], other: ["shorter half", "longer half"]},
  longer: {one: ["shorter half"], other: ["longer half"]}
};

/**
 * What it would save and cost to let pieces rest longer, stage by stage: never to turn before the least rest is over, and to rest as long as the longer
 * half of the rests did.
 *
 *   saved = (rate of drying faults at the next stage after the short rest − after the long one) · what a piece has cost by then
 *   cost  = days more · (what a piece has cost at the stage · interest/36500 + room/30.44)
 *   net   = saved − cost        limits: those of the difference of the rates (`compareRests`, over all lots), money taken as known
 *   of a year = net · pieces that rested so in the last 365 days; all stages: the sum, limits net ∓ √Σ (distance to the limit)²
 *
 * The trap: rests were not drawn by lot. What waited long may have been other timber, and what a longer rest would do is then not the difference seen.
 * Only a trial tells (`trialSize`). Nor is it in the net that the shafts are finished later, which costs where orders wait.
 * Source: common practice, no source, for what is counted; Zou & Donner (2008), Statist. Med. 27:1693–1702, for the sum's limits.
 * Checked: tests/seasoning/longerRest.test.ts, by hand
 *
 * @param pieceCost what a piece that is at a stage has cost so far: timber, carriage, work
 * @returns `stages`, a row for each rest and question with pieces to tell of; `years`, a row for each question
 */
export function longerRest(
  histories: Pick<Histories, "settings" | "asOf" | "pieces">,
  {
    pieceCost,
    interestPct,
    storageCostPerMonth
  }: {pieceCost: (stage: string) => number; interestPct: number; storageCostPerMonth: number}
): {stages: LongerRest[]; years: LongerRestYear[]} {
  const groups = new Map<string, string>(histories.settings.defects.map(({name, group}) => [name, group]));
  const steps = restSteps(histories).filter(({middleDays}) => middleDays !== undefined);
  const stages = (["serve", "longer"] as const).flatMap((question) =>
    steps.flatMap((step): LongerRest[] => {
      const {one, other} = questions[question];
      const [short, long] = [one, other].map((kinds) => turned(histories.pieces, step, kinds));
      if (short!.length === 0 || long!.length === 0) return [];
      const days =
        question === "serve"
          ? mean(short!.map((rest) => step.leastDays - rest.days))!
          : mean(long!.map((rest) => rest.days))! - mean(short!.map((rest) => rest.days))!;
      const {difference, differenceLow, differenceHigh} = compareRests(histories, {
        one,
        other,
        counts: (defect) => groups.get(defect) === "drying",
        steps: [step]
      });
      const lostCost = pieceCost(step.next);
      const aDay = (pieceCost(step.stage) * interestPct) / 36500 + storageCostPerMonth / 30.44;
      const costMoney = 100 * days * aDay;
      const perYear = short!.filter(({on}) => on > histories.asOf - 365).length;
      const net = (saved: number) => saved * lostCost - costMoney;
      const inYear = (saved: number) => (net(saved) * perYear) / 100;
      return [
        {
          question,
          stage: step.stage,
          pieces: short!.length,
          perYear,
          days,
          pieceCost: lostCost,
          costMoney,
          ...(difference !== undefined && {
            savedPer100: difference,
            savedMoney: difference * lostCost,
            net: net(difference),
            netPerYear: inYear(difference)
          }),
          ...(differenceLow !== undefined &&
            differenceHigh !== undefined && {
              savedLow: differenceLow,
              savedHigh: differenceHigh,
              netLow: net(differenceLow),
              netHigh: net(differenceHigh),
              netPerYearLow: inYear(differenceLow),
              netPerYearHigh: inYear(differenceHigh)
            })
        }
      ];
    })
  );
  return {stages, years: (["serve", "longer"] as const).flatMap((question) => yearOf(question, stages))};
}

/** The rests of these kinds that ended in a turning: how long, and on which day. */
function turned(pieces: readonly Piece[], {stage, daysOf, kindOf}: RestStep, kinds: readonly RestKind[]) {
  return pieces.flatMap((piece) => {
    const kind = kindOf(piece);
    if (kind === undefined || !kinds.includes(kind)) return [];
    return [{days: daysOf(piece)!, on: piece.stays.find((one) => one.stage === stage)!.to!}];
  });
}

function yearOf(question: LongerRest["question"], stages: readonly LongerRest[]): LongerRestYear[] {
  const own = stages.filter((row) => row.question === question);
  if (own.length === 0 || own.some(({netPerYear}) => netPerYear === undefined)) return [];
  const net = sum(own.map(({netPerYear}) => netPerYear!));
  const isKnown = own.every(({netPerYearLow}) => netPerYearLow !== undefined);
  const away = (limit: "netPerYearLow" | "netPerYearHigh") =>
    Math.hypot(...own.map((row) => row.netPerYear! - row[limit]!));
  return [
    {
      question,
      pieces: sum(own.map(({perYear}) => perYear)),
      net,
      ...(isKnown && {netLow: net - away("netPerYearLow"), netHigh: net + away("netPerYearHigh")})
    }
  ];
}
