import {type Day, dayText, monthEnd, monthIndex, monthOf, monthText} from "../../lib/book/day.ts";
import {type Histories, histories} from "../../lib/book/histories.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {discardChart} from "../../lib/defects/discardChart.ts";
import {type DiscardRate, discardRates} from "../../lib/defects/discardRates.ts";
import {controlChart} from "../../lib/figures/controlChart.ts";
import {moistureSteps} from "../../lib/figures/moistureSteps.ts";
import {squaresFlow} from "../../lib/figures/squaresFlow.ts";
import {stockBars} from "../../lib/figures/stockBars.ts";
import {html} from "../../lib/report/html.ts";
import {keyFigures} from "../../lib/report/keyFigures.ts";
import type {Method} from "../../lib/report/methods.ts";
import {shown, shownInterval} from "../../lib/report/quantity.ts";
import type {Table} from "../../lib/report/table.ts";
import {moistureLosses} from "../../lib/seasoning/moistureLosses.ts";
import {type StockRow, stockOnHand} from "../../lib/seasoning/stockOnHand.ts";
import {storeAir} from "../../lib/seasoning/storeAir.ts";
import {sum} from "../../lib/stats/numbers.ts";
import {lotTable} from "../../lib/yield/lotTable.ts";
import {type StageYields, stageYields} from "../../lib/yield/stageYields.ts";
import {whereSquaresGo} from "../../lib/yield/whereSquaresGo.ts";
import {woodYield} from "../../lib/yield/woodYield.ts";
import {yieldsToTell} from "../../lib/yield/yieldsToTell.ts";
import {counted} from "../faultLines.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {rowPrints} from "../io/rowPrints.ts";
import {version} from "../version.ts";
import {changes, changeWords, type FollowedNumber, printedNumbers} from "./changes.ts";
import {clearlyMore, recentDays} from "./clearlyMore.ts";
import {type Beside, type Composer, compose, plain, type Report} from "./compose.ts";
import {howSure} from "./howSure.ts";
import {listed} from "./listed.ts";
import {defectRateFigure, fewest, isMost, isWorst, stageYieldFigure} from "./yieldFigures.ts";

/** The monthly yield report: what went in, what came out, what was lost, and whether it is getting worse. */
export function monthlyReport(read: BookAsOf, beside: Beside): Report {
  const {histories: now, asOf, book} = read;
  const month = monthOf(asOf);
  const previous = monthText(monthIndex(month) - 1);
  const kept = beside.keptBefore(book.settings.name, `${month}-01`);
  const day = kept?.asOf ?? monthEnd(previous);
  const results = monthlyResults(now);
  const then = histories(book, day);
  const before = {day, numbers: then.lots.length === 0 ? [] : followed(overall(then))};
  const numbers = followed(results);
  const report = compose("monthly", read, beside, (composer) => {
    const period = `${[...now.lots.map(({boughtOn}) => boughtOn)].sort()[0]} to ${asOf}`;
    return {
      title: `Yield and discards, ${monthName(month)}`,
      subtitle: `${book.settings.name} · squares bought ${period}${monthEnd(month) === asOf ? "" : ` · the month is not over: data to ${asOf}`}`,
      lead: mainPoints(results, now),
      summary: summary(results, before, now, composer),
      sections: [
        ...sections(results, read, composer, period),
        {
          id: "changes",
          heading: `What changed since ${day}`,
          body:
            before.numbers.length === 0
              ? [html`<p>Nothing had been bought by ${day}.</p>\n`]
              : changes(
                  {now: numbers, earlier: before.numbers, day, kept, rows: rowPrints(book, day), version},
                  composer
                )
        }
      ],
      method,
      limits: [
        "A square still resting is not counted as lost, and not as sure: it counts for as long as it has been followed. “Undecided” says how much the data leave open.",
        "Intervals are 95 % and come from how lots differ, as squares of one lot are alike; with fewer than four lots they are left out, or taken from single pieces where the table of yields says so. Those of the last half year are approximate: 91 to 99 of 100 held the truth in simulated workshops.",
        `“Lately” means the last ${recentDays} days before ${asOf}.`,
        "Moisture is % of oven-dry mass. Density is at 12 % moisture."
      ]
    };
  });
  return {
    ...report,
    kept: {
      format: 1,
      workshop: book.settings.name,
      asOf,
      version,
      per100: printedNumbers(numbers),
      rows: rowPrints(book, asOf)
    }
  };
}

interface Overall {
  all: StageYields;
  recent: StageYields;
  allRates: DiscardRate[];
}

