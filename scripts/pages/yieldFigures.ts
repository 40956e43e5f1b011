import type {DiscardRate} from "../../lib/defects/discardRates.ts";
import {capital} from "../../lib/figures/densityDots.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {intervalDots} from "../../lib/figures/intervalDots.ts";
import type {StageYield, StageYields} from "../../lib/yield/stageYields.ts";
import {plain} from "./compose.ts";
import {extremes} from "./extremes.ts";

/** Of how many squares a figure speaks, and of what time. */
interface About {
  population: string;
  period: string;
}

/** The yield of each stage, by species, and of all in its table. */
export function stageYieldFigure(
  {all, bySpecies}: {all: StageYields; bySpecies: readonly {species: string; yields: StageYields}[]},
  {population, period}: About
): Figure {
  const species = bySpecies.map((one) => one.species);
  const yieldDots = bySpecies.flatMap(({species: series, yields}) =>
    yields.stages.map(({stage, yieldFraction: value, yieldLow: low, yieldHigh: high}) => ({
      label: stage,
      series,
      value,
      low,
      high
    }))
  );
  const stageRows = [
    ...bySpecies.map(({species: name, yields}) => ({name, yields})),
    {name: "all", yields: all}
  ].flatMap(({name, yields}) => [
    ...yields.stages.map((row) => ({species: name, ...row})),
    {
      species: name,
      stage: "all stages",
      yieldFraction: yields.rolledFraction,
      yieldLow: yields.rolledLow,
      yieldHigh: yields.rolledHigh
    }
  ]);
  const weakest = all.stages
    .filter(({yieldFraction}) => yieldFraction !== undefined)
    .toSorted((a, b) => a.yieldFraction! - b.yieldFraction!)[0];
  return intervalDots({
    id: "stage-yields",
    title: all.stages.every(({discarded}) => discarded === 0)
      ? "No stage has lost a piece yet"
      : !weakest || weakest.discarded === 0
        ? "Too early to say which stage loses most"
        : isWorst(weakest, all.stages)
          ? `The ${weakest.stage} stage loses most`
          : "The data cannot tell which stage loses most",
    subtitle: `Pieces that pass each stage, % of those that reach it; ${population}, ${period}`,
    alt: `Dots with intervals. ${extremes(yieldDots.map(named), "fraction")}`,
    method: "how-yield",
    notebook: "03",
    note: "Lines: 95 % intervals, from how lots differ. Pieces still at the stage count for as long as they have been there.",
    unit: "fraction",
    axis: "% that pass",
    zero: false,
    dots: yieldDots,
    series: species,
    table: {
      id: "stage-yields-data",
      caption: "Yield of each stage",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "stage", heading: "Stage", unit: "text"},
        {key: "entered", heading: "Reached it", unit: "count"},
        {key: "passed", heading: "Passed", unit: "count"},
        {key: "discarded", heading: "Discarded", unit: "count"},
        {key: "diverted", heading: "Diverted", unit: "count"},
        {key: "inStage", heading: "Still there", unit: "count"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "yieldFraction", heading: "Yield", unit: "fraction", low: "yieldLow", high: "yieldHigh"},
        {key: "undecidedFraction", heading: "Undecided", unit: "fraction"},
        {key: "method", heading: "Interval by", unit: "text"}
      ],
      rows: plain(stageRows)
    }
  });
}

/** What each defect takes of 100 squares, by species, worst first. */
export function defectRateFigure(
  {
    rates,
    allRates,
    recentRates
  }: {
    rates: readonly {species: string; rows: DiscardRate[]}[];
    allRates: readonly DiscardRate[];
    recentRates: readonly DiscardRate[];
  },
  {population, period}: About
): Figure {
  const species = rates.map((one) => one.species);
  const defects = allRates.slice(1).map(({defect}) => defect);
  const defectDots = rates.flatMap(({species: series, rows}) =>
    rows
      .slice(1)
      .map(({defect: label, per100: value, per100Low: low, per100High: high}) => ({label, series, value, low, high}))
  );
  const [worst] = defects;
  return intervalDots({
    id: "discards-by-defect",
    title: !worst
      ? "Nothing has been thrown out"
      : isMost(allRates)
        ? `${capital(worst)} takes most squares`
        : "The data cannot tell which defect takes most",
    subtitle: `Thrown out per 100 squares bought, as far as they were followed; ${population}, ${period}`,
    alt: `Dots with intervals, worst first. ${extremes(defectDots.map(named), "per 100")}`,
    method: "how-discards",
    notebook: "03",
    note: "Lines: 95 % intervals, from how lots differ.",
    unit: "per 100",
    axis: "per 100 squares",
    dots: defects.flatMap((defect) => defectDots.filter(({label}) => label === defect)),
    series: species,
    table: {
      id: "discards-by-defect-data",
      caption: "Thrown out per 100 squares, by defect",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "defect", heading: "Defect", unit: "text"},
        {key: "group", heading: "Cause lies in", unit: "text"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "discarded", heading: "Thrown out so far", unit: "count"},
        {key: "per100", heading: "Rate", unit: "per 100", low: "per100Low", high: "per100High"},
        {key: "undecidedPer100", heading: "Undecided", unit: "per 100"},
        {key: "lately", heading: "Lately, all species", unit: "per 100"}
      ],
      rows: [...rates.map(({species: name, rows}) => ({name, rows})), {name: "all", rows: allRates}].flatMap(
        ({name, rows}) =>
          plain(rows).map((row) => ({
            ...row,
            species: name,
            lately: recentRates.find(({defect, undecidedPer100}) => defect === row.defect && undecidedPer100 < 20)
              ?.per100
          }))
      )
    }
  });
}

/** Whether a stage loses more than every other beyond chance: its interval lies below theirs. */
export function isWorst({stage, yieldHigh}: StageYield, stages: readonly StageYield[]): boolean {
  return stages.every(
    (other) =>
      other.stage === stage || (yieldHigh !== undefined && other.yieldLow !== undefined && yieldHigh < other.yieldLow)
  );
}

/** Of fewer pieces than these nothing is told in a sentence or a title; common practice, no source. */
export const fewest = 5;

/** Whether the first defect takes more than every other beyond chance: its interval lies above theirs. Of a few pieces thrown out nothing is told. */
export function isMost([all, first, ...others]: readonly DiscardRate[]): boolean {
  if ((all?.discarded ?? 0) < fewest) return false;
  return others.every(
    ({per100High}) => first?.per100Low !== undefined && per100High !== undefined && first.per100Low > per100High
  );
}

const named = ({series, label, value}: {series: string; label: string; value: number | undefined}) => ({
  name: `${series} ${label}`,
  value
});
