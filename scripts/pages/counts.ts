import type {BookCounts} from "../../lib/book/bookCounts.ts";
import {dayText} from "../../lib/book/day.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {controlChart} from "../../lib/figures/controlChart.ts";
import {capital, slug} from "../../lib/figures/densityDots.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {intervalDots} from "../../lib/figures/intervalDots.ts";
import {html, htmlText} from "../../lib/report/html.ts";
import {keyFigures} from "../../lib/report/keyFigures.ts";
import {type Method, methods} from "../../lib/report/methods.ts";
import {page, type Section} from "../../lib/report/page.ts";
import {shown, shownInterval} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import {countedRestLosses} from "../../lib/seasoning/restLosses.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {costRank} from "../../lib/yield/costRank.ts";
import {countedYields, type StageYields} from "../../lib/yield/stageYields.ts";
import {yieldsToTell} from "../../lib/yield/yieldsToTell.ts";
import {counted} from "../faultLines.ts";
import {pageScript, styleHash} from "../io/policyHash.ts";
import {allResults} from "../results/allResults.ts";
import {version} from "../version.ts";
import {recentDays} from "./clearlyMore.ts";
import {type Beside, balanceTable, type Composer, lead, makeComposer, plain} from "./compose.ts";
import {extremes} from "./extremes.ts";
import {glossary} from "./glossary.ts";
import {howGood, howSure} from "./howSure.ts";
import {latelyFactors, latelyWorse} from "./latelyWorse.ts";
import {listed} from "./listed.ts";
import {missing} from "./missing.ts";
import {method as monthlyMethods} from "./monthly.ts";
import {buyByTable, stageTimeTable} from "./season/when.ts";
import {
  howMany,
  noNumber,
  ofWhom,
  type Planned,
  points,
  purchaseSection,
  method as seasonMethods,
  wantedFor
} from "./season.ts";
import {lossesMethods, lossesPart} from "./seasoning/losses.ts";
import {
  costOfShafts,
  costSentence,
  costWords,
  discardsOfSuppliers,
  insideWindow,
  rankTable,
  spreadOfSuppliers,
  spreadSentence,
  tightestWords,
  windowWords,
  worseSentence
} from "./supplierFigures.ts";
import {method as supplierMethods} from "./suppliers.ts";
import {defectRateFigure, isMost, isWorst, stageYieldFigure} from "./yieldFigures.ts";

/** The page of what counts tell, and its tables. */
export interface CountsReport {
  title: string;
  html: string;
  lead: string[];
  tables: Table[];
}

/**
 * One page of all that counts of a book answer, or of several workshops added up: yields, discards, densities, rests, costs and the season's
 * plan. It depends on the counts alone, so that the same counts give the same bytes, be they from a book, from files or from an SQL engine.
 *
 * @param workshops the names of those added up; lots are found by them
 * @param draw draws its figures; left out where only the numbers are wanted
 */
