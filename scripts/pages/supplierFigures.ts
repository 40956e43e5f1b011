import type {Settings} from "../../lib/book/settings.ts";
import {groupBy} from "../../lib/book/spells.ts";
import type {SupplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import type {SpreadComparison} from "../../lib/density/compareSpread.ts";
import type {SupplierDensity} from "../../lib/density/densityBySupplier.ts";
import type {SpreadSource} from "../../lib/density/spreadSources.ts";
import {capital} from "../../lib/figures/densityDots.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {intervalDots} from "../../lib/figures/intervalDots.ts";
import {shown, shownInterval} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import type {CostRank} from "../../lib/yield/costRank.ts";
import type {ShaftCost} from "../../lib/yield/shaftCost.ts";
import {counted} from "../faultLines.ts";
import {plain} from "./compose.ts";
import {extremes} from "./extremes.ts";
import type {LatelyWorse} from "./latelyWorse.ts";
import {fewLots} from "./supplierPage.ts";

/** Of what time a figure speaks, and by which settings. */
interface About {
  period: string;
  settings: Settings;
}

const lotsOf = (row: {lots: number}) => counted(row.lots, "lot");

const sourceColumns: Table["columns"] = [
  {key: "betweenLotsKgM3", heading: "Between lots", unit: "kg/m³"},
  {key: "withinLotKgM3", heading: "Within a lot", unit: "kg/m³"},
  {key: "measuringKgM3", heading: "Measuring alone", unit: "kg/m³"},
  {key: "measuringFraction", heading: "Measuring, share of variance within a lot", unit: "fraction"}
];

/** How widely each supplier's densities spread; in its table where the spread comes from, as far as that is known. */
export function spreadOfSuppliers(
  {
    densities,
    spreads,
    sources
  }: {densities: readonly SupplierDensity[]; spreads: readonly SpreadComparison[]; sources: readonly SpreadSource[]},
  {period}: About
): Figure {
  return intervalDots({
    id: "spread",
    title: short(tightestWords(spreads)),
    subtitle: `Standard deviation of density at 12 % moisture, kg/m³, by supplier and species, tightest first; ${period}`,
    alt: `Dots with intervals. ${extremes(
      named(densities, ({sdKgM3}) => sdKgM3),
      "kg/m³"
    )}`,
    method: "how-spread",
    notebook: "02",
    note: "Lines: 95 % intervals, from how lots differ; a hollow dot rests on fewer than four lots and has none.",
    unit: "kg/m³",
    axis: "standard deviation, kg/m³",
    dots: densities.map((row) => ({
      label: row.supplier,
      panel: row.species,
      n: lotsOf(row),
      value: row.sdKgM3,
      low: row.sdLow,
      high: row.sdHigh
    })),
    table: {
      id: "spread-data",
      caption: "Where the spread of density comes from (standard deviations)",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "supplier", heading: "Supplier", unit: "text"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "sdKgM3", heading: "All together", unit: "kg/m³", low: "sdLow", high: "sdHigh"},
        ...(sources.length === 0 ? [] : sourceColumns)
      ],
      rows: densities.map((row) => ({
        ...row,
        ...sources.find((one) => one.species === row.species && one.supplier === row.supplier)
      }))
    }
  });
}

/** The share of each supplier's squares that lie inside the density window. */
export function insideWindow(densities: readonly SupplierDensity[], {period, settings}: About): Figure {
  const species = [...new Set(densities.map((row) => row.species))];
  return intervalDots({
    id: "inside-window",
    title: short(`${windowWords(densities)} the window`),
    subtitle: `Squares whose density at 12 % lies inside the window, % of squares measured; by supplier and species, ${period}`,
    alt: `Dots with intervals. ${extremes(
      named(densities, ({insideFraction}) => insideFraction),
      "fraction"
    )}`,
    method: "how-density",
    notebook: "05",
    note: `Windows, kg/m³ at 12 %: ${species.map((name) => `${name} ${settings.species[name]!.windowKgM3.low} to ${settings.species[name]!.windowKgM3.high}`).join(", ")}. Lines: 95 % intervals, from how lots differ; a hollow dot rests on fewer than four lots and has none here.`,
    unit: "fraction",
    axis: "% inside the window",
    dots: densities
      .toSorted((a, b) =>
        a.species < b.species ? -1 : a.species > b.species ? 1 : b.insideFraction - a.insideFraction
      )
      .map((row) => ({
        label: row.supplier,
        panel: row.species,
        n: counted(row.squares, "square"),
        value: row.insideFraction,
        ...(row.lots < fewLots ? {low: undefined, high: undefined} : {low: row.insideLow, high: row.insideHigh})
      })),
    table: {
      id: "inside-window-data",
      caption: "Share of squares inside, below and above the density window",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "supplier", heading: "Supplier", unit: "text"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "insideFraction", heading: "Inside", unit: "fraction", low: "insideLow", high: "insideHigh"},
        {key: "tooLightFraction", heading: "Too light", unit: "fraction", low: "tooLightLow", high: "tooLightHigh"},
        {key: "tooHeavyFraction", heading: "Too heavy", unit: "fraction", low: "tooHeavyLow", high: "tooHeavyHigh"}
      ],
      // With fewer than four lots Wilson's interval would take squares as independent: none, as in the figure.
      rows: plain(
        densities.map((row) => (row.lots < fewLots ? {...row, insideLow: undefined, insideHigh: undefined} : row))
      ),
      note: "In brackets: 95 % intervals, from how lots differ; none with fewer than four lots."
    }
  });
}