interface MonthlyResults extends Overall {
  bySpecies: {species: string; yields: StageYields}[];
  rates: {species: string; rows: DiscardRate[]}[];
  recentRates: DiscardRate[];
  chart: ReturnType<typeof discardChart>;
}

function overall(now: Histories): Overall {
  return {
    all: yieldsToTell(stageYields(now, now.pieces)),
    recent: yieldsToTell(stageYields(now, now.pieces, {since: now.asOf - recentDays})),
    allRates: discardRates(now, now.pieces)
  };
}

function monthlyResults(now: Histories): MonthlyResults {
  const species = [...groupBy(now.pieces, (piece) => piece.species)].sort();
  return {
    ...overall(now),
    bySpecies: species.map(([name, pieces]) => ({species: name, yields: yieldsToTell(stageYields(now, pieces))})),
    rates: species.map(([name, pieces]) => ({species: name, rows: discardRates(now, pieces)})),
    recentRates: discardRates(now, now.pieces, {since: now.asOf - recentDays}),
    chart: discardChart(now, now.pieces)
  };
}

/** The numbers that are followed from month to month. */
function followed({all, recent, allRates}: Overall): FollowedNumber[] {
  const yieldOf = (label: string, {rolledFraction, rolledLow, rolledHigh}: StageYields) => ({
    label,
    per100: hundred(rolledFraction),
    low: hundred(rolledLow),
    high: hundred(rolledHigh)
  });
  return [
    yieldOf("finished shafts", all),
    yieldOf("finished shafts, at the rates of the last half year", recent),
    ...allRates.map(({defect, per100, per100Low: low, per100High: high}) => ({
      label: defect === "all" ? "thrown out, all defects" : `thrown out: ${defect}`,
      per100,
      low,
      high
    }))
  ];
}

const hundred = (fraction: number | undefined) => (fraction === undefined ? undefined : 100 * fraction);

function mainPoints({all, recent, allRates, recentRates, chart}: MonthlyResults, now: Histories): string[] {
  const points: string[] = [];
  const bought = now.pieces.length;
  const open = now.pieces.filter(({fate}) => fate === "in stock").length;
  if (all.rolledFraction === undefined) {
    points.push(
      `Too early to say what becomes of the squares: of ${shown(bought, "count")} bought ${shown(open, "count")} are still on their way, and of too few it is decided.`
    );
    return points;
  }
  points.push(
    `Of 100 squares ${shown(100 * all.rolledFraction, "count")} become finished shafts${between(all.rolledLow, all.rolledHigh)}; ${shown(open, "count")} of ${shown(bought, "count")} squares are still on their way and are not counted as lost.`
  );
  if (recent.rolledFraction !== undefined && now.lots.some(({boughtOn}) => boughtOn < dayText(now.asOf - recentDays))) {
    const apart =
      recent.rolledHigh !== undefined && recent.rolledHigh < all.rolledFraction
        ? "clearly lower"
        : recent.rolledLow !== undefined && recent.rolledLow > all.rolledFraction
          ? "clearly higher"
          : recent.rolledLow === undefined
            ? "too few lots to tell whether that differs"
            : "no different beyond chance";
    points.push(
      `At the rates of the last half year it would be ${shown(100 * recent.rolledFraction, "count")}${between(recent.rolledLow, recent.rolledHigh)}: ${apart}.`
    );
  }
  const known = all.stages.filter(({yieldFraction}) => yieldFraction !== undefined);
  const worst = known.toSorted((a, b) => a.yieldFraction! - b.yieldFraction!)[0];
  if (worst && worst.discarded > 0 && !isWorst(worst, known))
    points.push("The data cannot tell which stage loses most.");
  else if (worst && worst.discarded > 0)
    points.push(
      `The stage that loses most is ${worst.stage}: ${shown(100 - 100 * worst.yieldFraction!, "count")} of 100 pieces do not pass on.`
    );
  const [, first, second] = allRates;
  if (first) {
    const next = second ? `, ahead of ${second.defect} with ${shown(second.per100, "per 100")}` : "";
    points.push(
      isMost(allRates)
        ? `Most is lost to ${first.defect}: ${shown(first.per100, "per 100")} squares${next}.`
        : `The data cannot tell which defect takes most: ${first.defect} took ${shown(first.per100, "per 100")} squares${next}.`
    );
  }
  const worse = recentRates
    .slice(1)
    .map((row) => ({row, past: allRates.find(({defect}) => defect === row.defect)}))
    .filter(({row, past}) => past && clearlyMore(row, past))
    .toSorted((a, b) => b.row.per100 - b.past!.per100 - (a.row.per100 - a.past!.per100))[0];
  if (worse)
    points.push(
      `Lately ${worse.row.defect} takes ${shown(worse.row.per100, "per 100")} squares against ${shown(worse.past!.per100, "per 100")} over all years.`
    );
  const last = chart.months.at(-1);
  if (last?.fraction !== undefined && last.decided >= fewest) {
    points.push(
      `In ${monthName(last.month)} ${last.discarded} of ${last.decided} pieces handled were thrown out (${shown(last.fraction, "fraction")}), ${last.outside ? "outside" : "within"} the limits of chance.`
    );
  }
  return points;
}