export function countsReport(
  counts: BookCounts,
  workshops: readonly string[] = [],
  draw?: NonNullable<Beside["draw"]>
): CountsReport {
  const {settings, lots, spells} = counts;
  const {currency} = settings.money;
  const asOf = dayText(counts.asOf);
  const {composer, tables} = makeComposer({currency, asOf}, {notebooks: [], ...(draw && {draw})});
  const {figure, table} = composer;
  const results = allResults(counts);
  const {yields: all, yieldsLately, discards, discardsLately, densities, spread, shaftCosts, season} = results;
  const days = lots.map(({boughtOn}) => boughtOn).sort();
  const period = `${days[0]} to ${asOf}`;
  const squares = sum(densities.map((row) => row.squares));
  const lotsWithSquares = new Set(spells.map(({lot}) => lot)).size;
  const population = `${shown(squares, "count")} squares in ${counted(lotsWithSquares, "lot")}`;
  const about = {population, period, settings};
  const lately = latelyWorse(counts);
  const ranks = costRank(shaftCosts, settings.money.turningCostPerSquare, latelyFactors(lately));
  const costs = shaftCosts.filter(({inWindowCost}) => inWindowCost !== undefined);
  const stageOfLots = groupBy(spells, ({lot}) => lot);
  const plans = season.species.map((one): Planned => {
    const own = lots.filter(({species}) => species === one.species).flatMap(({lot}) => stageOfLots.get(lot) ?? []);
    const at = (stage: string) => sum(own.filter((row) => row.stage === stage).map((row) => row.squares));
    return {...one, pieces: at(settings.stages[0]!.name), finished: at(settings.stages.at(-1)!.name)};
  });
  const houses = workshops.length > 1 ? workshopYields(counts, workshops) : [];
  const weakest = worstStage(all);
  const [, firstDefect] = discards;

  const sections: Section[] = [
    ...(houses.length > 0 ? [workshopSection(houses, period, composer)] : []),
    {
      id: "yield",
      heading:
        all.rolledFraction === undefined
          ? "Yield: too early to say"
          : `Yield: ${shown(100 * all.rolledFraction, "count")} of 100 squares become shafts`,
      body: [figure(stageYieldFigure({all, bySpecies: results.species}, about))]
    },
    {
      id: "discards",
      heading: !firstDefect
        ? "Discards: nothing has been thrown out"
        : `Discards: ${isMost(discards) ? `${firstDefect.defect} costs most` : "no defect clearly costs most"}`,
      body: [
        figure(
          defectRateFigure(
            {
              rates: results.species.map(({species, discards: rows}) => ({species, rows})),
              allRates: discards,
              recentRates: discardsLately
            },
            about
          )
        ),
        figure(controlChart(results.discardsByMonth, {period}))
      ]
    },
    sectionOf(lossesPart(countedRestLosses(counts, spells), composer, period)),
    {
      id: "density",
      heading: `Density: ${tightestWords(spread)}`,
      body: [
        figure(spreadOfSuppliers({densities, spreads: spread, sources: []}, about)),
        html`${spread.map((row) => html`<p>${spreadSentence(row, densities)}</p>\n`)}`
      ]
    },
    {id: "window", heading: `Window: ${windowWords(densities)}`, body: [figure(insideWindow(densities, about))]},
    {
      id: "losses",
      heading: `Discards by supplier: ${lately.length > 0 ? `${listed([...new Set(lately.map(({supplier}) => supplier))])} may have got worse` : "no supplier has got worse beyond chance"}`,
      body: [
        figure(discardsOfSuppliers(results.discardsBySupplier, about)),
        html`${lately.map((row) => html`<p>${worseSentence(row)}</p>\n`)}`
      ]
    },
    {
      id: "cost",
      heading: `Cost: ${costWords(costs, ranks)}`,
      body: [figure(costOfShafts(shaftCosts, ranks, about)), table(rankTable(ranks)), lead("how-worth")]
    },
    ...purchaseSection(plans, season, composer),
    ...plans.flatMap((plan) => [
      howMany(plan, season, settings.scenarios, composer),
      ofWhom(plan, season, composer),
      wantedFor(plan, season, composer)
    ]),
    ...season.missing.map(({species, why}) => noNumber(species, why)),
    {
      id: "times",
      heading: `By when: for the season from ${season.startsOn}`,
      body: results.species.flatMap(({species, leadTimes, stageTimes}) => [
        table(buyByTable(leadTimes, species, season.startsOn)),
        html`<details>\n<summary>Days at each stage: ${species}</summary>\n${table(
          stageTimeTable(
            stageTimes.filter(({passed}) => passed > 0),
            species
          )
        )}</details>\n`,
        lead("how-buy-by")
      ])
    },
    {id: "balance", heading: "Where every square is", body: [balanceTable(results.balance, composer)]},
    ...rowsSection(counts, workshops, composer)
  ];
  const own = method.filter(({id}) => id === howSure.id || id === howGood.id || usedBy(sections, id));
  const points_ = [
    ...missing(counts.books ?? [], asOf),
    ...(all.rolledFraction === undefined
      ? ["Too early to say what becomes of the squares: of too few it is decided."]
      : [
          `Of 100 squares ${shown(100 * all.rolledFraction, "count")} become finished shafts${percentInterval(all)}.${weakest && isWorst(weakest, all.stages) ? ` The stage that loses most is ${weakest.stage}: ${shown(100 - 100 * weakest.yieldFraction!, "count")} of 100 pieces do not pass on.` : ""}`
        ]),
    ...(houses.length > 0 ? [workshopPoint(houses)] : []),
    ...plans.map((plan) => points(plan, counts.asOf)[0]!),
    ...lately.map(worseSentence),
    ...results.species.flatMap(({species}) => costSentence(ranks, species))
  ].slice(0, 6);
  const title =
    workshops.length > 1
      ? `${counted(workshops.length, "workshop")} as one`
      : `What the counts of ${settings.name} say`;
  const text = page({
    lang: "en-GB",
    title,
    subtitle: `${workshops.length > 1 ? listed(workshops) : settings.name} · ${population} · squares bought ${days[0]} to ${days.at(-1)} · data to ${asOf} · from counts alone, to be handed on or added up with those of other workshops`,
    lead: points_,
    summary: keyFigures(
      [
        yieldFigure("Square to shaft, all years", all, population),
        yieldFigure("Square to shaft, last half year", yieldsLately),
        ...plans.map(({species, plan}) => ({
          label: `${capital(species)} squares to buy`,
          value: plan.best.squares,
          unit: "count" as const,
          interval: {low: plan.band.from, high: plan.band.to},
          level: "within 1\u00a0% of the best",
          note: `all orders until ${season.endsOn} served with a chance of ${shown(plan.best.service, "fraction")}`
        })),
        ...season.missing.map(({species}) => ({
          label: `${capital(species)} squares to buy`,
          value: "cannot say",
          unit: "text" as const
        }))
      ],
      {currency}
    ),
    sections: [
      ...sections,
      {id: "method", heading: "How this is worked out", body: [methods(own)]},
      {
        id: "limits",
        heading: "Things to know",
        body: [html`<ul>${limits(counts, workshops).map((limit) => html`<li>${limit}</li>\n`)}</ul>`]
      },
      {id: "words", heading: "Words used here", body: [glossary()]}
    ],
    footer: html`<p>Figures are advice from past records, not a promise; timber and orders change. Wood dust harms: extract it at the source and follow the local rules. See the README for cautions on lathes, finishes and protected species.</p>
<p>Made by square-to-shaft ${version} from counts alone: ${counted(spells.length, "row")} of squares by lot, stage and days, ${counted(counts.densities.length, "row")} of densities, ${counted(lots.length, "lot")}, ${counted(counts.orders.length, "order")}. Command: <code>npm run counts</code>.</p>\n`,
    styleHash,
    script: pageScript
  });
  return {title, html: text, lead: points_, tables};
}

