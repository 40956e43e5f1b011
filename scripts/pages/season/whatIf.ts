import type {Planner} from "../../../lib/buying/seasonPlan.ts";
import {baseState, whatIfAnswer} from "../../../lib/buying/whatIf.ts";
import {type Html, html, raw} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import {panel, panelHtml, type WhatIfData} from "../../whatIf/panel.ts";

/**
 * The what-if panel of the season's page: the answer as printed, and the input by which a browser works out another, with the script
 * that `whatIfScript` gives. Without scripts the answer stands there and no form.
 *
 * @param planner what the plan as printed was looked for with, where it is at hand
 */
export function whatIfParts(given: WhatIfData, planner?: Planner): {heading: string; body: Html[]} {
  const data = pageData(given);
  const state = baseState(data);
  const answer = whatIfAnswer(data, state, undefined, planner)!;
  return {
    heading: "What if: other prices, yields, demand, budget or least lots",
    body: [
      html`<div id="what-if-panel" class="what-if">
<div id="what-if-form"><p class="note">In a browser that runs scripts a form stands here, by which the plan is worked out anew for other inputs.</p></div>
${panelHtml(panel(data, state, answer, answer))}<div id="what-if-figures"></div>
</div>
${dataBlock(data)}`
    ]
  };
}

/** The data as a block of the page that is text, not code: no < can end it, and the security policy runs no such block. */
export function dataBlock(data: WhatIfData): Html {
  return html`<script type="application/json" id="season-input">${raw(JSON.stringify(data).replaceAll("<", "\\u003c"))}</script>\n`;
}

/** What the plan is worked out from, and no more of the book. */
function pageData({input, species, serviceGoal, currency, endsOn}: WhatIfData): WhatIfData {
  const needs = input.needs.map((need) => ({
    ...need,
    offers: need.offers.map(
      ({supplier, alpha, beta, windowShare, lotSize, doubt, common, unitCost, priceBreaks, minimum, available}) => ({
        supplier,
        alpha,
        beta,
        unitCost,
        ...(windowShare !== undefined && {windowShare}),
        ...(lotSize !== undefined && {lotSize}),
        ...(doubt !== undefined && {doubt}),
        ...(common !== undefined && {common}),
        ...(priceBreaks !== undefined && {priceBreaks}),
        ...(minimum !== undefined && {minimum}),
        ...(available !== undefined && {available})
      })
    )
  }));
  return {input: {...input, needs}, species, serviceGoal, currency, endsOn};
}

/** How the panel's numbers are worked out. */
export const whatIfMethods: readonly Method[] = [
  {
    id: "how-what-if",
    heading: "What if",
    text: "The panel works the plan out anew by the very code that made this page, in your browser: nothing is sent or loaded. Demand is the orders to come, not those that are there; a usable share is changed for the pieces on their way and for new squares, at most to 99.9 %, and keeps its precision; the cost of a square is that of the square with the work on it, discounts included; a least lot holds for each species. What keeping to the plan as printed would miss is the profit of the new plan less that of the old purchase, both under the changed inputs.",
    formula: "input = (1 + change/100) · input of the book",
    guide: "what-if"
  }
];
