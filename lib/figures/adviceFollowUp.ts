import type {AdviceOutcome} from "../buying/adviceOutcome.ts";
import {shown} from "../report/quantity.ts";
import type {Figure} from "./figure.ts";
import {intervalDots} from "./intervalDots.ts";

const most = 8;

/** What was said in kept advice, with its range, and what came: shafts ordered and squares bought; the latest advice only, oldest first. */
export function adviceFollowUp(outcomes: readonly AdviceOutcome[]): Figure {
  const latest = outcomes.slice(-most);
  const rows = latest.flatMap(({said, hasEnded, ordered, bought}) => {
    const {species, advisedOn} = said;
    const label = `${species}, ${advisedOn}${hasEnded ? "" : ", so far"}`;
    return [
      {
        what: "Shafts ordered",
        label,
        species,
        advisedOn,
        said: said.shaftsWanted,
        low: said.shaftsWantedLow,
        high: said.shaftsWantedHigh,
        came: ordered
      },
      {
        what: "Squares bought",
        label,
        species,
        advisedOn,
        said: said.squares,
        low: said.squaresLow,
        high: said.squaresHigh,
        came: bought
      }
    ].map((row) => ({...row, state: hasEnded ? "season over" : "so far"}));
  });
  const over = latest.filter(({hasEnded}) => hasEnded);
  const inside = over.filter(({orderedAgainst}) => orderedAgainst === "inside").length;
  const ordered = rows.filter(({what}) => what === "Shafts ordered");
  const far = ordered.toSorted((a, b) => Math.abs(b.came - b.said) - Math.abs(a.came - a.said))[0];
  return intervalDots({
    id: "advice-follow-up",
    title:
      over.length === 0
        ? "No season with kept advice is over yet"
        : `Orders lay inside the range said ${inside} times of ${over.length}`,
    subtitle:
      "Shafts ordered until the season’s last day and squares bought until the next advice, by species and day of the advice",
    alt: `For each kept advice the number said with its range, and what came. ${far ? `Orders most unlike those said: ${far.label}, ${shown(far.said, "count")} said, ${shown(far.came, "count")} came. ` : "There is no advice yet whose season has begun. "}${ordered.map((row) => `${row.label}: ${shown(row.low, "count")} to ${shown(row.high, "count")}, came ${shown(row.came, "count")}`).join("; ")}.`,
    note: `Lines: the ranges said, for shafts 95 % of cases, for squares what is within 1 % of the best expected profit.${outcomes.length > most ? ` The latest ${most} of ${outcomes.length}.` : ""}`,
    method: "how-follow-up",
    unit: "count",
    axis: "shafts or squares",
    series: ["said", "what came"],
    dots: rows.flatMap(({what, label, said, low, high, came}) => [
      {panel: what, label, series: "said", value: said, low, high},
      {panel: what, label, series: "what came", value: came, low: undefined, high: undefined}
    ]),
    table: {
      id: "advice-follow-up-data",
      caption: "What was said and what came, by species and day of the advice",
      columns: [
        {key: "what", heading: "What", unit: "text"},
        {key: "species", heading: "Species", unit: "text"},
        {key: "advisedOn", heading: "Advice of", unit: "date"},
        {key: "said", heading: "Said", unit: "count", low: "low", high: "high"},
        {key: "came", heading: "Came", unit: "count"},
        {key: "state", heading: "State", unit: "text"}
      ],
      rows: rows.map(({label: _, ...row}) => row),
      note: "In brackets the range said."
    }
  });
}
