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
  const count = (value: number) => shown(value, "count");
  const goal = `${count(100 * serviceGoal)}\u00a0%`;
  const none = curve[0]!;
  const end = Math.min(curve.at(-1)!.squares, Math.max(40, 2 * band.to, Math.ceil(1.2 * (forService ?? 0))));
  const drawn = curve.filter(({squares}) => squares <= end);
  const most = drawn.at(-1)!;
  const sure = drawn.filter(({squares}) => squares === forService && squares !== best.squares);
  const step = Math.ceil(drawn.length / 24);
  const marked = [best.squares, band.from, band.to, forService];
  const told = drawn.filter(({squares}, i) => i % step === 0 || marked.includes(squares));
  return {
    id: `profit-${slug(species)}`,
    title:
      best.squares === 0
        ? `Buying no ${species} serves best`
        : band.from === band.to
          ? `Profit is highest with ${count(best.squares)} squares`
          : `Profit is flat from ${count(band.from)} to ${count(band.to)} squares`,
    subtitle: `Expected profit in ${currency} by number of ${species} squares bought, best split over suppliers; ${season}`,
    alt: `Curve of expected profit. ${money(none.profit)} with ${count(none.squares)} squares, highest ${money(best.profit)} with ${count(best.squares)}, ${money(most.profit)} with ${count(most.squares)}. Within 1\u00a0% of the best from ${count(band.from)} to ${count(band.to)} squares.`,
    method: "how-plan",
    notebook: "04",
    note: `Shaded: within 1\u00a0% of the best. ${forService === undefined ? `No number shown serves every order with a chance of ${goal}.` : `${count(forService)} squares (square mark) are the fewest that serve every order with a chance of ${goal}.`}`,
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
      rows: told.map(({orders, ...row}) => ({
        ...row,
        split: orders.map((order) => `${order.squares} ${order.supplier}`).join(" + ") || "none"
      }))
    },
    plot: ({narrow}, Plot) => ({
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
          told.filter((row) => row.squares !== best.squares && !sure.includes(row)),
          {
            x: "squares",
            y: "profit",
            r: 2,
            fill: "var(--c1)",
            title: ({squares, profit}) => `${count(squares)} squares: ${money(profit)}`
          }
        ),
        Plot.dot(sure, {
          x: "squares",
          y: "profit",
          r: 4,
          symbol: "square",
          fill: "var(--c4)",
          title: ({squares, profit}) =>
            `${count(squares)} squares: ${money(profit)}, every order served with a chance of ${goal}`
        }),
        Plot.text(sure, {
          x: "squares",
          y: "profit",
          text: ({squares}) => count(squares),
          dx: 7,
          dy: -9,
          textAnchor: "start",
          fill: "var(--ink)"
        }),
        Plot.dot([best], {
          x: "squares",
          y: "profit",
          r: 5,
          fill: "var(--c3)",
          title: () => `${count(best.squares)} squares: ${money(best.profit)}, the best`
        }),
        Plot.text([best], {
          x: "squares",
          y: "profit",
          text: () => `best: ${count(best.squares)}`,
          dy: 14,
          fill: "var(--ink)",
          fontWeight: 600
        })
      ]
    })
  };
}
