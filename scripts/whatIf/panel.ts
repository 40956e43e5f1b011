import {
  baseState,
  leastLots,
  type WhatIfAnswer,
  type WhatIfBase,
  type WhatIfChange,
  type WhatIfState
} from "../../lib/buying/whatIf.ts";
import {capital, slug} from "../../lib/figures/densityDots.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {profitCurve} from "../../lib/figures/profitCurve.ts";
import {type Html, html, raw} from "../../lib/report/html.ts";
import {shown} from "../../lib/report/quantity.ts";
import type {Row, Table} from "../../lib/report/table.ts";
import {tableHtml} from "../../lib/report/tableHtml.ts";

/** What the panel is made from, on the command line and in the page: it travels to the page as JSON. */
export interface WhatIfData extends WhatIfBase {
  currency: string;
  /** The season's last day. */
  endsOn: string;
}

/** What stands in the panel for a state. */
export interface Panel {
  /** What is changed, in words. */
  state: Html;
  says: Html;
  table: Html;
}

const places = ["state", "says", "table"] as const;

/** The panel's parts by where they stand in the page: `what-if-` and the name. */
export function panelHtml(panel: Panel): Html {
  return html`${places.map((place) => html`<div id="what-if-${place}"${place === "says" && html` aria-live="polite"`}>${panel[place]}</div>\n`)}`;
}

/** The panel for a state: what is changed, the answer in sentences, and beside the plan as printed in one table. */
export function panel(
  data: WhatIfData,
  state: WhatIfState,
  answer: WhatIfAnswer | undefined,
  printed: WhatIfAnswer
): Panel {
  const changes = changesInWords(data, state);
  const isChanged = changes.length > 0;
  return {
    state: isChanged
      ? html`<p><strong>What if: ${changes.join("; ")}.</strong> A trial, not the plan: what the book says stands further up.</p>`
      : html`<p>Nothing is changed: this is the plan as printed.</p>`,
    says: answer
      ? html`<ul>${data.species.map((species, s) => html`<li>${sentence(data, species, s, answer)}</li>\n`)}<li>${allInAll(data, answer, printed, isChanged)}</li></ul>`
      : html`<p>A leftover shaft would then be worth as much as a usable one costs, or more: every further square would pay, so there is no best number.</p>`,
    table: tableHtml(table(data, answer, printed, isChanged), data)
  };
}

/** The curve of each species for a state, under names of their own. */
export function panelFigures({species, currency, endsOn}: WhatIfData, {curves}: WhatIfAnswer): Figure[] {
  return species.map((name, s) => {
    const figure = profitCurve(curves[s]!, {species: name, currency, season: `until ${endsOn}`});
    const title = `${capital(name)}: ${figure.title.charAt(0).toLowerCase()}${figure.title.slice(1)}`;
    return {...figure, id: `what-if-${slug(name)}`, title};
  });
}

/** A figure in the panel: finding, what is measured, the drawings, the note. Its numbers stand in the sentences. */
export function panelFigureHtml({id, title, subtitle, alt, note}: Figure, drawings: Record<string, string>): Html {
  return html`<section class="figure" id="${id}" aria-labelledby="${id}-title">
<h3 id="${id}-title">${title}</h3>
<p class="subtitle">${subtitle}</p>
<figure>
<div class="drawing" role="img" aria-label="${alt}">
${Object.entries(drawings).map(([size, svg]) => html`<div class="${size}">${raw(svg)}</div>\n`)}</div>
${note !== undefined && html`<figcaption class="note">${note}</figcaption>\n`}</figure>
</section>
`;
}

const count = (value: number) => shown(value, "count");
const share = (value: number) => shown(value, "fraction");

function sentence({currency}: WhatIfData, species: string, s: number, {curves}: WhatIfAnswer): string {
  const {best, band, forService, serviceGoal} = curves[s]!;
  const money = (value: number) => shown(value, "money whole", {currency});
  const whom = best.orders.map(({supplier, squares}) => `${count(squares)} from ${supplier}`).join(", ");
  const near =
    band.from === band.to
      ? "no other number is within 1\u00a0% of the best expected profit"
      : `any number from ${count(band.from)} to ${count(band.to)} is within 1\u00a0% of the best expected profit`;
  const goal =
    forService === undefined
      ? `No number to be had serves every order with a chance of ${share(serviceGoal)}.`
      : `For a chance of ${share(serviceGoal)} to serve every order it takes ${count(forService)} squares.`;
  const buy =
    best.squares === 0
      ? "buy none"
      : `buy ${count(best.squares)} squares, ${whom}, for ${money(best.cost)} with the work on them`;
  return `${capital(species)}: ${buy}; ${near}. Every order is then served with a chance of ${share(best.service)}; on average ${count(best.expectedShort)} shafts are short and ${count(best.expectedLeftover)} left over. ${goal}`;
}

