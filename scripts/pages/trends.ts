import {dayText, monthEnd, monthIndex, monthOf, months, monthText} from "../../lib/book/day.ts";
import type {Histories} from "../../lib/book/histories.ts";
import {ordersByMonth} from "../../lib/buying/ordersByMonth.ts";
import {discardChart} from "../../lib/defects/discardChart.ts";
import {windowByMonth} from "../../lib/density/windowByMonth.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {fewBelow, monthTrend} from "../../lib/figures/monthTrend.ts";
import {shown} from "../../lib/report/quantity.ts";
import {sum} from "../../lib/stats/numbers.ts";

/** The last twelve whole months up to a day. */
export function lastYear(asOf: number): string[] {
  const day = dayText(asOf);
  const last = monthIndex(monthOf(day)) - (monthEnd(monthOf(day)) === day ? 0 : 1);
  return months(monthText(last - 11), monthText(last));
}

/** The year's trend of each report that has one, for the index page. */
export function trends(now: Histories): Record<"monthly" | "suppliers" | "season", Figure> {
  const year = lastYear(now.asOf);
  const period = `${year[0]} to ${year.at(-1)}`;
  return {
    monthly: discardTrend(now, year, period),
    suppliers: windowTrend(now, year, period),
    season: orderTrend(now, year, period)
  };
}

function discardTrend(now: Histories, year: readonly string[], period: string): Figure {
  const rows = discardChart(now, now.pieces).months.filter(({month}) => year.includes(month));
  const outside = rows.filter((row) => row.outside);
  const known = rows.filter(({decided}) => decided > 0);
  return monthTrend({
    id: "trend-discards",
    title:
      known.length === 0
        ? "No piece was handled in these months"
        : outside.length === 0
          ? "No month of the year stands out beyond chance"
          : `Outside the limits of chance: ${outside
              .map(({month}) => month)
              .slice(0, 4)
              .join(", ")}`,
    subtitle: `Thrown out, % of pieces handled in the month; all species, ${period}`,
    unit: "percent",
    axis: "% thrown out",
    of: "pieces",
    months: year,
    rows: year.map((month) => {
      const row = rows.find((one) => one.month === month);
      if (row?.fraction === undefined) return {series: "", month, value: undefined};
      return {series: "", month, value: 100 * row.fraction, n: row.decided};
    }),
    band: known.flatMap(({month, low, high}) =>
      low === undefined || high === undefined ? [] : [{month, low: 100 * low, high: 100 * high}]
    ),
    note: `Grey: where a month lies unless something has changed.${known.some(({decided}) => decided < fewBelow) ? ` Hollow: fewer than ${fewBelow} pieces.` : ""}`,
    table: {
      caption: "Pieces handled and thrown out in the last year, with the limits of chance",
      columns: [
        {key: "month", heading: "Month", unit: "date"},
        {key: "decided", heading: "Pieces handled", unit: "count"},
        {key: "discarded", heading: "Thrown out", unit: "count"},
        {key: "fraction", heading: "Share", unit: "fraction"},
        {key: "low", heading: "Lower limit", unit: "fraction"},
        {key: "high", heading: "Upper limit", unit: "fraction"}
      ],
      rows: rows.map(({month, decided, discarded, fraction, low, high}) => ({
        month,
        decided,
        discarded,
        fraction,
        low,
        high
      }))
    }
  });
}

function windowTrend(now: Histories, year: readonly string[], period: string): Figure {
  const rows = windowByMonth(now).filter(({month}) => year.includes(month));
  const species = [...new Set(now.pieces.map((piece) => piece.species))].sort();
  const shares = species.flatMap((name) => {
    const own = rows.filter((row) => row.species === name);
    const squares = sum(own.map((row) => row.squares));
    return squares === 0 ? [] : [`${name} ${shown(sum(own.map(({inside}) => inside)) / squares, "fraction")}`];
  });
  return monthTrend({
    id: "trend-window",
    title:
      shares.length === 0
        ? "No square was bought in these months"
        : shares.length <= 2
          ? `In the window: ${shares.join(", ")}`
          : "The share in the window, month by month",
    subtitle: `Squares bought in the month with a density inside the window, %; by species, ${period}`,
    unit: "percent",
    axis: "% in the window",
    of: "squares",
    months: year,
    rows: species.flatMap((series) =>
      year.map((month) => {
        const row = rows.find((one) => one.species === series && one.month === month);
        return {series, month, value: row && 100 * row.insideFraction, ...(row && {n: row.squares})};
      })
    ),
    note: `A month in which none was bought is a gap.${rows.some(({squares}) => squares < fewBelow) ? ` Hollow: fewer than ${fewBelow} squares.` : ""}`,
    table: {
      caption: "Squares bought in the last year, and how many lie in the window",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "month", heading: "Month", unit: "date"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "inside", heading: "In the window", unit: "count"},
        {key: "insideFraction", heading: "Share", unit: "fraction"}
      ],
      rows: rows.map((row) => ({...row}))
    }
  });
}

function orderTrend(now: Histories, year: readonly string[], period: string): Figure {
  const rows = ordersByMonth(now).filter(({month}) => year.includes(month));
  const species = [...new Set(rows.map((row) => row.species))];
  const totals = species.map(
    (name) =>
      `${shown(sum(rows.filter((row) => row.species === name).map(({ordered}) => ordered)), "count")} of ${name}`
  );
  return monthTrend({
    id: "trend-orders",
    title:
      totals.length === 0
        ? "Nothing was ordered in these months"
        : totals.length <= 2
          ? `Ordered in the year: ${totals.join(", ")}`
          : "Shafts ordered, month by month",
    subtitle: `Shafts ordered in the month, by species; ${period}`,
    unit: "count",
    axis: "shafts",
    months: year,
    rows: rows.map(({species: series, month, ordered: value}) => ({series, month, value})),
    table: {
      caption: "Shafts ordered in the last year, by species and month",
      columns: [
        {key: "species", heading: "Species", unit: "text"},
        {key: "month", heading: "Month", unit: "date"},
        {key: "ordered", heading: "Shafts ordered", unit: "count"}
      ],
      rows: rows.map((row) => ({...row}))
    }
  });
}