/** What is thrown out of 100 squares of each supplier. */
export function discardsOfSuppliers(discards: readonly SupplierDiscards[], {period}: About): Figure {
  return intervalDots({
    id: "supplier-discards",
    title: discardTitle(discards),
    subtitle: `Thrown out per 100 squares as far as they were followed, by supplier and species; ${period}`,
    alt: `Dots with intervals, raw and drawn to the mean. Drawn: ${extremes(
      named(discards, ({drawnPer100}) => drawnPer100),
      "per 100"
    )} Raw: ${extremes(
      named(discards, ({per100}) => per100),
      "per 100"
    )}`,
    method: "how-discards",
    notebook: "03",
    note: "Lines: 95 % intervals. Raw: as counted, interval from whole lots. Drawn: pulled towards the mean of the species by as much as the data are thin; the better guess for the next lot.",
    unit: "per 100",
    axis: "per 100 squares",
    series: ["drawn to the mean", "raw"],
    dots: discards.flatMap((row) => [
      {
        label: row.supplier,
        panel: row.species,
        series: "drawn to the mean",
        n: lotsOf(row),
        value: row.drawnPer100,
        low: row.drawnLow,
        high: row.drawnHigh
      },
      {
        label: row.supplier,
        panel: row.species,
        series: "raw",
        value: row.per100,
        low: row.per100Low,
        high: row.per100High
      }
    ]),
    table: {
      id: "supplier-discards-data",
      caption: "Thrown out per 100 squares, by supplier",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "supplier", heading: "Supplier", unit: "text"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "discarded", heading: "Thrown out so far", unit: "count"},
        {key: "per100", heading: "Raw", unit: "per 100", low: "per100Low", high: "per100High"},
        {key: "undecidedPer100", heading: "Undecided", unit: "per 100"},
        {key: "drawnPer100", heading: "Drawn to the mean", unit: "per 100", low: "drawnLow", high: "drawnHigh"}
      ],
      rows: plain(discards)
    }
  });
}

/** What a usable shaft of each supplier costs. */
export function costOfShafts(
  costs: readonly ShaftCost[],
  ranks: readonly CostRank[],
  {period, settings}: About
): Figure {
  const {currency} = settings.money;
  const known = costs.filter(({inWindowCost}) => inWindowCost !== undefined);
  return intervalDots({
    id: "shaft-cost",
    title: known.length === 0 ? "No shaft can be expected yet" : short(costWords(known, ranks)),
    subtitle: `Money for wood, carriage and the work on the squares per finished shaft inside the window, ${currency}; by supplier and species, ${period}`,
    alt: `Dots with intervals, cheapest first. ${extremes(
      named(known, ({inWindowCost}) => inWindowCost),
      "money",
      {currency}
    )}`,
    method: "how-cost",
    note: "Lines: 95 % intervals, from how lots differ; a hollow dot rests on fewer than four lots. The work on a square is a setting (turningCostPerSquare in workshop.json). Prices are the mean of all years; at those of the last three lots the table below has the chances.",
    unit: "money",
    currency,
    axis: `${currency} per usable shaft`,
    dots: known.map((row) => ({
      label: row.supplier,
      panel: row.species,
      n: lotsOf(row),
      value: row.inWindowCost,
      low: row.inWindowCostLow,
      high: row.inWindowCostHigh
    })),
    table: {
      id: "shaft-cost-data",
      caption: "Cost of a finished shaft in wood, carriage and work, by supplier",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "supplier", heading: "Supplier", unit: "text"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "squareCost", heading: "A square, carriage and work", unit: "money"},
        {key: "yieldFraction", heading: "Become shafts", unit: "fraction"},
        {key: "undecidedFraction", heading: "Undecided", unit: "fraction"},
        {key: "shaftCost", heading: "A finished shaft", unit: "money", low: "shaftCostLow", high: "shaftCostHigh"},
        {key: "inWindowFraction", heading: "Become shafts inside the window", unit: "fraction"},
        {
          key: "inWindowCost",
          heading: "A shaft inside the window",
          unit: "money",
          low: "inWindowCostLow",
          high: "inWindowCostHigh"
        }
      ],
      rows: plain(costs)
    }
  });
}

