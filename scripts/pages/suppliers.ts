import {bookCounts} from "../../lib/book/bookCounts.ts";
import {dayText} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import type {Settings} from "../../lib/book/settings.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {usualDensityAt12} from "../../lib/book/squareDensity.ts";
import {supplierDiscards} from "../../lib/defects/supplierDiscards.ts";
import {compareSpread, type SpreadComparison, type SpreadRatio} from "../../lib/density/compareSpread.ts";
import {densityBySupplier, type SupplierDensity} from "../../lib/density/densityBySupplier.ts";
import {type DensityDrift, densityDrift, type TooYoung, tooYoungForDrift} from "../../lib/density/densityDrift.ts";
import {type DensityRange, densityRange} from "../../lib/density/densityRange.ts";
import {type LotDensity, lotDensities} from "../../lib/density/lotDensities.ts";
import {type SpreadSource, spreadSources} from "../../lib/density/spreadSources.ts";
import {type SpreadSplit, spreadSplit} from "../../lib/density/spreadSplit.ts";
import {capital, densityDots} from "../../lib/figures/densityDots.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {supplierLots} from "../../lib/figures/supplierLots.ts";
import {type Html, html} from "../../lib/report/html.ts";
import type {Method} from "../../lib/report/methods.ts";
import {shown, shownInterval} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {clearWoodVariation} from "../../lib/wood/clearWoodVariation.ts";
import {densityAtMoisture} from "../../lib/wood/densityAt12.ts";
import {type WoodName, woodConstants, woodSource} from "../../lib/wood/species.ts";
import {costRank} from "../../lib/yield/costRank.ts";
import {lotTable} from "../../lib/yield/lotTable.ts";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {type SortingEffect, sortingEffect} from "../../lib/yield/sortingEffect.ts";
import {predictedMass, type StageMass, stageMass} from "../../lib/yield/stageMass.ts";
import {type TripCost, tripCost} from "../../lib/yield/tripCost.ts";
import {type VisitValue, visitValue} from "../../lib/yield/visitValue.ts";
import {counted} from "../faultLines.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {type Beside, type Composer, compose, lead, plain, type Report} from "./compose.ts";
import {howSure} from "./howSure.ts";
import {latelyFactors, latelyWorse} from "./latelyWorse.ts";
import {
  costOfShafts,
  costSentence,
  costWords,
  discardsOfSuppliers,
  insideWindow,
  namesOf,
  ofTheOlder,
  rankTable,
  spreadOfSuppliers,
  spreadSentence,
  tightestWords,
  windowWords,
  worseSentence
} from "./supplierFigures.ts";
import {type SupplierFacts, supplierPages} from "./supplierPage.ts";