function allInAll(
  {currency}: WhatIfData,
  {plan, keptProfit}: WhatIfAnswer,
  printed: WhatIfAnswer,
  isChanged: boolean
): string {
  const money = (value: number) => shown(value, "money whole", {currency});
  const trips = plan.visits.length === 1 ? "1 trip" : `${count(plan.visits.length)} trips`;
  const all = `In all ${trips} and ${money(plan.cost)}; the expected profit is ${money(plan.profit)}`;
  if (!isChanged) return `${all}.`;
  const missed = keptProfit === undefined ? undefined : plan.profit - keptProfit;
  const kept =
    missed === undefined
      ? "The plan as printed is then beyond the budget or below a least lot."
      : missed < 0.5
        ? "The plan as printed would then earn as much."
        : `Keeping to the plan as printed would then earn ${money(missed)} less.`;
  return `${all}, against ${money(printed.plan.profit)} as printed. ${kept}`;
}

function table(
  {species}: WhatIfData,
  answer: WhatIfAnswer | undefined,
  printed: WhatIfAnswer,
  isChanged: boolean
): Table {
  const row = (what: string, {curves}: WhatIfAnswer, s: number): Row => {
    const {best, band, forService} = curves[s]!;
    const {squares, cost, profit, service, expectedShort, expectedLeftover, orders} = best;
    return {
      what: `${capital(species[s]!)}, ${what}`,
      squares,
      from: band.from,
      to: band.to,
      whom: orders.map((order) => `${order.squares} ${order.supplier}`).join(" + ") || "none",
      cost,
      profit,
      service,
      expectedShort,
      expectedLeftover,
      forService
    };
  };
  return {
    id: "what-if-data",
    caption: isChanged ? "The plan as printed, and what if" : "The plan as printed",
    columns: [
      {key: "what", heading: "Squares of", unit: "text"},
      {key: "squares", heading: "Buy", unit: "count", low: "from", high: "to"},
      {key: "whom", heading: "Of whom", unit: "text"},
      {key: "cost", heading: "With their work", unit: "money whole"},
      {key: "profit", heading: "Expected profit", unit: "money whole"},
      {key: "service", heading: "All served", unit: "fraction"},
      {key: "expectedShort", heading: "Short", unit: "count"},
      {key: "expectedLeftover", heading: "Left over", unit: "count"},
      {key: "forService", heading: "For the goal", unit: "count"}
    ],
    rows: species.flatMap((_, s) => [
      row("as printed", printed, s),
      ...(isChanged && answer ? [row("what if", answer, s)] : [])
    ]),
    note: "In brackets the numbers within 1\u00a0% of the best. Profit less the trips that no other species pays for. For the goal: fewest squares that serve every order with the chance wanted."
  };
}

const words: Record<keyof WhatIfChange, string> = {
  demandPct: "demand to come",
  usablePct: "usable share",
  shaftPricePct: "price of a shaft",
  squareCostPct: "cost of a square with its work"
};

/** The names of what can be changed, for the form. */
export const changeWords: Readonly<Record<keyof WhatIfChange, string>> = words;

function changesInWords(data: WhatIfData, {changes, serviceGoalPct, budget, least}: WhatIfState): string[] {
  const first = baseState(data);
  const own = leastLots(data.input);
  const pct = (value: number) => `${shown(Math.abs(value), "count")}\u00a0% ${value > 0 ? "more" : "less"}`;
  return [
    ...data.species.flatMap((species, s) => {
      const of = (Object.keys(words) as (keyof WhatIfChange)[]).filter((key) => changes[s]![key] !== 0);
      return of.length === 0
        ? []
        : [`${species}: ${of.map((key) => `${words[key]} ${pct(changes[s]![key])}`).join(", ")}`];
    }),
    ...(serviceGoalPct === first.serviceGoalPct
      ? []
      : [`a chance of ${share(serviceGoalPct / 100)} to serve every order wanted`]),
    ...(budget === first.budget
      ? []
      : [budget === undefined ? "no budget" : `a budget of ${shown(budget, "money whole", data)}`]),
    ...Object.entries(least)
      .filter(([supplier, squares]) => squares !== own[supplier])
      .map(([supplier, squares]) => `at least ${count(squares)} squares of a species from ${supplier}`)
  ];
}