const sectionOf = ({id, heading, body}: Section): Section => ({id, heading, body});

/** Whether a figure or table leads to a method. */
function usedBy(sections: readonly Section[], method: string): boolean {
  return sections.some(({body}) => body.some((part) => htmlText(part).includes(`#${method}"`)));
}

const method: readonly Method[] = [
  ...new Map(
    [...monthlyMethods, ...lossesMethods, ...supplierMethods, ...seasonMethods].map((one) => [one.id, one])
  ).values()
];

function limits({settings}: BookCounts, workshops: readonly string[]): string[] {
  return [
    "This page knows no single square: what hangs on one (weights to come, moisture, which shaft for which order) is on the other pages, made from the book.",
    "Densities are counted to a tenth of a kg/m³; the suppliers' page takes them unrounded, so its spreads and means may differ in the last digit shown.",
    "Whether the books are sound is not seen here, but for how many of their rows were set aside: npm run check tells each fault.",
    `“Lately” means the last ${recentDays} days. Leftover shafts, shortages and the work on a square count as set under money in workshop.json; currency ${settings.money.currency}.`,
    ...(workshops.length > 1
      ? [
          `Money, season, rests and scenarios are those that ${workshops[0]} has set, for all; so are species, defects and suppliers that others have too.`,
          "A supplier of one name is one supplier, whoever buys there. Stock and orders are taken together, as if any shaft could serve any order: what it costs to send them round is not in it.",
          "Workshops may differ by their timber, their customers and how they write things down, not only by their work."
        ]
      : [])
  ];
}

