import type {StockAhead, StockMonth} from "../buying/stockAhead.ts";
import {shown} from "../report/quantity.ts";
import {capital, slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";
import {fitTitle} from "./fitText.ts";

/** Shafts to be had less orders at each month's end, without a purchase and with it, and the month in which the stock runs dry. */
export function stockAhead(
  without: StockAhead,
  {
    species,
    today,
    bought
  }: {species: string; today: string; bought?: {stock: StockAhead; boughtOn: string; squares: number}}
): Figure {
  const {months, short, dry, serviceGoal} = without;
  const last = months.at(-1)!;
  const lowest = months.reduce((a, b) => (b.netMean < a.netMean ? b : a));
  const count = (value: number) => shown(value, "count");
  const goal = `${count(100 * serviceGoal)}\u00a0%`;
  const withIt = bought && `With ${count(bought.squares)} squares bought on ${bought.boughtOn}`;
  const low = bought?.stock.months.reduce((a, b) => (b.netMean < a.netMean ? b : a));
  const said = ({netMean, endsOn}: StockMonth) => `${count(netMean)} at the end of ${endsOn.slice(0, 7)}`;
  return {
    id: `stock-ahead-${slug(species)}`,
    title: short
      ? fitTitle(
          `${capital(species)} runs dry in ${short.month} if nothing is bought`,
          `The stock runs dry in ${short.month} if nothing is bought`
        )
      : fitTitle(`${capital(species)} lasts to the season's end without buying`, "The stock lasts to the season's end"),
    subtitle: `Shafts finished less shafts ordered, ${species}, all from ${today} to each month's end, until ${last.endsOn}; expected, and the 95\u00a0% range`,
    alt: `Curves of ${months.length} month ends. Without buying lowest ${said(lowest)}${short ? `, below nothing first in ${short.month}` : ""}.${bought && low ? ` ${withIt} lowest ${said(low)}, last ${said(bought.stock.months.at(-1)!)}.` : ""}`,
    note: `Line: what is left on average, below 0 what is missing; shaded: 95 of 100 cases. ${dry ? `Without buying the chance to serve all orders falls below ${goal} first in ${dry.month}.` : `The chance to serve all orders stays at ${goal} or more without buying.`} Orders may wait: what counts is all up to each month's end.`,
    method: "how-stock-ahead",
    ...(bought && {
      key: [
        {label: `${count(bought.squares)} squares bought on ${bought.boughtOn}`, color: "var(--c1)"},
        {label: "nothing bought", color: "var(--c4)"}
      ]
    }),
    table: {
      id: `stock-ahead-${slug(species)}-data`,
      caption: `${capital(species)} shafts finished and ordered until each month's end`,
      columns: [
        {key: "endsOn", heading: "Until", unit: "date"},
        {key: "demandMean", heading: "Ordered", unit: "count"},
        {key: "supplyMean", heading: "Finished", unit: "count"},
        {key: "netMean", heading: "Left, nothing bought", unit: "count", low: "netLow", high: "netHigh"},
        {key: "service", heading: "Chance to serve all", unit: "fraction"},
        ...(bought
          ? ([
              {key: "boughtSupply", heading: "Finished, with the purchase", unit: "count"},
              {
                key: "boughtNet",
                heading: "Left, with the purchase",
                unit: "count",
                low: "boughtLow",
                high: "boughtHigh"
              },
              {key: "boughtService", heading: "Chance, with the purchase", unit: "fraction"}
            ] as const)
          : [])
      ],
      rows: months.map(({endsOn, demandMean, supplyMean, netMean, netLow, netHigh, service}, i) => {
        const other = bought?.stock.months[i];
        return {
          endsOn,
          demandMean,
          supplyMean,
          netMean,
          netLow,
          netHigh,
          service,
          ...(other && {
            boughtSupply: other.supplyMean,
            boughtNet: other.netMean,
            boughtLow: other.netLow,
            boughtHigh: other.netHigh,
            boughtService: other.service
          })
        };
      }),
      note: "In brackets what it lies between in 95 of 100 cases."
    },
    plot: ({narrow}, Plot) => {
      const at = ({endsOn}: StockMonth) => new Date(endsOn);
      const curve = (rows: readonly StockMonth[], color: string, what: string) => [
        Plot.areaY(rows, {x: at, y1: "netLow", y2: "netHigh", fill: color, fillOpacity: 0.15}),
        Plot.lineY(rows, {x: at, y: "netMean", stroke: color, strokeWidth: 2}),
        Plot.dot(rows, {
          x: at,
          y: "netMean",
          r: 2,
          fill: color,
          title: ({endsOn, netMean, netLow, netHigh, service}: StockMonth) =>
            `${endsOn}, ${what}: ${count(netMean)} left, ${count(netLow)} to ${count(netHigh)}; all served with a chance of ${shown(service, "fraction")}`
        })
      ];
      return {
        height: narrow ? 240 : 280,
        x: {
          type: "utc",
          domain: [new Date(today), new Date(last.endsOn)],
          label: null,
          ticks: narrow ? "6 months" : "3 months",
          tickFormat: (day: Date) => day.toISOString().slice(0, 7)
        },
        y: {label: "↑ shafts left", grid: true, zero: true, nice: true, ticks: 6},
        marks: [
          ...curve(months, "var(--c4)", "nothing bought"),
          ...(bought ? curve(bought.stock.months, "var(--c1)", "with the purchase") : []),
          Plot.ruleY([0], {stroke: "var(--ink)"}),
          ...(short
            ? [
                Plot.dot([short], {x: at, y: "netMean", r: 5, symbol: "diamond", fill: "var(--c3)"}),
                Plot.text([short], {
                  x: at,
                  y: "netMean",
                  text: ({month}: StockMonth) => `dry: ${month}`,
                  dx: -2,
                  dy: 16,
                  textAnchor: "start",
                  fill: "var(--ink)",
                  fontWeight: 600
                })
              ]
            : [])
        ]
      };
    }
  };
}