/** The supplier comparison: whose timber has the density wanted, how widely it spreads, what is lost of it, and what a shaft of it costs. */
export function suppliersReport(read: BookAsOf, beside: Beside): Report {
  const facts = supplierFacts(read);
  const extra = supplierPages(read, beside, facts);
  const report = compose("suppliers", read, beside, ({figure, table, currency}) => {
    const {histories: now, asOf, book} = read;
    const {densities, lots, ranges, drifts, costs, ranks, lately} = facts;
    const days = now.lots.map(({boughtOn}) => boughtOn).sort();
    const period = `${days[0]} to ${days.at(-1)}`;
    const bought = sum(now.lots.map(({squaresBought}) => squaresBought));
    const measured = sum(densities.map(({squares}) => squares));
    const spreads = compareSpread(now);
    const sources = spreadSources(now);
    const sorting = sortingEffect(now);
    const trips = tripCost(now, costs);
    const discards = supplierDiscards(now);
    const _lotsOf = (row: {species: string; supplier: string; lots: number}) => counted(row.lots, "lot");
    const species = [...new Set(densities.map((row) => row.species))];
    const suppliersOf = (name: string) => densities.filter((row) => row.species === name).map(({supplier}) => supplier);

    const about = {period, settings: book.settings};
    const spreadFigure = spreadOfSuppliers({densities, spreads, sources}, about);
    const insideFigure = insideWindow(densities, about);
    const discardFigure = discardsOfSuppliers(discards, about);
    const costFigure = costOfShafts(costs, ranks, about);
    const known = costs.filter(({inWindowCost}) => inWindowCost !== undefined);
    const spreadTable = table({
      id: "spread-pairs",
      caption: "Spreads compared two by two",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "tighter", heading: "Tighter", unit: "text"},
        {key: "wider", heading: "Wider", unit: "text"},
        {key: "ratio", heading: "Ratio of spreads", unit: "number", low: "ratioLow", high: "ratioHigh"},
        {key: "byLots", heading: "Chance, by lots", unit: "text"},
        {key: "bySquares", heading: "Chance, by squares", unit: "text"},
        {key: "squaresToTell", heading: "Squares of each to tell", unit: "count"},
        {key: "moreLots", heading: "More lots of each", unit: "count"},
        {key: "moreSquares", heading: "That is squares of each", unit: "count"},
        {key: "verdict", heading: "Verdict", unit: "text"}
      ],
      rows: spreads.flatMap(({species: name, pairs}) =>
        pairs.map(({chance, chanceBySquares, ...pair}) => ({
          species: name,
          ...pair,
          moreSquares: moreSquares(densities, name, pair),
          byLots: chanceText(chance),
          bySquares: chanceText(chanceBySquares)
        }))
      ),
      note: "In brackets: 95 % interval of the one pair. Chance: how often spreads that are alike would differ so much, adjusted for the number of pairs; by lots decides the verdict, by squares takes squares as independent and is too sure. Squares to tell: independent ones of each supplier with which such spreads are told apart 4 times in 5 by an F test of the one pair at 5 %, too few as squares of a lot are alike. More lots of each: so many still to buy until the verdict's own test, by lots and adjusted for the pairs not told yet, tells them apart 4 times in 5, were the ratio found the true one; in squares at the usual size of the lots of both. –: told already, fewer than four lots of one, or more than a thousand would not do."
    });
    return {
      title: "Suppliers compared",
      subtitle: `${book.settings.name} · squares bought ${period} · data to ${asOf}`,
      lead: [
        ...spreads.map((row) => spreadSentence(row, densities)),
        ...species.flatMap((name) => {
          // With one supplier, or few lots of each, there is no largest share to speak of.
          const known = densities.filter((row) => row.species === name && row.lots >= 4);
          const own = known.toSorted((a, b) => b.insideFraction - a.insideFraction)[0];
          const beaten = densities.some(
            (row) => row.species === name && row.insideFraction > (own?.insideFraction ?? 0)
          );
          return own && known.length > 1
            ? [
                `${capital(name)}: of ${own.supplier}'s ${own.squares} squares ${shown(own.insideFraction, "fraction")} lie inside the window, the largest share${beaten ? ofTheOlder : ""}${own.insideLow === undefined ? "" : ` (${shownInterval({low: own.insideLow, high: own.insideHigh!}, "fraction")})`}.`
              ]
            : [];
        }),
        ...lately.map(({sentence}) => sentence),
        ...species.flatMap((name) => costSentence(ranks, name))
      ].slice(0, 6),
      sections: [
        {
          id: "density",
          heading: `Density: ${tightestWords(spreads)}`,
          body: [
            ...species.flatMap((name) => {
              const options = {species: name, window: book.settings.species[name]!.windowKgM3, period};
              return [
                figure(densityDots(densities, now.pieces, options)),
                figure(withYoung(supplierLots(lots, {...options, drifts, suppliers: suppliersOf(name)}), lots, name))
              ];
            }),
            html`<p>${driftSentence(drifts, tooYoungForDrift(lots))}${measured < bought ? ` Of ${shown(bought, "count")} squares bought ${shown(measured, "count")} have a density; the others are not in these figures.` : ""}</p>\n`,
            figure(spreadFigure),
            html`${spreads.map((row) => html`<p>${spreadSentence(row, densities)} ${testSentence(row)}</p>\n`)}`,
            html`<details>\n<summary>Spreads compared two by two</summary>\n${spreadTable}</details>\n`,
            table(rangeTable(ranges, densities)),
            lead("how-range"),
            html`${species.map((name) => html`<p>${publishedSentence(name, book.settings.species[name]!.wood)}</p>\n`)}`,
            table(splitTable(spreadSplit(now))),
            lead("how-split")
          ]
        },
        {
          id: "window",
          heading: `Window: ${windowWords(densities)}`,
          body: [
            figure(insideFigure),
            html`<h3>Looking harder</h3>\n<p>${sortingSentence(sorting)}</p>\n`,
            table(sortingTable(sorting)),
            table(lookedTable(now.lots)),
            lead("how-looking")
          ]
        },
        {
          id: "losses",
          heading: `Discards: ${lately.length > 0 ? `${[...new Set(lately.map(({supplier}) => supplier))].join(", ")} may have got worse` : discards.length > 0 ? "no supplier has got worse beyond chance" : "nothing is known yet"}`,
          body: [
            figure(discardFigure),
            ...(lately.length > 0 ? [html`${lately.map(({sentence}) => html`<p>${sentence}</p>\n`)}`] : [])
          ]
        },
        {
          id: "cost",
          heading: `Cost: ${costWords(known, ranks)}`,
          body: [
            figure(costFigure),
            table(rankTable(ranks)),
            lead("how-worth"),
            ...visitParts(visitValue(ranks, wantedInYear(now)), {table, currency}),
            lead("how-visit"),
            ...(trips.length === 0 ? [] : [table(tripTable(trips))])
          ]
        },
        {
          id: "future",
          heading: "What a square will weigh",
          body: [table(futureTable(stageMass(now), {settings: book.settings, sources})), lead("how-future")]
        },
        {
          id: "pages",
          heading: "A page for each supplier, to take along",
          body: [html`<ul>\n${extra.map(({file, label}) => html`<li><a href="${file}">${label}</a></li>\n`)}</ul>\n`]
        }
      ],
      method,
      limits: [
        `${species.map((name) => `${counted(suppliersOf(name).length, "supplier")} of ${name}`).join(", ")}: what they sell may change from one lot to the next; look at the number of lots, not of squares.`,
        `Density is computed from mass, size and the meter's moisture. A meter that reads ${shown(book.settings.accuracy.meterPct, "percent")} wrong shifts it by some ${shown(0.45 * book.settings.accuracy.meterPct, "percent")}, for all squares of a lot alike.`,
        "What was left at the yard is not in the book: a supplier looks good when the picking was good.",
        "Costs count the work on a square, not the drive. Hours and miles stand apart where they were written down (trip_hours, trip_miles in lots.csv)."
      ]
    };
  });
  return {...report, extra};
}