function between(low: number | undefined, high: number | undefined): string {
  return low === undefined || high === undefined
    ? ""
    : ` (95 % interval ${shownInterval({low: 100 * low, high: 100 * high}, "count")})`;
}

function summary(
  {all, recent}: MonthlyResults,
  before: {day: Day; numbers: readonly FollowedNumber[]},
  now: Histories,
  {currency}: Composer
) {
  const month = monthOf(dayText(now.asOf));
  const previous = monthText(monthIndex(month) - 1);
  const inMonth = (day: number | undefined, m: string) => day !== undefined && monthOf(dayText(day)) === m;
  const ofMonth = (label: string, count: (m: string) => number) => ({
    label: `${label} in ${monthName(month)}`,
    value: count(month),
    unit: "count" as const,
    change: `${monthName(previous)}: ${count(previous)}`
  });
  const yieldOf = (label: string, {rolledFraction, rolledLow, rolledHigh}: StageYields, change?: string) => ({
    label,
    value: rolledFraction,
    unit: "fraction" as const,
    ...(rolledLow !== undefined && rolledHigh !== undefined && {interval: {low: rolledLow, high: rolledHigh}}),
    change
  });
  const change = changeWords(hundred(all.rolledFraction), before.numbers[0]?.per100, before.day);
  const fate = (name: string) => (m: string) =>
    now.pieces.filter((piece) => piece.fate === name && inMonth(piece.fateOn, m)).length;
  return keyFigures(
    [
      {
        ...yieldOf("Square to shaft, all years", all, change),
        n: `${shown(now.pieces.length, "count")} squares, ${counted(new Set(now.pieces.map(({lot}) => lot)).size, "lot")}`
      },
      yieldOf("Square to shaft, last half year", recent),
      ofMonth("Squares bought", (m) =>
        now.lots
          .filter(({boughtOn}) => monthOf(boughtOn) === m)
          .reduce((sum, {squaresBought}) => sum + squaresBought, 0)
      ),
      ofMonth("Shafts finished", fate("finished")),
      ofMonth("Pieces thrown out", fate("discarded"))
    ],
    {currency}
  );
}

