import type {CashAhead, CashMonth} from "../buying/cashAhead.ts";
import {shown} from "../report/quantity.ts";
import {capital, slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";

/** Money tied up in a purchase at each month's end: the most, and when it has paid itself back. */
export function cashTied(
  {months, most, paidBack}: CashAhead,
  {species, currency, boughtOn, squares}: {species: string; currency: string; boughtOn: string; squares: number}
): Figure {
  const money = (value: number) => shown(value, "money whole", {currency});
  const last = months.at(-1)!;
  return {
    id: `cash-${slug(species)}`,
    title: paidBack
      ? `Ties up ${money(most.tied)}, paid back by ${paidBack.endsOn}`
      : `Ties up ${money(most.tied)}, not paid back`,
    subtitle: `Money in ${shown(squares, "count")} ${species} squares bought on ${boughtOn}, ${currency}, at each month's end until ${last.endsOn}; expected`,
    alt: `Curve of ${months.length} month ends, highest ${money(most.tied)} on ${most.endsOn}, last ${money(last.tied)} on ${last.endsOn}; ${paidBack ? `nothing is tied up from ${paidBack.endsOn} on` : "it is not paid back in these months"}.`,
    note: "Squares and the work done on them, less the price of shafts that could not be sold without them. Below 0: earned. Expected values; without interest and taxes.",
    method: "how-cash",
    table: {
      id: `cash-${slug(species)}-data`,
      caption: `${capital(species)}: money in the purchase, all up to each month's end`,
      columns: [
        {key: "endsOn", heading: "Until", unit: "date"},
        {key: "squares", heading: "Squares and carriage", unit: "money whole"},
        {key: "work", heading: "Work", unit: "money whole"},
        {key: "earned", heading: "Come in", unit: "money whole"},
        {key: "tied", heading: "Tied up", unit: "money whole"}
      ],
      rows: months.map(({endsOn, squares: paid, work, earned, tied}) => ({endsOn, squares: paid, work, earned, tied}))
    },
    plot: ({narrow}, Plot) => {
      const at = ({endsOn}: CashMonth) => new Date(endsOn);
      const marked = [
        {row: most, text: `most: ${money(most.tied)}`, textAnchor: "middle"},
        ...(paidBack
          ? [{row: paidBack, text: narrow ? "paid back" : `paid back: ${paidBack.month}`, textAnchor: "start"}]
          : [])
      ].map((mark) => {
        const place = months.indexOf(mark.row) / months.length;
        return {...mark, textAnchor: place > 0.75 ? "end" : place < 0.2 ? "start" : mark.textAnchor};
      });
      return {
        height: narrow ? 180 : 200,
        marginTop: 30,
        marginLeft: 52,
        x: {
          type: "utc",
          domain: [new Date(months[0]!.endsOn), new Date(last.endsOn)],
          label: null,
          ticks: narrow ? "6 months" : "3 months",
          tickFormat: (day: Date) => day.toISOString().slice(0, 7)
        },
        y: {
          label: `↑ money tied up, ${currency}`,
          grid: true,
          zero: true,
          nice: true,
          ticks: 5,
          tickFormat: (value: number) => shown(value, "count")
        },
        marks: [
          Plot.areaY(months, {x: at, y1: 0, y2: "tied", fill: "var(--c2)", fillOpacity: 0.15}),
          Plot.lineY(months, {x: at, y: "tied", stroke: "var(--c1)", strokeWidth: 2}),
          Plot.dot(months, {
            x: at,
            y: "tied",
            r: 2,
            fill: "var(--c1)",
            title: ({endsOn, tied}: CashMonth) => `${endsOn}: ${money(tied)} tied up`
          }),
          Plot.ruleY([0], {stroke: "var(--ink)"}),
          Plot.dot(marked, {x: ({row}) => at(row), y: ({row}) => row.tied, r: 4, fill: "var(--c3)"}),
          ...(["start", "middle", "end"] as const).map((textAnchor) =>
            Plot.text(
              marked.filter((mark) => mark.textAnchor === textAnchor),
              {x: ({row}) => at(row), y: ({row}) => row.tied, text: "text", dy: -12, textAnchor, fill: "var(--ink)"}
            )
          )
        ]
      };
    }
  };
}