/** What the page and the pages of the suppliers both rest on. */
function supplierFacts(read: BookAsOf): SupplierFacts {
  const {histories: now} = read;
  const lots = lotDensities(now);
  const worse = latelyWorse(bookCounts(read.histories));
  const costs = shaftCost(now, {workEach: read.book.settings.money.turningCostPerSquare});
  return {
    densities: densityBySupplier(now),
    lots,
    ranges: densityRange(now),
    drifts: densityDrift(lots),
    costs,
    ranks: costRank(costs, read.book.settings.money.turningCostPerSquare, latelyFactors(worse)),
    lately: worse.map((row) => ({supplier: row.supplier, sentence: worseSentence(row)})),
    lotRows: lotTable(now)
  };
}

/** The lots still to buy of each of two suppliers (`compareSpread`) in squares, at the mean size of a lot of both; at least 1, or undefined where there are none. */
function moreSquares(
  densities: readonly SupplierDensity[],
  species: string,
  {tighter, wider, moreLots}: Pick<SpreadRatio, "tighter" | "wider" | "moreLots">
): number | undefined {
  const own = densities.filter(
    (row) => row.species === species && (row.supplier === tighter || row.supplier === wider)
  );
  const usual = sum(own.map(({squares}) => squares)) / sum(own.map(({lots}) => lots));
  return moreLots && Math.ceil(moreLots * usual);
}

/** A chance as a person reads it; nothing where there is none. */
const chanceText = (chance: number | undefined) =>
  chance === undefined ? undefined : chance < 0.001 ? "< 0.001" : chance.toFixed(3);