export function rankTable(ranks: readonly CostRank[]): Table {
  return {
    id: "cost-rank",
    caption: "The chance of each supplier to be the cheapest for a usable shaft, and what a square of it is worth",
    columns: [
      {key: "species", heading: "Species", unit: "text"},
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "lots", heading: "Lots", unit: "count"},
      {key: "chanceCheapest", heading: "Chance to be cheapest", unit: "fraction"},
      {key: "priceEach", heading: "Paid for a square lately", unit: "money"},
      {key: "worthEach", heading: "Worth up to", unit: "money", low: "worthLow", high: "worthHigh"},
      {key: "against", heading: "Beside", unit: "text"}
    ],
    rows: plain(ranks),
    note: "Worth up to: the price, without carriage, at which its usable shaft costs what that of the cheapest other does, the work on each square (turningCostPerSquare in workshop.json) included, as on the season's page. Paid lately: mean of the last three lots, without carriage; costs here are at that and the carriage of these lots. Of what becomes usable all years count alike, but a supplier that may have got worse is rated by what passes now, as there; the figure above takes the mean price of all years and does not know of that. It is as if the cheapest other could sell as much as is wanted: where it cannot, the season's page may pay more. Suppliers with fewer than four lots, or whose last three were free, are left out."
  };
}

/** That a supplier may have got worse, in words. */
export function worseSentence({supplier, stage, before, recent}: LatelyWorse): string {
  const range = shownInterval({low: recent.per100Low!, high: recent.per100High!}, "per 100");
  return `${supplier} may have got worse, all its timber taken together: of 100 pieces at the ${stage} stage ${shown(recent.per100, "count")} are thrown out at the rates of the last half year (${range}), ${shown(before.per100, "count")} before it.`;
}

export function spreadSentence({species, pairs}: SpreadComparison, densities: readonly SupplierDensity[]): string {
  const certain = pairs.filter(({verdict}) => verdict === "tighter").toSorted((a, b) => a.ratio - b.ratio)[0];
  const first = pairs[0];
  if (!first) return `${capital(species)}: fewer than two suppliers with two squares, so nothing to compare.`;
  if (!certain)
    return `${capital(species)}: ${first.tighter} looks tightest, but these squares cannot tell whose density is tighter.`;
  const off = (ratio: number) => shown(1 - ratio, "fraction");
  const own = (supplier: string) => densities.find((row) => row.species === species && row.supplier === supplier)!;
  const [tight, wide] = [own(certain.tighter), own(certain.wider)];
  return `${capital(species)}: ${certain.tighter}’s densities spread by ${shown(tight.sdKgM3, "kg/m³")} (standard deviation), ${off(certain.ratio)} less than ${certain.wider}’s ${shown(wide.sdKgM3, "kg/m³")} (${shown(1 - certain.ratioHigh!, "fraction", {bare: true})} to ${off(certain.ratioLow!)} less).`;
}

/** Whose usable shaft is most likely cheapest, and how likely. */
export function costSentence(ranks: readonly CostRank[], species: string): string[] {
  const [first, second] = ranks.filter((rank) => rank.species === species);
  if (!first || !second) return [];
  const sure = first.chanceCheapest > 0.95;
  return [
    `${capital(species)}: the chance to be cheapest for a usable shaft is ${shown(first.chanceCheapest, "fraction")} for ${first.supplier} and ${shown(second.chanceCheapest, "fraction")} for ${second.supplier}${sure ? "" : ": likely, not sure"}.`
  ];
}

/** "Fennaby Yard (ash), Tolverby Saws (maple)". */
export const namesOf = (rows: readonly {supplier: string; species: string}[]) =>
  rows.map(({supplier, species}) => `${supplier} (${species})`).join(", ");

/** A leader of its species; `beaten` where a supplier with too few lots for an interval is better by its mere value. */
interface Leader {
  species: string;
  supplier: string;
  beaten: boolean;
}

/** What is said of a leader that is beaten so. */
export const ofTheOlder = " of the suppliers with four lots or more";

