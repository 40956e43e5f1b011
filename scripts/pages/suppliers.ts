import {dayText} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {discardRates} from "../../lib/defects/discardRates.ts";
import {type SupplierDiscards, supplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import {compareSpread, type SpreadComparison} from "../../lib/density/compareSpread.ts";
import {densityBySupplier, type SupplierDensity} from "../../lib/density/densityBySupplier.ts";
import {spreadSources} from "../../lib/density/spreadSources.ts";
import {capital, densityDots} from "../../lib/figures/densityDots.ts";
import {intervalDots} from "../../lib/figures/intervalDots.ts";
import {html} from "../../lib/report/html.ts";
import type {Method} from "../../lib/report/methods.ts";
import {shown, shownInterval} from "../../lib/report/quantity.ts";
import {type ShaftCost, shaftCost} from "../../lib/yield/shaftCost.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {clearlyMore, recentDays} from "./clearlyMore.ts";
import {type Beside, compose, plain, type Report} from "./compose.ts";
import {howSure} from "./howSure.ts";

/** The supplier comparison: whose timber has the density wanted, how widely it spreads, what is lost of it, and what a shaft of it costs. */
export function suppliersReport(read: BookAsOf, beside: Beside): Report {
  return compose("suppliers", read, beside, ({figure, table, currency}) => {
    const {histories: now, asOf, book} = read;
    const period = `${now.lots.map(({boughtOn}) => boughtOn).sort()[0]} to ${asOf}`;
    const densities = densityBySupplier(now);
    const spreads = compareSpread(now);
    const sources = spreadSources(now);
    const discards = supplierDiscards(now);
    const lately = latelyWorse(read);
    const costs = shaftCost(now);
    const species = [...new Set(densities.map((row) => row.species))];
    const suppliersOf = (name: string) => densities.filter((row) => row.species === name).map(({supplier}) => supplier);

    const spreadFigure = intervalDots({
      id: "spread",
      title: spreadTitle(densities),
      subtitle: `Standard deviation of density at 12 % moisture, kg/m³, by supplier and species, tightest first; ${period}`,
      alt: `Dots with intervals. ${densities.map((row) => `${row.species} of ${row.supplier}: ${shown(row.sdKgM3, "kg/m³")}`).join("; ")}.`,
      note: "Lines: 95 % intervals, from how lots differ; without a line there are fewer than four lots.",
      unit: "kg/m³",
      axis: "standard deviation, kg/m³",
      dots: densities.map((row) => ({
        label: row.supplier,
        panel: row.species,
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
          {key: "betweenLotsKgM3", heading: "Between lots", unit: "kg/m³"},
          {key: "withinLotKgM3", heading: "Within a lot", unit: "kg/m³"},
          {key: "measuringKgM3", heading: "Measuring alone", unit: "kg/m³"},
          {key: "measuringFraction", heading: "Measuring, share of variance within a lot", unit: "fraction"}
        ],
        rows: densities.map((row) => ({
          ...row,
          ...sources.find((one) => one.species === row.species && one.supplier === row.supplier)
        }))
      }
    });
    const insideFigure = intervalDots({
      id: "inside-window",
      title: bestTitle(densities, "insideFraction", "has most inside the window"),
      subtitle: `Squares whose density at 12 % lies inside the window, % of squares measured; by supplier and species, ${period}`,
      alt: `Dots with intervals. ${densities.map((row) => `${row.species} of ${row.supplier}: ${shown(row.insideFraction, "fraction")}`).join("; ")}.`,
      note: `Windows, kg/m³ at 12 %: ${species.map((name) => `${name} ${book.settings.species[name]!.windowKgM3.low} to ${book.settings.species[name]!.windowKgM3.high}`).join(", ")}. Lines: 95 % intervals.`,
      unit: "fraction",
      axis: "% inside the window",
      dots: densities
        .toSorted((a, b) =>
          a.species < b.species ? -1 : a.species > b.species ? 1 : b.insideFraction - a.insideFraction
        )
        .map((row) => ({
          label: row.supplier,
          panel: row.species,
          value: row.insideFraction,
          low: row.insideLow,
          high: row.insideHigh
        })),
      table: {
        id: "inside-window-data",
        caption: "Share of squares inside, below and above the density window",
        columns: [
          {key: "species", heading: "Species", unit: "text"},
          {key: "supplier", heading: "Supplier", unit: "text"},
          {key: "squares", heading: "Squares", unit: "count"},
          {key: "insideFraction", heading: "Inside", unit: "fraction", low: "insideLow", high: "insideHigh"},
          {key: "tooLightFraction", heading: "Too light", unit: "fraction"},
          {key: "tooHeavyFraction", heading: "Too heavy", unit: "fraction"}
        ],
        rows: plain(densities)
      }
    });
    const discardFigure = intervalDots({
      id: "supplier-discards",
      title: discardTitle(discards),
      subtitle: `Thrown out per 100 squares as far as they were followed, by supplier and species; ${period}`,
      alt: `Dots with intervals, raw and drawn to the mean. ${discards.map((row) => `${row.species} of ${row.supplier}: ${shown(row.per100, "per 100")}, drawn ${shown(row.drawnPer100, "per 100")}`).join("; ")}.`,
      note: "Raw: as counted, interval from whole lots. Drawn: pulled towards the mean of the species by as much as the data are thin; the better guess for the next lot.",
      unit: "per 100",
      axis: "per 100 squares",
      series: ["drawn to the mean", "raw"],
      dots: discards.flatMap((row) => [
        {
          label: row.supplier,
          panel: row.species,
          series: "drawn to the mean",
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
    const known = costs.filter(({inWindowCost}) => inWindowCost !== undefined);
    const costFigure = intervalDots({
      id: "shaft-cost",
      title: costTitle(known),
      subtitle: `Money for wood and carriage per finished shaft inside the density window, ${currency}; by supplier and species, ${period}`,
      alt: `Dots with intervals, cheapest first. ${known.map((row) => `${row.species} of ${row.supplier}: ${shown(row.inWindowCost, "money", {currency})}`).join("; ") || "No data: no shaft can be expected yet."}`,
      note: "Lines: 95 % intervals, from how lots differ. The workshop's own time is not in it.",
      unit: "money",
      currency,
      axis: `${currency} per usable shaft`,
      dots: known.map((row) => ({
        label: row.supplier,
        panel: row.species,
        value: row.inWindowCost,
        low: row.inWindowCostLow,
        high: row.inWindowCostHigh
      })),
      table: {
        id: "shaft-cost-data",
        caption: "Cost of a finished shaft in money for wood and carriage, by supplier",
        columns: [
          {key: "species", heading: "Species", unit: "text"},
          {key: "supplier", heading: "Supplier", unit: "text"},
          {key: "lots", heading: "Lots", unit: "count"},
          {key: "squares", heading: "Squares", unit: "count"},
          {key: "squareCost", heading: "A square with carriage", unit: "money"},
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
    const spreadTable = table({
      id: "spread-pairs",
      caption: "Spreads compared two by two",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "tighter", heading: "Tighter", unit: "text"},
        {key: "wider", heading: "Wider", unit: "text"},
        {key: "ratio", heading: "Ratio of spreads", unit: "number", low: "ratioLow", high: "ratioHigh"},
        {key: "verdict", heading: "Verdict", unit: "text"}
      ],
      rows: spreads.flatMap(({species: name, pairs}) => pairs.map((pair) => ({species: name, ...pair})))
    });
    return {
      title: "Suppliers compared",
      subtitle: `${book.settings.name} · squares bought ${period}`,
      lead: [
        ...spreads.map((row) => spreadSentence(row)),
        ...species.flatMap((name) => {
          const own = densities
            .filter((row) => row.species === name)
            .toSorted((a, b) => b.insideFraction - a.insideFraction)[0];
          return own
            ? [
                `${capital(name)}: of ${own.supplier}'s ${own.squares} squares ${shown(own.insideFraction, "fraction")} lie inside the window, the largest share${own.insideLow === undefined ? "" : ` (${shownInterval({low: own.insideLow, high: own.insideHigh!}, "fraction")})`}.`
              ]
            : [];
        }),
        ...lately,
        ...species.flatMap((name) => {
          const row = known
            .filter((one) => one.species === name)
            .toSorted((x, y) => x.inWindowCost! - y.inWindowCost!)[0];
          return row
            ? [
                `${capital(name)}: a usable shaft costs least wood and carriage from ${row.supplier}, ${shown(row.inWindowCost, "money", {currency})} without the work on it.`
              ]
            : [];
        })
      ].slice(0, 6),
      sections: [
        {
          id: "density",
          heading: "Density, square by square",
          body: species.map((name) =>
            figure(
              densityDots(densities, now.pieces, {
                species: name,
                window: book.settings.species[name]!.windowKgM3,
                period
              })
            )
          )
        },
        {
          id: "tightness",
          heading: "Who is tighter, and can the data tell",
          body: [
            figure(spreadFigure),
            html`${spreads.map((row) => html`<p>${spreadSentence(row)} ${testSentence(row)}</p>\n`)}`,
            spreadTable
          ]
        },
        {id: "window", heading: "How much fits the window", body: [figure(insideFigure)]},
        {
          id: "losses",
          heading: "What is thrown out of each supplier's timber",
          body: [
            figure(discardFigure),
            ...(lately.length > 0 ? [html`${lately.map((line) => html`<p>${line}</p>\n`)}`] : [])
          ]
        },
        {id: "cost", heading: "What a shaft costs", body: [figure(costFigure)]}
      ],
      method,
      limits: [
        `${suppliersOf(species[0] ?? "").length} suppliers of ${species[0] ?? "timber"}: what they sell may change from one lot to the next; look at the number of lots, not of squares.`,
        "Density is computed from mass, size and the meter's moisture. A meter that reads 1.5 % wrong shifts it by some 0.7 %, for all squares of a lot alike.",
        "What was left at the yard is not in the book: a supplier looks good when the picking was good.",
        "Costs leave out the workshop's own time and the drive."
      ]
    };
  });
}

/** Suppliers of whose pieces clearly more were thrown out at some stage in the last half year than before it. */
function latelyWorse({histories: now, book}: BookAsOf): string[] {
  const then = histories(book, dayText(now.asOf - recentDays));
  return [...groupBy(now.pieces, ({supplier}) => supplier)].flatMap(([supplier, pieces]) =>
    book.settings.stages.slice(0, -1).flatMap(({name: stage}) => {
      const earlier = then.pieces.filter((piece) => piece.supplier === supplier);
      const [before] = discardRates(then, earlier, {stage});
      const [recent] = discardRates(now, pieces, {stage, since: now.asOf - recentDays});
      if (!before || !recent || !clearlyMore(recent, before)) return [];
      const range = shownInterval({low: recent.per100Low!, high: recent.per100High!}, "per 100");
      return [
        `${supplier} may have got worse: of 100 pieces at the ${stage} stage ${shown(recent.per100, "count")} are thrown out at the rates of the last half year (${range}), ${shown(before.per100, "count")} before it.`
      ];
    })
  );
}

function spreadSentence({species, pairs}: SpreadComparison): string {
  const certain = pairs.filter(({verdict}) => verdict === "tighter").toSorted((a, b) => a.ratio - b.ratio)[0];
  const first = pairs[0];
  if (!first) return `${capital(species)}: fewer than two suppliers with two squares, so nothing to compare.`;
  if (!certain)
    return `${capital(species)}: ${first.tighter} looks tightest, but these squares cannot tell whose density is tighter.`;
  const off = (ratio: number) => shown(1 - ratio, "fraction");
  return `${capital(species)}: ${certain.tighter} is tighter than ${certain.wider} by ${off(certain.ratio)} (${shown(1 - certain.ratioHigh!, "fraction", {bare: true})} to ${off(certain.ratioLow!)}).`;
}

function testSentence({f, df1, df2, p}: SpreadComparison): string {
  if (f === undefined || p === undefined) return "";
  const chance = p < 0.001 ? "p < 0.001" : `p = ${p.toFixed(3)}`;
  return `Brown–Forsythe test over all suppliers: F = ${shown(f, "number")} on ${df1} and ${df2} degrees of freedom, ${chance}; it takes squares as independent, so it is too sure where lots differ.`;
}

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

function spreadTitle(densities: readonly SupplierDensity[]): string {
  const tightest = densities.filter(({sdKgM3}) => sdKgM3 !== undefined).toSorted((a, b) => a.sdKgM3! - b.sdKgM3!)[0];
  return tightest ? `Tightest: ${tightest.species} of ${tightest.supplier}` : "Too few squares to show a spread";
}

function bestTitle(densities: readonly SupplierDensity[], key: "insideFraction", words: string): string {
  const best = densities.toSorted((a, b) => b[key] - a[key])[0];
  return best ? `${best.supplier} ${words} (${best.species})` : "No square has been measured";
}

function costTitle(known: readonly ShaftCost[]): string {
  const cheapest = known.toSorted((a, b) => a.inWindowCost! - b.inWindowCost!)[0];
  return cheapest
    ? `Cheapest usable shaft: ${cheapest.species} of ${cheapest.supplier}`
    : "No shaft can be expected yet";
}

const method: readonly Method[] = [
  {
    id: "how-density",
    heading: "Density",
    text: "Density at 12 % moisture comes from each square's mass, length, width, thickness and moisture as it came in, with the shrinkage of its species: from the oven-dry mass and the volume at 12 %, so that wood that swells is not taken for wood that is light. Constants and their sources stand in the library, species by species.",
    guide: "density"
  },
  {
    id: "how-spread",
    heading: "Spread",
    text: "Spread is the standard deviation. Two spreads are compared by their ratio; its interval is as wide as the lots of both differ. “Cannot tell” means that the interval reaches 1, or that one of the two has fewer than four lots. The spread is split into between lots and within a lot by variance components, and the part that is only measuring is propagated from the accuracies of scale, calliper, tape and meter in the settings.",
    guide: "spread"
  },
  {
    id: "how-discards",
    heading: "Discards",
    text: "The share lost at each stage, carried from square to shaft; pieces in stock count as not decided. Drawn to the mean: each supplier's rate is averaged with that of its species by as much as its own squares say little, over all that the data leave possible of the mean and of how much suppliers differ.",
    guide: "discards"
  },
  {
    id: "how-cost",
    heading: "Cost",
    text: "Money for squares and carriage ÷ squares ÷ the share of this supplier's squares that become shafts, stage by stage.",
    guide: "costs"
  },
  howSure
];