function rangeTable(ranges: readonly DensityRange[], densities: readonly SupplierDensity[]): Table {
  const out = densities.filter(
    (row) => !ranges.some(({species, supplier}) => species === row.species && supplier === row.supplier)
  );
  return {
    id: "density-range",
    caption: "Between which densities 19 of 20 squares of a supplier lie, those of lots to come as well",
    columns: [
      {key: "species", heading: "Species", unit: "text"},
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "squares", heading: "Squares", unit: "count"},
      {key: "lots", heading: "Lots", unit: "count"},
      {key: "lowKgM3", heading: "From", unit: "kg/m³"},
      {key: "highKgM3", heading: "To", unit: "kg/m³"},
      {key: "effective", heading: "Worth unlike squares", unit: "count"}
    ],
    rows: plain(
      ranges.toSorted((a, b) =>
        a.species === b.species ? (a.supplier < b.supplier ? -1 : 1) : a.species < b.species ? -1 : 1
      )
    ),
    note: `With 95 % certainty by the formula; of simulated suppliers with four lots about 90 of 100 were held, with eight 96. Squares of one lot are alike, so all of them tell only as much as so many squares from so many lots would: worth unlike squares.${out.length === 0 ? "" : ` No range of ${namesOf(out)}: fewer than four lots, or worth fewer than four unlike squares.`}`
  };
}

/** What is published of the wood, so that the workshop's own figures can be seen beside it. */
function publishedSentence(species: string, wood: WoodName): string {
  const {low, high} = usualDensityAt12(wood);
  const {source, tag} = woodSource(wood, "basicSpecificGravity")!;
  return `Published for ${wood.replace("-", " ")} (${species}): ${shown((low + high) / 2, "kg/m³")} at 12 % moisture, from its basic specific gravity (${source}; ${tag}); single clear sticks with a coefficient of variation of ${shown(clearWoodVariation.specificGravity, "fraction")} (Wood Handbook, FPL-GTR-190, table 5-6, from memory).`;
}

function splitTable(rows: readonly SpreadSplit[]): Table {
  return {
    id: "spread-split",
    caption: "Where the spread of density comes from, share of the variance",
    columns: [
      {key: "species", heading: "Species", unit: "text"},
      {key: "lots", heading: "Lots", unit: "count"},
      {key: "betweenSuppliersFraction", heading: "Whose timber", unit: "fraction"},
      {key: "betweenLotsFraction", heading: "Which lot", unit: "fraction"},
      {key: "withinLotFraction", heading: "Which square", unit: "fraction"},
      {key: "measuringFraction", heading: "Measuring alone", unit: "fraction"}
    ],
    rows: plain(rows)
  };
}

function driftSentence(drifts: readonly DensityDrift[], young: readonly TooYoung[]): string {
  const changed = drifts.filter(({chance}) => chance < 0.05);
  const tooYoung = youngWords(young);
  if (drifts.length === 0)
    return `No supplier has lots enough yet, so whether density changed with time cannot be said.${tooYoung}`;
  const said =
    changed.length === 0
      ? `Of ${counted(drifts.length, "supplier")} old enough to look at, ${namesOf(drifts)}, no density changed with time beyond chance.`
      : changed
          .map(
            ({species, supplier, fromLot, fromDay, beforeKgM3, afterKgM3}) =>
              `${supplier}'s ${species} changed with lot ${fromLot} (${fromDay}), from ${shown(beforeKgM3, "count")} to ${shown(afterKgM3, "kg/m³")}.`
          )
          .join(" ");
  return said + tooYoung;
}

/** Who has too few lots, with a space before it; nothing where nobody has. */
const youngWords = (young: readonly TooYoung[]) =>
  young.length === 0
    ? ""
    : ` Too few lots to tell a change from chance: ${young.map((row) => `${row.supplier} (${row.species}, ${row.lots})`).join(", ")}.`;

/** The figure with a note that says of whom its title cannot speak. */
const withYoung = (figure: Figure, lots: readonly LotDensity[], name: string): Figure => ({
  ...figure,
  note: `${figure.note}${youngWords(tooYoungForDrift(lots).filter(({species}) => species === name))}`
});

const sortingNames = {
  usable: "usable shafts",
  finished: "finished shafts",
  inside: "squares inside the window",
  spread: "spread of density within the lot"
} as const;