/** The rows that lead their species beyond chance: whose interval lies apart from that of every other supplier that has one. */
function leaders<T extends {species: string; supplier: string}>(
  rows: readonly T[],
  of: (row: T) => {value: number; low: number | undefined; high: number | undefined},
  most: "most" | "least"
): Leader[] {
  const better = (a: number, b: number) => (most === "most" ? a > b : a < b);
  return [...groupBy(rows, ({species}) => species).values()].flatMap((own) => {
    const known = own.filter((row) => of(row).low !== undefined);
    const first = known.find(
      (row) =>
        known.length > 1 &&
        known.every((other) => {
          if (other === row) return true;
          const [{low, high}, {low: otherLow, high: otherHigh}] = [of(row), of(other)];
          return most === "most" ? low! > otherHigh! : high! < otherLow!;
        })
    );
    if (!first) return [];
    const {species, supplier} = first;
    return [{species, supplier, beaten: own.some((row) => better(of(row).value, of(first).value))}];
  });
}

/** "Haskerdene Mill is tightest" or "Haskerdene Mill (ash), Fennaby Yard (maple) is tightest", of whom if need be; undefined where no supplier leads. */
function leaderWords(rows: readonly Leader[], is: string, species: number): string | undefined {
  if (rows.length === 0) return undefined;
  const one = new Set(rows.map(({supplier}) => supplier)).size === 1 && rows.length === species;
  return `${one ? rows[0]!.supplier : namesOf(rows)} ${is}${rows.some(({beaten}) => beaten) ? ofTheOlder : ""}`;
}

/** A title of at most ten words; one that many long names make longer gives way to a plain one. */
function short(words: string): string {
  const fewer = words.replace(ofTheOlder, " of those with four lots");
  return fewer.split(/\s+/u).length > 10 ? "Some suppliers lead, by species" : capital(fewer);
}

const countSpecies = (rows: readonly {species: string}[]) => new Set(rows.map(({species}) => species)).size;

export function tightestWords(spreads: readonly SpreadComparison[]): string {
  const first = spreads.flatMap(({species, pairs}): Leader[] => {
    const known = pairs.filter(({ratioLow}) => ratioLow !== undefined);
    const [supplier] = known.map(({tighter}) => tighter);
    const isFirst = known.every((pair) => pair.tighter !== supplier || pair.verdict === "tighter");
    return supplier !== undefined && isFirst
      ? [{species, supplier, beaten: pairs.some(({wider}) => wider === supplier)}]
      : [];
  });
  return leaderWords(first, "is tightest", spreads.length) ?? "the data cannot tell whose is tightest";
}

export function windowWords(rows: readonly SupplierDensity[]): string {
  const first = leaders(
    rows,
    ({lots, insideFraction: value, insideLow, insideHigh}) =>
      lots < fewLots ? {value, low: undefined, high: undefined} : {value, low: insideLow, high: insideHigh},
    "most"
  );
  return leaderWords(first, "has most inside", countSpecies(rows)) ?? "no supplier clearly has most inside";
}

/** Who is cheapest beyond chance, else who is likelier so than not in every species, else that the data cannot tell. */
export function costWords(rows: readonly ShaftCost[], ranks: readonly CostRank[]): string {
  const first = leaders(
    rows,
    (row) => ({value: row.inWindowCost!, low: row.inWindowCostLow, high: row.inWindowCostHigh}),
    "least"
  );
  const likely = ranks
    .filter(({chanceCheapest}) => chanceCheapest > 0.5)
    .map((rank): Leader => {
      const young = rows.filter((row) => row.species === rank.species && row.inWindowLog === undefined);
      return {...rank, beaten: young.some((row) => row.inWindowCost! < rank.inWindowCost)};
    });
  const inAll = countSpecies(likely) === countSpecies(rows) ? likely : [];
  return (
    leaderWords(first, "is cheapest", countSpecies(rows)) ??
    leaderWords(inAll, "is most likely cheapest", countSpecies(rows)) ??
    "the data cannot tell the suppliers apart"
  );
}

/** A value of each row under its species and supplier. */
const named = <T extends {species: string; supplier: string}>(
  rows: readonly T[],
  value: (row: T) => number | undefined
) => rows.map((row) => ({name: `${row.species} of ${row.supplier}`, value: value(row)}));

/** Who loses fewest, where the drawn intervals lie apart; else that the data cannot tell. */
function discardTitle(rows: readonly SupplierDiscards[]): string {
  const apart = [...groupBy(rows, ({species}) => species)].flatMap(([species, own]) => {
    const [fewest, ...others] = own.toSorted((a, b) => a.drawnPer100 - b.drawnPer100);
    return fewest && others.length > 0 && others.every((row) => row.drawnLow > fewest.drawnHigh)
      ? [`${fewest.supplier} (${species})`]
      : [];
  });
  return apart.length > 0
    ? `Fewest thrown out: ${apart.join(", ")}`
    : "The data cannot tell the suppliers' discards apart";
}