function sections(
  results: MonthlyResults,
  {histories: now, book, asOf}: BookAsOf,
  {figure, table}: Composer,
  period: string
) {
  const {all, bySpecies, rates, allRates, recentRates, chart} = results;
  const population = bySpecies
    .map(({species: name}) => {
      const own = now.pieces.filter((piece) => piece.species === name);
      return `${shown(own.length, "count")} squares of ${name} in ${counted(new Set(own.map(({lot}) => lot)).size, "lot")}`;
    })
    .join(", ");
  const flow = squaresFlow(whereSquaresGo(now, now.pieces), book.settings, {period});
  const about = {population, period};
  const yieldFigure = stageYieldFigure({all, bySpecies}, about);
  const defectFigure = defectRateFigure({rates, allRates, recentRates}, about);
  const air = storeAir(book.climate, now.asOf);
  const losses = moistureLosses(now);
  const rests = book.settings.stages.slice(0, -1).map(({name}) => name);
  const restRates = rests.map((stage) => ({stage, rates: discardRates(now, now.pieces, {stage})}));
  const wood = bySpecies.flatMap(({species: name, yields}) => {
    const row = woodYield(
      now,
      now.pieces.filter((piece) => piece.species === name),
      yields.rolledFraction
    );
    return row ? [{species: name, ...row}] : [];
  });
  const every = lotTable(now);
  const lots = every.filter(({bought, unaccounted}) => unaccounted < bought);
  const unlisted = every.filter((lot) => !lots.includes(lot)).map(({lot}) => lot);
  const stock = stockOnHand(now);
  const lotColumns: Table["columns"] = [
    {key: "lot", heading: "Lot", unit: "text"},
    {key: "boughtOn", heading: "Bought on", unit: "date"},
    {key: "supplier", heading: "Supplier", unit: "text"},
    {key: "species", heading: "Species", unit: "text"},
    {key: "bought", heading: "Bought", unit: "count"},
    {key: "finished", heading: "Finished", unit: "count"},
    {key: "discarded", heading: "Discarded", unit: "count"},
    {key: "diverted", heading: "Diverted", unit: "count"},
    {key: "inStock", heading: "In stock", unit: "count"},
    {key: "unaccounted", heading: "Unaccounted", unit: "count"}
  ];
  const [open, decided] = [lots.filter(({inStock}) => inStock > 0), lots.filter(({inStock}) => inStock === 0)];
  return [
    {
      id: "yield",
      heading:
        all.rolledFraction === undefined
          ? "Yield: too early to say"
          : `Yield: ${shown(100 * all.rolledFraction, "count")} of 100 squares become shafts`,
      body: [
        figure(flow),
        figure(yieldFigure),
        html`<h3>In wood</h3>\n`,
        table({
          id: "wood-yield-table",
          caption: "Volume of finished shaft in volume of square: what the taper costs and what discards cost",
          columns: [
            {key: "species", heading: "Species", unit: "text"},
            {key: "squares", heading: "Squares", unit: "count"},
            {key: "squareCm3", heading: "Mean square", unit: "cm³"},
            {key: "shaftCm3", heading: "Finished shaft", unit: "cm³"},
            {key: "woodFraction", heading: "In shafts", unit: "fraction"},
            {key: "shavingsFraction", heading: "Shavings of shafts", unit: "fraction"},
            {key: "discardsFraction", heading: "In pieces that fail", unit: "fraction"}
          ],
          rows: wood.map(({squareVolumeMm3, shaftVolumeMm3, ...row}) => ({
            ...row,
            squareCm3: squareVolumeMm3 / 1000,
            shaftCm3: shaftVolumeMm3 / 1000
          }))
        }),
        html`<h3>Lot by lot</h3>\n`,
        table({
          id: "lots-open",
          caption: "Lots with pieces on their way, newest first, and the yield to expect when these are decided",
          columns: [
            ...lotColumns.filter(({key}) => key !== "unaccounted"),
            {key: "expectedFraction", heading: "To expect", unit: "fraction", low: "expectedLow", high: "expectedHigh"}
          ],
          rows: plain(open)
        }),
        ...(unlisted.length === 0
          ? []
          : [
              html`<p>Not here, as no square of ${unlisted.length === 1 ? "it" : "them"} is in squares.csv yet: ${unlisted.length === 1 ? "lot" : "lots"} ${listed(unlisted)}.</p>\n`
            ]),
        ...(decided.length === 0
          ? []
          : [
              html`<details>\n<summary>${counted(decided.length, "lot")} decided</summary>\n${table({
                id: "lots-decided",
                caption: "Lots of which no piece is on its way any more, newest first",
                columns: [
                  ...lotColumns.filter(({key}) => key !== "inStock"),
                  {key: "soFarFraction", heading: "Yield", unit: "fraction"}
                ],
                rows: plain(decided)
              })}</details>\n`
            ])
      ],
      parts: [flow, yieldFigure].map(({id, title}) => ({id, heading: title}))
    },
    {
      id: "discards",
      heading: discardsHeading(results),
      body: [
        figure(defectFigure),
        figure(controlChart(chart, {period})),
        table({
          id: "lost-at-rest",
          caption: "Thrown out at each stage, per 100 pieces that reach it, by defect",
          columns: [
            {key: "defect", heading: "Defect", unit: "text"},
            {key: "discarded", heading: "Pieces so far", unit: "count"},
            ...rests.map(
              (stage, i) =>
                ({key: `s${i}`, heading: stage, unit: "per 100", low: `s${i}Low`, high: `s${i}High`}) as const
            )
          ],
          rows: allRates.map(({defect, discarded}) => ({
            defect,
            discarded,
            ...Object.fromEntries(
              restRates.flatMap(({rates: own}, i) => {
                const row = own.find((one) => one.defect === defect);
                return [
                  [`s${i}`, row?.per100],
                  [`s${i}Low`, row?.per100Low],
                  [`s${i}High`, row?.per100High]
                ];
              })
            )
          })),
          note: `Pieces that reached each: ${restRates.map(({stage, rates: own}) => `${stage} ${shown(own[0]?.squares ?? 0, "count")}`).join(", ")}. In brackets: 95 % intervals, from how lots differ.`
        })
      ]
    },
    {
      id: "stock",
      heading: stockHeading(stock, book.settings.stages.at(-1)!.name),
      body: [figure(stockBars(stock, {asOf}))]
    },
    {
      id: "seasoning",
      heading: air
        ? `Seasoning: the store takes timber to ${shown(air.equilibriumPct, "percent")} moisture`
        : "Seasoning: no readings of the store's air",
      body: [
        html`<p>${air ? `The store had ${shown(air.temperatureC, "°C")} and ${shown(air.humidityPct, "percent")} relative humidity from ${air.from} to ${air.to} (${air.readings} readings): timber in it tends to ${shown(air.equilibriumPct, "percent")} moisture.` : "There are no readings of the store's air in the last 60 days (climate.csv), so it cannot be said what moisture the timber tends to."}</p>\n`,
        figure(moistureSteps(losses, {stages: rests, equilibriumPct: air?.equilibriumPct, period}))
      ]
    }
  ];
}