function sortingSentence(effects: readonly SortingEffect[]): string {
  const [usable] = effects;
  if (!usable)
    return "How many squares were looked at is not written down for two lots of one supplier and species with unlike looks, so nothing can be said.";
  const {change, changeLow, changeHigh, lots} = usable;
  const sure = changeLow !== undefined && changeHigh !== undefined && (changeLow > 0 || changeHigh < 0);
  return `Twice as many squares looked at for each one taken went with ${shown(Math.abs(change), "per 100", {bare: true})} ${change < 0 ? "fewer" : "more"} usable shafts per 100 squares (${lots} lots)${sure ? "." : ": not beyond chance."}`;
}

function sortingTable(effects: readonly SortingEffect[]): Table {
  return {
    id: "sorting",
    caption: "What twice as many squares looked at went with, lot against lot of one supplier and species",
    columns: [
      {key: "name", heading: "What", unit: "text"},
      {key: "unit", heading: "In", unit: "text"},
      {key: "lots", heading: "Lots", unit: "count"},
      {key: "change", heading: "Change", unit: "number", low: "changeLow", high: "changeHigh"}
    ],
    rows: effects.map(({measure, ...row}) => ({name: sortingNames[measure], ...row})),
    note: "In brackets: 95 % intervals. You chose how hard to look, maybe harder at a poor stack; only a coin tossed before the visit would settle it."
  };
}

/** Squares looked at against squares taken, of the lots whose count was written down. */
function lookedTable(lots: Histories["lots"]): Table {
  const known = lots.flatMap(({species, supplier, squaresBought: taken, squaresLookedAt: lookedAt}) =>
    lookedAt === undefined || lookedAt < taken ? [] : [{species, supplier, taken, lookedAt}]
  );
  const groups = [...groupBy(known, ({species, supplier}) => JSON.stringify([species, supplier]))].sort();
  return {
    id: "looked-at",
    caption: "Squares looked at against squares taken, by supplier",
    columns: [
      {key: "species", heading: "Species", unit: "text"},
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "lots", heading: "Lots with the count", unit: "count"},
      {key: "lookedAt", heading: "Looked at", unit: "count"},
      {key: "taken", heading: "Taken", unit: "count"},
      {key: "each", heading: "Looked at for each taken", unit: "number"}
    ],
    rows: groups.map(([, own]) => {
      const [lookedAt, taken] = [sum(own.map((lot) => lot.lookedAt)), sum(own.map((lot) => lot.taken))];
      const {species, supplier} = own[0]!;
      return {species, supplier, lots: own.length, lookedAt, taken, each: lookedAt / taken};
    }),
    note: "Lots without a count, or with fewer looked at than taken, are not in it."
  };
}

/** What trips teach at most, as a sentence, and the table. */
function visitParts(values: readonly VisitValue[], {table, currency}: Pick<Composer, "table" | "currency">): Html[] {
  const most = values.toSorted((a, b) => b.value - a.value)[0];
  const words = (best: VisitValue) =>
    best.value < 1
      ? "One more lot from any of these suppliers is not expected to change whom to buy from: a trip to learn is not worth the drive."
      : `One more lot teaches most of ${best.supplier} (${best.species}): choosing better afterwards is expected to save ${shown(best.value, "money", {currency})} a year.`;
  return [...(most ? [html`<p>${words(most)}</p>\n`] : []), table(visitTable(values))];
}

function visitTable(values: readonly VisitValue[]): Table {
  return {
    id: "visit-value",
    caption:
      "What one more lot would teach: money saved on a year's usable shafts, on average, by choosing better afterwards",
    columns: [
      {key: "species", heading: "Species", unit: "text"},
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "lots", heading: "Lots", unit: "count"},
      {key: "costError", heading: "Its cost is unsure by", unit: "money"},
      {key: "moves", heading: "One more lot would move it by", unit: "money"},
      {key: "value", heading: "Worth knowing, a year", unit: "money"}
    ],
    rows: plain(values),
    note: "The timber brought home and the drive are not in it; 0.00: one more lot is not expected to change whom to buy from. Suppliers with fewer than four lots are not in it, though least is known of them. Unsure, moves: standard errors."
  };
}