function rowsSection({books = []}: BookCounts, workshops: readonly string[], {table}: Composer): Section[] {
  if (books.length === 0) return [];
  const rows = books.flatMap(({workshop, files}) => files.map((file) => ({workshop, ...file})));
  const refused = sum(rows.map(({setAside}) => setAside));
  const isOne = books.every(({workshop}) => workshop === undefined);
  const untold = isOne ? [] : workshops.filter((name) => !books.some(({workshop}) => isOf(name, workshop)));
  return [
    {
      id: "rows",
      heading:
        refused === 0
          ? "Rows of the books: none was set aside"
          : `Rows of the books: ${shown(refused, "count")} set aside`,
      body: [
        table({
          id: "rows-counted",
          caption: "Rows that were read, and those in no count",
          columns: [
            ...(isOne ? [] : [{key: "workshop", heading: "Workshop", unit: "text"} as const]),
            {key: "file", heading: "File", unit: "text"},
            {key: "rows", heading: "Rows read", unit: "count"},
            {key: "setAside", heading: "Set aside for a fault", unit: "count"}
          ],
          rows: plain(rows),
          ...(untold.length > 0 && {note: `The counts of ${listed(untold)} do not tell their rows.`})
        })
      ]
    }
  ];
}

/** Whether a book is that of a workshop, or of one of those that it was added up of. */
const isOf = (name: string, workshop: string | undefined) => workshop === name || workshop?.startsWith(`${name}/`);

function worstStage({stages}: StageYields) {
  return stages
    .filter(({yieldFraction}) => yieldFraction !== undefined)
    .toSorted((a, b) => a.yieldFraction! - b.yieldFraction!)[0];
}

function yieldFigure(label: string, {rolledFraction, rolledLow, rolledHigh}: StageYields, n?: string) {
  return {
    label,
    value: rolledFraction,
    unit: "fraction" as const,
    ...(rolledLow !== undefined && rolledHigh !== undefined && {interval: {low: rolledLow, high: rolledHigh}}),
    n
  };
}

function percentInterval({rolledLow: low, rolledHigh: high}: StageYields): string {
  return low === undefined || high === undefined
    ? ""
    : ` (95 % interval ${shownInterval({low: 100 * low, high: 100 * high}, "count")})`;
}

/** What one workshop makes of one species. */
interface WorkshopYield extends StageYields {
  workshop: string;
  species: string;
  lots: number;
  squares: number;
  finished: number;
  discarded: number;
  inStock: number;
}

function workshopYields(counts: BookCounts, workshops: readonly string[]): WorkshopYield[] {
  const [first, last] = [counts.settings.stages[0]!.name, counts.settings.stages.at(-1)!.name];
  const spellsOf = groupBy(counts.spells, ({lot}) => lot);
  return Object.keys(counts.settings.species).flatMap((species) =>
    workshops.flatMap((workshop): WorkshopYield[] => {
      const lots = counts.lots.filter(
        (one) => one.species === species && one.lot.startsWith(`${workshop}/`) && spellsOf.has(one.lot)
      );
      if (lots.length === 0) return [];
      const own = lots.flatMap(({lot}) => spellsOf.get(lot) ?? []);
      const number = (is: (row: (typeof own)[number]) => boolean) => sum(own.filter(is).map((row) => row.squares));
      return [
        {
          workshop,
          species,
          lots: lots.length,
          squares: number(({stage}) => stage === first),
          finished: number(({stage}) => stage === last),
          discarded: number(({outcome}) => outcome?.startsWith("discarded: ") ?? false),
          inStock: number(({stage, outcome}) => stage !== last && outcome === undefined),
          ...yieldsToTell(countedYields(counts, own))
        }
      ];
    })
  );
}