/** What costs most, and whether the month is one of chance. */
function discardsHeading({allRates, chart}: MonthlyResults): string {
  const [, first] = allRates;
  const last = chart.months.at(-1);
  if (!first) return "Discards: nothing has been thrown out";
  const month =
    last?.fraction === undefined
      ? ""
      : `, and ${monthName(last.month)} is ${last.outside ? "outside the limits of chance" : "no exception"}`;
  return `Discards: ${isMost(allRates) ? `${first.defect} costs most` : "no defect clearly costs most"}${month}`;
}

/** How many of the pieces on their way could be turned. */
function stockHeading(rows: readonly StockRow[], last: string): string {
  const resting = rows.filter(({stage}) => stage !== last);
  const [pieces, rested] = [sum(resting.map((row) => row.pieces)), sum(resting.map((row) => row.rested))];
  return pieces === 0
    ? "Store: nothing is resting"
    : `Store: ${rested} of ${counted(pieces, "piece")} have rested long enough`;
}

/** "October 2026" of "2026-10", whatever the machine's language. */
export function monthName(month: string): string {
  const names = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December"
  ];
  return `${names[Number(month.slice(5)) - 1]} ${month.slice(0, 4)}`;
}

export const method: readonly Method[] = [
  {
    id: "how-yield",
    heading: "Yield",
    text: "A square still in the store has no outcome yet. “Finished this month ÷ bought this month” sets different squares against each other, and “finished so far ÷ bought” counts every resting square as lost; when buying grows both are far too low. Here each stage is followed on its own clock, and a piece counts for as long as it has been seen there. On each day d of a stage, the share that passes is the share still there times the passings of that day over the pieces there; the yield of the stage is their sum, and the yield from square to shaft the product of the stages (Aalen–Johansen). While of more than a tenth it is not decided what becomes, no yield is told.",
    formula:
      "yield of a stage = Σ S(d−1) · passed(d) ÷ there(d);  S(d) = S(d−1) · (1 − left(d) ÷ there(d));  square to shaft = product of the stages",
    guide: "yields"
  },
  {
    id: "how-discards",
    heading: "Discards",
    text: "The same sum for each defect, carried from square to shaft: the defects, what is put to other use and the yield add up to 100 with what is still undecided. An interval leaves room for what is undecided.",
    formula:
      "per 100 squares = 100 · Σ over stages of (yield of the stages before · share of the stage lost to the defect)",
    guide: "discards"
  },
  {
    id: "how-months",
    heading: "Discards by month",
    text: "The chart takes the pieces handled in a month. Its band is where a month lies in 997 of 1000 cases if nothing has changed, widened by Laney's factor because lots differ.",
    formula: "mean ± 3 · widening · √(p̄ · (1 − p̄) ÷ n)",
    guide: "discards-by-month"
  },
  {
    id: "how-stock",
    heading: "Stock",
    text: "Counted: every piece whose last event leaves it in the store, at the stage it was last turned to. A rest is served once the least days of its stage, from the settings, have passed since it was turned (or bought).",
    guide: "stock"
  },
  {
    id: "how-moisture",
    heading: "Moisture",
    text: "Moisture at the end of a rest comes from mass, as the dry wood does not change while a piece rests. The moisture to which the store's air brings timber follows the Wood Handbook's equation (FPL-GTR-190, eq. 4-5).",
    formula: "M₂ = (1 + M₁) · m₂ ÷ m₁ − 1",
    guide: "moisture"
  },
  {
    id: "how-wood",
    heading: "Wood in shafts",
    text: "The volume of a shaft is that of its taper, from its diameters; the share of the wood that ends in shafts is that volume times the yield, over the mean volume of a square.",
    formula: "volume of a frustum = π · length ÷ 12 · (D² + D·d + d²)",
    guide: "wood-in-shafts"
  },
  howSure
];