function tripTable(rows: readonly TripCost[]): Table {
  return {
    id: "trips",
    caption: "Hours and miles of the trips, where they were written down, and for each usable shaft to be expected",
    columns: [
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "lotsWithHours", heading: "Lots with hours", unit: "count"},
      {key: "hours", heading: "Hours", unit: "number"},
      {key: "hoursPerShaft", heading: "Hours a shaft", unit: "number"},
      {key: "lotsWithMiles", heading: "Lots with miles", unit: "count"},
      {key: "miles", heading: "Miles", unit: "count"},
      {key: "milesPerShaft", heading: "Miles a shaft", unit: "number"}
    ],
    rows: plain(rows)
  };
}

/** Shafts of each species ordered in the last year. */
function wantedInYear(now: Histories): Record<string, number> {
  const since = dayText(now.asOf - 365);
  const wanted: Record<string, number> = {};
  for (const {species, orderedOn, quantity} of now.orders)
    if (orderedOn > since) wanted[species] = (wanted[species] ?? 0) + quantity;
  return wanted;
}

function futureTable(
  rows: readonly StageMass[],
  {settings, sources}: {settings: Settings; sources: readonly SpreadSource[]}
): Table {
  const at = ({species, moisturePct, ...row}: StageMass, densityAt12KgM3: number, name: string) => {
    const {massG, lowG, highG} = predictedMass({species, ...row}, densityAt12KgM3);
    const wood = woodConstants(settings.species[species]!.wood);
    const as = moisturePct && densityAtMoisture({densityAt12KgM3, moisturePct, species: wood});
    return {[name]: massG, [`${name}Low`]: lowG, [`${name}High`]: highG, [`${name}KgM3`]: as};
  };
  const error = (species: string) =>
    Math.max(...sources.filter((one) => one.species === species).map((one) => one.measuringKgM3));
  return {
    id: "future-weights",
    caption:
      "What a square weighs at each stage, and its density as it lies there, by its density at 12 % when it came in",
    columns: [
      {key: "species", heading: "Species", unit: "text"},
      {key: "stage", heading: "Stage", unit: "text"},
      {key: "pieces", heading: "Weighed", unit: "count"},
      {key: "moisturePct", heading: "Moisture", unit: "percent"},
      {key: "lightKgM3", heading: "Light end", unit: "kg/m³"},
      {key: "light", heading: "Light end", unit: "g", low: "lightLow", high: "lightHigh"},
      {key: "heavyKgM3", heading: "Heavy end", unit: "kg/m³"},
      {key: "heavy", heading: "Heavy end", unit: "g", low: "heavyLow", high: "heavyHigh"}
    ],
    rows: rows.map((row) => {
      const {low, high} = settings.species[row.species]!.windowKgM3;
      return {...row, ...at(row, low, "light"), ...at(row, high, "heavy")};
    }),
    note: `Light and heavy end: of the window. In brackets: where the weight of 95 of 100 pieces lies. A single square's density is known to ± ${[...new Set(rows.map(({species}) => species))].map((species) => `${shown(1.96 * error(species), "kg/m³")} (${species})`).join(", ")}, by the instruments' errors. First weighing at each stage; any other density: in proportion.`
  };
}

/** Whether the spreads of all suppliers together could be one, in plain words. */
function testSentence({p}: SpreadComparison): string {
  if (p === undefined) return "";
  const often = p < 0.001 ? "fewer than 1 of 1000 such books" : `${shown(p, "fraction")} of such books`;
  const were = "were squares of one lot not alike";
  return p < 0.05
    ? `That all suppliers spread alike is hard to believe: ${often} would differ so much by chance, ${were}.`
    : `All suppliers might spread alike: ${often} would differ so much by chance, ${were}.`;
}