/** The workshops whose yield of a species lies above, or below, that of every other beyond chance. */
function apart(rows: readonly WorkshopYield[], side: "best" | "worst"): WorkshopYield[] {
  return rows.filter((row) => {
    const others = rows.filter((other) => other.species === row.species && other !== row);
    return (
      others.length > 0 &&
      others.every((other) => {
        const [above, below] = side === "best" ? [row, other] : [other, row];
        return above.rolledLow !== undefined && below.rolledHigh !== undefined && above.rolledLow > below.rolledHigh;
      })
    );
  });
}

function workshopPoint(rows: readonly WorkshopYield[]): string {
  const [best, worst] = [apart(rows, "best"), apart(rows, "worst")];
  if (best.length + worst.length === 0) return "The data cannot tell the workshops' yields apart.";
  const said = ({workshop, species, rolledFraction}: WorkshopYield, what: string) =>
    `${workshop} makes the ${what} of its ${species} (${shown(100 * rolledFraction!, "count")} of 100 squares)`;
  return `${capital(listed([...best.map((row) => said(row, "most")), ...worst.map((row) => said(row, "least"))]))}, beyond chance.`;
}

function workshopSection(rows: readonly WorkshopYield[], period: string, {figure, table}: Composer): Section {
  const isApart = apart(rows, "best").length + apart(rows, "worst").length > 0;
  const title = isApart
    ? "Some workshops make more of their squares"
    : "The data cannot tell the workshops' yields apart";
  const drawn: Figure = intervalDots({
    id: "workshop-yields",
    title,
    subtitle: `Squares that become shafts, %, by workshop and species; ${period}`,
    alt: `Dots with intervals. ${extremes(
      rows.map(({species, workshop, rolledFraction: value}) => ({name: `${species} at ${workshop}`, value})),
      "fraction"
    )}`,
    method: "how-yield",
    note: "Lines: 95 % intervals, from how lots differ; a hollow dot rests on fewer than four lots.",
    unit: "fraction",
    axis: "% that become shafts",
    zero: false,
    dots: rows.map((row) => ({
      label: row.workshop,
      panel: row.species,
      n: counted(row.lots, "lot"),
      value: row.rolledFraction,
      low: row.rolledLow,
      high: row.rolledHigh
    })),
    table: {
      id: "workshop-yields-data",
      caption: "What each workshop made of its squares",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "workshop", heading: "Workshop", unit: "text"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "finished", heading: "Finished", unit: "count"},
        {key: "discarded", heading: "Thrown out", unit: "count"},
        {key: "inStock", heading: "On their way", unit: "count"},
        {key: "rolledFraction", heading: "Square to shaft", unit: "fraction", low: "rolledLow", high: "rolledHigh"}
      ],
      rows: plain(rows.map(({stages: _, ...row}) => row))
    }
  });
  const stages = rows[0]!.stages.map(({stage}) => stage);
  return {
    id: "workshops",
    heading: `Workshops: ${isApart ? "some make more of their squares" : "their yields cannot be told apart"}`,
    body: [
      figure(drawn),
      table({
        id: "workshop-stages",
        caption: "Pieces that pass each stage, of those that reach it, by workshop",
        columns: [
          {key: "species", heading: "Species", unit: "text"},
          {key: "workshop", heading: "Workshop", unit: "text"},
          ...stages.map(
            (stage) =>
              ({
                key: slug(stage),
                heading: stage,
                unit: "fraction",
                low: `${slug(stage)}-low`,
                high: `${slug(stage)}-high`
              }) as const
          )
        ],
        rows: rows.map(({species, workshop, stages: own}) => ({
          species,
          workshop,
          ...Object.fromEntries(
            own.flatMap(({stage, yieldFraction, yieldLow, yieldHigh}) => [
              [slug(stage), yieldFraction],
              [`${slug(stage)}-low`, yieldLow],
              [`${slug(stage)}-high`, yieldHigh]
            ])
          )
        })),
        note: "In brackets: 95 % intervals, from how lots differ."
      })
    ]
  };
}
