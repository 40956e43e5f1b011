import type {DemandBackTest, PastForecast} from "../buying/demandBackTest.ts";
import {shown} from "../report/quantity.ts";
import {capital, slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** Forecasts as they would have been made on past days, each with its interval, and what was then ordered. */
export function demandBackTest({species, forecasts, inside, apart, monthsAhead}: DemandBackTest): Figure {
  const n = forecasts.length;
  const byOrdered = forecasts.toSorted((a, b) => a.ordered - b.ordered);
  const [fewest, most] = [byOrdered[0]!, byOrdered.at(-1)!];
  const said = ({from, mean, low, high, ordered}: PastForecast) =>
    `from ${from}: about ${shown(mean, "count")} expected, ${shown(low, "count")} to ${shown(high, "count")}; ${shown(ordered, "count")} came`;
  return {
    id: `demand-back-test-${slug(species)}`,
    title:
      n === 1
        ? `The one past forecast ${inside === 1 ? "held" : "missed"} what came`
        : `${inside === n ? "All" : `${inside} of`} ${n} past forecasts held what came`,
    subtitle: `${capital(species)} shafts ordered in the ${monthsAhead} months from the day named, as forecast the day before and as they came; ${n} forecasts`,
    alt: `${n} forecasts from ${forecasts[0]!.from} to ${forecasts.at(-1)!.from}, each a dot with its interval, and what came beside it. Fewest came from ${fewest.from}, ${shown(fewest.ordered, "count")}; most from ${most.from}, ${shown(most.ordered, "count")}. ${inside} of ${n} lie in the interval.`,
    method: "how-back-test",
    note: `Lines: 95\u00a0% interval of the forecast. Forecasts a few months apart share months; ${apart === 1 ? "they all overlap" : `only ${apart} do not overlap`}, so one that misses seldom misses alone.${inside < n ? " Hollow: what came outside the interval." : ""}`,
    key: [
      {label: "forecast", color: "var(--c4)"},
      {label: "ordered", color: "var(--c2)"}
    ],
    table: {
      id: `demand-back-test-${slug(species)}-data`,
      caption: `${capital(species)} shafts forecast and ordered in ${monthsAhead} months`,
      columns: [
        {key: "from", heading: "From", unit: "date"},
        {key: "to", heading: "To", unit: "date"},
        {key: "monthsKnown", heading: "Months known", unit: "count"},
        {key: "mean", heading: "Forecast", unit: "count", low: "low", high: "high"},
        {key: "ordered", heading: "Ordered", unit: "count"},
        {key: "errorFraction", heading: "More than forecast", unit: "fraction"},
        {key: "chanceBelow", heading: "Chance of fewer", unit: "fraction"},
        {key: "inside", heading: "Inside", unit: "text"}
      ],
      rows: forecasts.map(({isInside, isSeason: _, species: _s, madeOn: _m, before: _b, ...row}) => ({
        ...row,
        inside: isInside ? "yes" : "no"
      })),
      note: "In brackets the 95\u00a0% interval of the forecast."
    },
    plot: ({narrow}, Plot) => {
      const domain = forecasts.map(({from}) => from);
      const every = Math.ceil(domain.length / (narrow ? 3 : 7));
      return {
        height: narrow ? 220 : 260,
        x: {
          type: "point",
          domain,
          label: null,
          ticks: domain.filter((_, i) => i % every === 0),
          tickFormat: (day: string) => day.slice(0, 7),
          padding: 0.6
        },
        y: {label: "↑ shafts ordered", grid: true, zero: true, nice: true, ticks: 5},
        marks: [
          Plot.ruleY([0], {stroke: "var(--ink)"}),
          Plot.ruleX(forecasts, {x: "from", y1: "low", y2: "high", stroke: "var(--c4)", strokeWidth: 2, dx: -3}),
          Plot.dot(forecasts, {x: "from", y: "mean", r: 4, fill: "var(--c4)", dx: -3, title: said}),
          Plot.dot(forecasts, {
            x: "from",
            y: "ordered",
            r: 4,
            symbol: "diamond",
            fill: ({isInside}: PastForecast) => (isInside ? "var(--c2)" : "var(--ground)"),
            stroke: "var(--c2)",
            strokeWidth: 1.5,
            dx: 4,
            title: said
          })
        ]
      };
    }
  };
}