export const method: readonly Method[] = [
  {
    id: "how-density",
    heading: "Density",
    text: "Density at 12 % moisture comes from each square's mass, length, width, thickness and moisture as it came in, with the shrinkage of its species: from the oven-dry mass and the volume at 12 %, so that wood that swells is not taken for wood that is light. Constants and their sources stand in the library, species by species.",
    formula: "ρ₁₂ = mass at 12 % ÷ volume at 12 %",
    guide: "density"
  },
  {
    id: "how-spread",
    heading: "Spread",
    text: "Spread is the standard deviation. Two spreads are compared by their ratio; its interval is as wide as the lots of both differ. Whether all suppliers could spread alike is the test of Brown and Forsythe, which takes squares as independent and so is too sure where lots differ. “Cannot tell” means that such a difference, adjusted for the number of pairs, is not beyond chance, or that one of the two has fewer than four lots. The spread is split into between lots and within a lot by variance components, and the part that is only measuring is propagated from the accuracies of scale, calliper, tape and meter in the settings.",
    formula: "ratio = SD of the tighter ÷ SD of the wider;  SD² = between lots² + within a lot²",
    guide: "spread"
  },
  {
    id: "how-discards",
    heading: "Discards",
    text: "The share lost at each stage, carried from square to shaft; pieces in stock count as not decided. Drawn to the mean: each supplier's rate is averaged with that of its species by as much as its own squares say little, over all that the data leave possible of the mean and of how much suppliers differ.",
    formula: "per 100 squares = 100 · Σ over stages of (yield of the stages before · share of the stage thrown out)",
    guide: "discards"
  },
  {
    id: "how-cost",
    heading: "Cost",
    text: "Money for squares and carriage ÷ squares, and the work on a square, ÷ the share of this supplier's squares that become shafts, stage by stage.",
    formula: "a usable shaft = ((price + carriage) ÷ squares + work) ÷ share that become shafts inside the window",
    guide: "costs"
  },
  {
    id: "how-range",
    heading: "19 of 20 squares",
    text: "The range in which at least 19 of 20 squares of a supplier lie, those of lots to come as well, aimed at 95 % certainty: of simulated suppliers with four lots about 90 of 100 were held, with eight 96. As squares of one lot are alike, they count for as many independent ones as the spread between lots leaves; where those are fewer than four, no range is given.",
    formula:
      "mean of lots ∓ k(n*) · √(between lots² + within a lot²);  n* = squares ÷ (1 + (squares a lot − 1) · likeness)",
    guide: "density-range"
  },
  {
    id: "how-split",
    heading: "Where the spread comes from",
    text: "The variance of single squares is taken apart into whose timber it is, which of its lots, which square of the lot, and what scale, calliper, tape and meter would scatter by themselves.",
    guide: "spread-by-source"
  },
  {
    id: "how-change",
    heading: "Change with time",
    text: "For each supplier the lot at which the means of its lots most likely changed their level, by ranks, so that one odd lot counts for little; how often an unchanging supplier would show as much is found by shuffling its lots, and adjusted for the number of suppliers looked at. A supplier whose lots, in the clearest order, would still not be rare enough among so many is too young: nothing is said of it.",
    guide: "change-with-time"
  },
  {
    id: "how-looking",
    heading: "Looking harder",
    text: "Each lot is set against the others of its supplier and species: the slope of the measure on the doublings of squares looked at for each one taken.",
    guide: "looking-harder"
  },
  {
    id: "how-worth",
    heading: "Chance to be cheapest, and worth",
    text: "Each supplier's cost of a usable shaft, at the prices of its last three lots, is known with an error; the chance to be cheapest is that of its cost to lie below all others'. A square is worth the price at which its usable shaft costs what that of the cheapest other does.",
    formula: "worth = share that becomes usable · cost of the other's usable shaft − carriage − work on a square",
    guide: "worth-of-a-square"
  },
  {
    id: "how-visit",
    heading: "What a trip teaches",
    text: "One more lot moves what is known of a supplier's cost. Where that may change the choice, a year's usable shafts are expected to cost less; where the choice would stay, it teaches nothing. Costs are at the prices of the last three lots; how sure they are, and so how far one lot may move them, hangs on how the usable shares of lots differ, by Student's law, as few lots hardly know their own scatter.",
    formula:
      "shafts · s · (z · F(z) + (ν + z²) ÷ (ν − 1) · f(z)), z = −gap ÷ s, ν = lots − 1;  s = standard error ÷ √(lots + 1)",
    guide: "value-of-a-trip"
  },
  {
    id: "how-future",
    heading: "What a square will weigh",
    text: "The mean of mass over density at 12 %, stage by stage, times the density; the range from the scatter of single pieces. It holds for the diameters of now.",
    formula: "mass = mean of (mass ÷ density) · density",
    guide: "weights-to-come"
  },
  howSure
];
