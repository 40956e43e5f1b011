import * as Plot from "@observablehq/plot";
import type {PurchasePlan} from "../buying/purchasePlan.ts";
import {shown} from "../report/quantity.ts";
import {slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** Expected profit of each number of squares, with the best and the band within 1 % of it. */
export function profitCurve(
  {curve, best, band, forService, serviceGoal}: PurchasePlan,
  {species, currency, season}: {species: string; currency: string; season: string}
): Figure {
  const money = (value: number) => shown(value, "money whole", {currency});
  const none = curve[0]!;
  const end = Math.min(curve.at(-1)!.squares, Math.max(40, 2 * band.to, Math.ceil(1.2 * (forService ?? 0))));
  const drawn = curve.filter(({squares}) => squares <= end);
  const most = drawn.at(-1)!;
  return {
    id: `profit-${slug(species)}`,
    title:
      best.squares === 0
        ? `Buying no ${species} serves best`
        : `${best.squares} ${species} squares serve best, ${band.from} to ${band.to} nearly`,
    subtitle: `Expected profit in ${currency} by number of ${species} squares bought, best split over suppliers; ${season}`,
    alt: `Curve of expected profit. ${money(none.profit)} with ${none.squares} squares, highest ${money(best.profit)} with ${best.squares}, ${money(most.profit)} with ${most.squares}. Within 1 % of the best from ${band.from} to ${band.to} squares.`,
    method: "how-plan",
    notebook: "04",
    note: `Shaded: within 1 % of the best. ${forService === undefined ? `No number shown serves every order with a chance of ${shown(serviceGoal, "fraction")}.` : `${forService} squares serve every order with a chance of ${shown(serviceGoal, "fraction")} (square mark).`}`,
    table: {
      id: `profit-${slug(species)}-data`,
      caption: `What to expect of each number of ${species} squares`,
      columns: [
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "profit", heading: "Expected profit", unit: "money whole"},
        {key: "service", heading: "Chance to serve all orders", unit: "fraction"},
        {key: "fillRate", heading: "Share of orders served", unit: "fraction"},
        {key: "expectedShort", heading: "Shafts short", unit: "count"},
        {key: "expectedLeftover", heading: "Shafts left over", unit: "count"},
        {key: "split", heading: "Of whom", unit: "text"}
      ],
      rows: drawn
        .filter(
          ({squares}) => squares % 10 === 0 || squares === best.squares || squares === band.from || squares === band.to
        )
        .map(({orders, ...row}) => ({
          ...row,
          split: orders.map((order) => `${order.squares} ${order.supplier}`).join(" + ") || "none"
        }))
    },
    plot: ({narrow}) => ({
      height: narrow ? 240 : 300,
      x: {label: "squares bought →", ticks: narrow ? 5 : 10, tickFormat: (value: number) => shown(value, "count")},
      y: {
        label: `↑ expected profit, ${currency}`,
        grid: true,
        ticks: 6,
        tickFormat: (value: number) => shown(value, "count")
      },
      marks: [
        Plot.rectY([band], {
          x1: "from",
          x2: "to",
          y1: Math.min(...drawn.map(({profit}) => profit)),
          y2: best.profit,
          fill: "var(--c2)",
          fillOpacity: 0.18
        }),
        Plot.lineY(drawn, {x: "squares", y: "profit", stroke: "var(--c1)", strokeWidth: 2}),
        Plot.dot(
          drawn.filter(({squares}) => squares === forService),
          {x: "squares", y: "profit", r: 4, symbol: "square", fill: "var(--c4)"}
        ),
        Plot.dot([best], {
          x: "squares",
          y: "profit",
          r: 5,
          fill: "var(--c3)",
          title: () => `${best.squares} squares: ${money(best.profit)}`
        }),
        Plot.text([best], {
          x: "squares",
          y: "profit",
          text: () => `best: ${best.squares}`,
          dy: 14,
          fill: "var(--ink)",
          fontWeight: 600
        })
      ]
    })
  };
}
