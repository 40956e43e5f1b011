import {dayNumber, dayText} from "../book/day.ts";
import type {LeadTime} from "../buying/leadTime.ts";
import type {PassTime} from "../buying/stageTimes.ts";
import {shown} from "../report/quantity.ts";
import {textWidth} from "../report/textWidth.ts";
import {capital, slug} from "./densityDots.ts";
import type {Figure} from "./figure.ts";
import {fitText, fitTitle} from "./fitText.ts";

/** Days left free at the ends of the time axis. */
const edgeDays = 12;

/** A line of the calendar. */
interface Line {
  what: string;
  from: string;
  middle?: string;
  to: string;
  color: string;
  said: string;
}

/**
 * The year of one species on a time axis: by when to buy, when a purchase is turned to each stage and finished (from the day a quarter has passed
 * to that of three quarters), and the season in which it is sold.
 */
export function seasonCalendar({
  species,
  today,
  boughtOn,
  leads,
  passes,
  season
}: {
  species: string;
  today: string;
  /** The day of the purchase that is followed. */
  boughtOn: string;
  /** By share of the shafts, smallest first. */
  leads: readonly LeadTime[];
  passes: readonly PassTime[];
  season: {startsOn: string; endsOn: string};
}): Figure {
  const after = (days: number) => dayText(dayNumber(boughtOn) + Math.ceil(days));
  const percent = ({shareFraction}: LeadTime) => `${shown(100 * shareFraction, "count")}\u00a0%`;
  const [first, last] = [leads[0], leads.at(-1)];
  const sure = leads.findLast(({shareFraction}) => shareFraction <= 0.9) ?? last;
  const finish = passes.at(-1);
  const past = leads.filter(({daysLeft}) => daysLeft < 0).length;
  const lines: Line[] = [
    ...(first && last
      ? [
          {
            what: "buy",
            from: last.buyBy,
            to: first.buyBy,
            color: "var(--c4)",
            said: `${percent(last)} by ${last.buyBy}, ${percent(first)} by ${first.buyBy}`
          }
        ]
      : []),
    ...passes.map(({stage, times}, i): Line => {
      const [from, middle, to] = [0.25, 0.5, 0.75].map((p) => after(times.quantile(p))) as [string, string, string];
      const isLast = i === passes.length - 1;
      return {
        what: isLast ? "finish" : `turn to ${stage}`,
        from,
        middle,
        to,
        color: isLast ? "var(--c1)" : "var(--c2)",
        said: `${from} to ${to}`
      };
    }),
    {what: "sell", from: season.startsOn, to: season.endsOn, color: "var(--c5)", said: `from ${season.startsOn}`}
  ];
  const half = finish && after(finish.times.quantile(0.5));
  return {
    id: `calendar-${slug(species)}`,
    title: !sure
      ? `No ${species} has been finished yet`
      : sure.daysLeft >= 0
        ? fitTitle(
            `Buy ${species} by ${sure.buyBy} for the season's start`,
            `Buy by ${sure.buyBy} for the season's start`
          )
        : fitTitle(
            `Bought on ${boughtOn}, half the ${species} is finished by ${half}`,
            `Bought on ${boughtOn}, half is finished by ${half}`
          ),
    subtitle: `${capital(species)}: days by which to buy, and from the day a quarter has passed to that of three quarters, for squares bought on ${boughtOn}; season from ${season.startsOn} to ${season.endsOn}`,
    alt: `Calendar of ${lines.length} lines. ${lines.map(({what, said}) => `${capital(what)} ${said}`).join("; ")}. Today is ${today}; the last line is the season, until ${season.endsOn}.`,
    note: `Line: the middle half of the pieces, tick: their median. Buy: the last days for ${leads.map(percent).join(", ")} of the shafts to be finished when the season begins${past === 0 ? "" : `; ${past === leads.length ? "all" : past} of these ${past === 1 ? "is" : "are"} past`}.`,
    method: "how-buy-by",
    table: {
      id: `calendar-${slug(species)}-data`,
      caption: `${capital(species)}: the calendar of squares bought on ${boughtOn}`,
      columns: [
        {key: "what", heading: "What", unit: "text"},
        {key: "from", heading: "From", unit: "date"},
        {key: "middle", heading: "Half by", unit: "date"},
        {key: "to", heading: "To", unit: "date"}
      ],
      rows: lines.map(({what, from, middle, to}) => ({what, from, middle, to}))
    },
    plot: ({width, narrow}, Plot) => {
      const whats = lines.map(({what}) => what);
      // A phone has room for the stage alone.
      const label = (what: string) => (narrow ? what.replace("turn to ", "") : what);
      const widest = Math.max(...whats.map((what) => textWidth(label(what), 12)));
      const marginLeft = Math.min(narrow ? 118 : 170, 14 + widest);
      const days = [today, ...lines.flatMap(({from, to}) => [from, to])].sort();
      const [start, end] = [dayNumber(days[0]!) - edgeDays, dayNumber(days.at(-1)!) + edgeDays];
      const at = (day: string) => new Date(day);
      const x = (day: string) => marginLeft + ((width - marginLeft - 20) * (dayNumber(day) - start)) / (end - start);
      // A label goes behind its line, or before it where there is more room.
      const labels = narrow
        ? []
        : lines.map((line) => {
            const isBehind = width - x(line.to) > textWidth(line.said, 12) + 12;
            return {...line, isBehind, day: isBehind ? line.to : line.from};
          });
      return {
        height: 44 + 28 * lines.length,
        marginLeft,
        marginTop: 26,
        x: {
          type: "utc",
          domain: [at(dayText(start)), at(dayText(end))],
          label: null,
          grid: true,
          ticks: narrow ? "6 months" : "3 months",
          tickFormat: (day: Date) => day.toISOString().slice(0, 7)
        },
        y: {
          label: null,
          type: "band",
          domain: whats,
          padding: 0.3,
          tickSize: 0,
          tickFormat: (what: string) => fitText(label(what), marginLeft - 10, 12)
        },
        marks: [
          Plot.ruleY(lines, {
            y: "what",
            x1: ({from}: Line) => at(from),
            x2: ({to}: Line) => at(to),
            stroke: "color",
            strokeWidth: 9,
            title: ({what, from, to}: Line) => `${what}: ${from} to ${to}`
          }),
          Plot.tickX(
            lines.filter(({middle}) => middle !== undefined),
            {x: ({middle}: Line) => at(middle!), y: "what", stroke: "var(--ink)"}
          ),
          Plot.dot(
            leads.map((row) => ({...row, what: "buy"})),
            {
              x: ({buyBy}: LeadTime) => at(buyBy),
              y: "what",
              r: 3,
              fill: "var(--ink)",
              title: (row: LeadTime) => `${percent(row)} of the shafts: buy by ${row.buyBy}`
            }
          ),
          ...[true, false].map((behind) =>
            Plot.text(
              labels.filter(({isBehind}) => isBehind === behind),
              {
                x: ({day}: {day: string}) => at(day),
                y: "what",
                text: "said",
                dx: behind ? 7 : -7,
                textAnchor: behind ? "start" : "end",
                fill: "var(--ink)"
              }
            )
          ),
          Plot.ruleX([today], {x: at, stroke: "var(--c3)", strokeDasharray: "3,3"}),
          Plot.text([today], {
            x: at,
            text: () => "today",
            frameAnchor: "top",
            dy: -14,
            textAnchor: "start",
            fill: "var(--ink)",
            fontWeight: 600
          })
        ]
      };
    }
  };
}
