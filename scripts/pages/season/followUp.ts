import {type AdviceOutcome, adviceOutcomes, type RangesHeld, rangesHeld} from "../../../lib/buying/adviceOutcome.ts";
import {adviceFollowUp} from "../../../lib/figures/adviceFollowUp.ts";
import {capital} from "../../../lib/figures/densityDots.ts";
import {type Html, html} from "../../../lib/report/html.ts";
import type {Method} from "../../../lib/report/methods.ts";
import type {Section} from "../../../lib/report/page.ts";
import {shown, shownInterval} from "../../../lib/report/quantity.ts";
import type {Row} from "../../../lib/report/table.ts";
import type {BookAsOf} from "../../io/readBook.ts";
import {type Composer, lead} from "../compose.ts";

/** What the season's page says of advice that was kept. */
export interface FollowUp {
  section: Section;
  method: readonly Method[];
  limits: readonly string[];
  /** One sentence for the main points; none while no season is over. */
  point?: string;
}

/** "Last season's advice, and what came": the part of the season's page, its method, and what to know of it. */
export function followUpParts({book, asOf}: BookAsOf, {figure, table}: Composer): FollowUp {
  const outcomes = adviceOutcomes(book, asOf);
  const waiting = book.advice.filter(({advisedOn, seasonFrom}) => advisedOn <= asOf && seasonFrom > asOf).length;
  if (outcomes.length === 0)
    return {section: {id: "follow-up", heading, body: [nothingYet(waiting)]}, method, limits: []};
  const demand = rangesHeld(outcomes, "orderedAgainst");
  const share = rangesHeld(outcomes, "usableAgainst");
  const finding = demand && `orders lay inside the range said ${times(demand)}`;
  return {
    section: {
      id: "follow-up",
      heading:
        finding === undefined ? heading : `${heading}: ${finding}${share ? `, usable shares ${times(share)}` : ""}`,
      body: [
        trust(demand, share),
        ...latest(outcomes).map((one) => html`<p>${saidOf(one)}</p>\n`),
        figure(adviceFollowUp(outcomes)),
        table(squaresTable(outcomes)),
        table(shaftsTable(outcomes)),
        html`<p>What really was earned cannot be told from the book: it knows neither wages nor rent, and pieces still on their way have cost but not yet earned. What can be told is the plan’s own sum, with what came in the place of what was expected.</p>\n`,
        table(moneyTable(outcomes)),
        lead("how-follow-up"),
        ...(waiting > 0
          ? [
              html`<p>${waiting === 1 ? "One more advice is kept whose season has" : `${waiting} more are kept whose seasons have`} not begun yet.</p>\n`
            ]
          : [])
      ]
    },
    method,
    limits: [
      "Advice that was kept is compared with the orders and squares that came; whether another number would have earned more cannot be told from the book, as what nobody asked for is not in it."
    ],
    ...(finding !== undefined && {
      point: `Of the seasons over whose advice was kept, ${finding}${share ? `, the usable share of squares ${times(share)}` : ""}.`
    })
  };
}

const heading = "Last season’s advice, and what came";

function nothingYet(waiting: number): Html {
  const keep = html`Add <code>--keep-advice</code> to the command, <code>npx tsx scripts/season.ts --book my-book --keep-advice</code> (with the folder of this book for my-book), and what this page says today is added to <code>advice.csv</code> in the book; nothing is written there otherwise.`;
  return waiting > 0
    ? html`<p>Of ${waiting} kept rows of advice no season has begun yet; what came of them will stand here.</p>\n`
    : html`<p>No advice has been kept, so nothing can be compared yet. ${keep} Once its season has begun, what came of it stands here.</p>\n`;
}

const times = ({held, of}: RangesHeld) => `${held} ${held === 1 ? "time" : "times"} of ${of}`;

/** Whether ranges said to hold in 95 of 100 cases did so. */
function trust(demand: RangesHeld | undefined, share: RangesHeld | undefined): Html {
  const one = (what: string, ranges: RangesHeld | undefined) => {
    if (!ranges) return `Of ${what} no range can be judged yet.`;
    const {low, high} = ranges;
    const interval = `95\u00a0% interval ${shownInterval(ranges, "fraction")}`;
    const told =
      high < 0.95
        ? "so they hold less often than they say: trust them less"
        : low > 0.5 && ranges.of >= 20
          ? "which is near enough to what they say"
          : "too few to tell that from 95 of 100";
    return `Ranges of ${what} held ${times(ranges)} (${interval}), ${told}.`;
  };
  return html`<p>Each range was said to hold in 95 of 100 cases. ${one("shafts ordered", demand)} ${one("the usable share of squares", share)} The seasons of one workshop are alike, so the doubt is larger than these intervals.</p>\n`;
}

/** Of each species the advice of the latest season that is over, else the latest. */
function latest(outcomes: readonly AdviceOutcome[]): AdviceOutcome[] {
  const species = [...new Set(outcomes.map(({said}) => said.species))];
  return species.map((name) => {
    const own = outcomes.filter(({said}) => said.species === name);
    return own.findLast(({hasEnded}) => hasEnded) ?? own.at(-1)!;
  });
}

function saidOf(one: AdviceOutcome): string {
  const {said, hasEnded, until, bought, boughtUntil, ordered, usable, undecided, owed, lost, free} = one;
  const count = (value: number) => shown(value, "count");
  const squares = usable + one.notUsable + undecided;
  const advised = shownInterval({low: said.squaresLow, high: said.squaresHigh}, "count");
  const wanted = shownInterval({low: said.shaftsWantedLow, high: said.shaftsWantedHigh}, "count");
  const way = undecided > 0 ? `, and ${count(undecided)} are still on their way` : "";
  const expected =
    said.usablePct === undefined || said.usableLowPct === undefined || said.usableHighPct === undefined
      ? ""
      : `; ${shown(said.usablePct, "percent")} was expected, ${shownInterval({low: said.usableLowPct, high: said.usableHighPct}, "percent")}: ${usableWords[one.usableAgainst]}`;
  const atEnd =
    said.shaftsShort === undefined || said.shaftsLeftOver === undefined
      ? ""
      : `; at the season’s end ${count(said.shaftsShort)} short and ${count(said.shaftsLeftOver)} left over were expected on average`;
  return [
    `${capital(said.species)}, advice of ${said.advisedOn} for the season to ${said.seasonTo}${hasEnded ? "" : ", so far"}: ${count(said.squares)} squares advised, ${advised}, and ${count(bought)} bought until ${boughtUntil}: ${squaresWords[one.squaresAgainst]}.`,
    `${count(said.shaftsWanted)} shafts were expected to be ordered, ${wanted}, and ${count(ordered)} were until ${until}: ${orderedWords[one.orderedAgainst]}.`,
    ...(squares > 0
      ? [
          `Of ${count(squares)} squares bought ${count(usable)} have become usable, ${shown(usable / squares, "fraction")}${way}${expected}.`
        ]
      : []),
    `On ${until} ${count(owed)} shafts were owed${lost > 0 ? `, ${count(lost)} were lost for want of one,` : ""} and ${count(free)} lay free on the rack${atEnd}.`
  ].join(" ");
}

const squaresWords: Record<AdviceOutcome["squaresAgainst"], string> = {
  inside: "as advised",
  above: "more",
  below: "fewer",
  open: "so far",
  replaced: "then advised anew"
};
const orderedWords: Record<AdviceOutcome["orderedAgainst"], string> = {
  inside: "inside",
  above: "above",
  below: "below",
  open: "so far"
};
const usableWords: Record<AdviceOutcome["usableAgainst"], string> = {...orderedWords, open: "open"};

type Columns = Parameters<Composer["table"]>[0]["columns"];

/** A table with a row for each advice; what each was is said in the first columns. */
function tableOf(
  outcomes: readonly AdviceOutcome[],
  {id, caption, columns, note, row}: Omit<Parameters<Composer["table"]>[0], "rows"> & {row: (one: AdviceOutcome) => Row}
): Parameters<Composer["table"]>[0] {
  const about: Columns = [
    {key: "species", heading: "Species", unit: "text"},
    {key: "advisedOn", heading: "Advice of", unit: "date"},
    {key: "until", heading: "Until", unit: "date"}
  ];
  const rows = outcomes.map((one) => {
    const {species, advisedOn} = one.said;
    return {species, advisedOn, until: one.until, ...row(one)};
  });
  return {id, caption, columns: [...about, ...columns], rows, ...(note !== undefined && {note})};
}

const squaresTable = (outcomes: readonly AdviceOutcome[]) =>
  tableOf(outcomes, {
    id: "follow-up-squares",
    caption: "Squares advised, squares bought, and what became of them",
    columns: [
      {key: "squares", heading: "Advised", unit: "count", low: "squaresLow", high: "squaresHigh"},
      {key: "bought", heading: "Bought", unit: "count"},
      {key: "squaresWords", heading: "Against it", unit: "text"},
      {key: "usablePct", heading: "Usable, expected", unit: "percent", low: "usableLowPct", high: "usableHighPct"},
      {key: "usable", heading: "Usable", unit: "count"},
      {key: "undecided", heading: "On their way", unit: "count"},
      {key: "usableWords", heading: "Share", unit: "text"}
    ],
    row: ({said, bought, boughtUntil, usable, undecided, ...one}) => ({
      until: boughtUntil,
      squares: said.squares,
      squaresLow: said.squaresLow,
      squaresHigh: said.squaresHigh,
      bought,
      squaresWords: squaresWords[one.squaresAgainst],
      usablePct: said.usablePct,
      usableLowPct: said.usableLowPct,
      usableHighPct: said.usableHighPct,
      usable,
      undecided,
      usableWords: usableWords[one.usableAgainst]
    }),
    note: "In brackets the numbers within 1\u00a0% of the best expected profit, and the share that was to hold in 95 of 100 cases. Bought is what was bought up to the next advice or the season’s last day; the share expected is that of the squares advised, of whom they were advised."
  });

const shaftsTable = (outcomes: readonly AdviceOutcome[]) =>
  tableOf(outcomes, {
    id: "follow-up-shafts",
    caption: "Shafts expected to be ordered, ordered, short and left over",
    columns: [
      {key: "wanted", heading: "Orders expected", unit: "count", low: "wantedLow", high: "wantedHigh"},
      {key: "ordered", heading: "Ordered", unit: "count"},
      {key: "orderedWords", heading: "Range", unit: "text"},
      {key: "shortSaid", heading: "Short, expected", unit: "count"},
      {key: "short", heading: "Short", unit: "count"},
      {key: "leftOver", heading: "Left over, expected", unit: "count"},
      {key: "free", heading: "Free on the rack", unit: "count"}
    ],
    row: ({said, ordered, orderedAgainst, owed, lost, free}) => ({
      wanted: said.shaftsWanted,
      wantedLow: said.shaftsWantedLow,
      wantedHigh: said.shaftsWantedHigh,
      ordered,
      orderedWords: orderedWords[orderedAgainst],
      shortSaid: said.shaftsShort,
      short: owed + lost,
      leftOver: said.shaftsLeftOver,
      free
    }),
    note: "In brackets what was to hold in 95 of 100 cases. Short and free as the book stood on that day: short are shafts owed, and those lost for want of one since the advice; free are shafts inside the density window."
  });

const moneyTable = (outcomes: readonly AdviceOutcome[]) =>
  tableOf(outcomes, {
    id: "follow-up-money",
    caption: "The plan’s sum: expected, and with what came",
    columns: [
      {key: "takings", heading: "Shafts given to orders", unit: "money whole"},
      {key: "spent", heading: "Paid for squares", unit: "money whole"},
      {key: "profit", heading: "Sum expected", unit: "money whole"},
      {key: "reckoned", heading: "Sum with what came", unit: "money whole"}
    ],
    row: ({said, takings, spent, reckoned}) => ({takings, spent, profit: said.profit, reckoned}),
    note: "The sum with what came is given once the season is over."
  });

const method: readonly Method[] = [
  {
    id: "how-follow-up",
    heading: "Last season’s advice",
    text: "Rows of advice.csv whose season has begun are compared with what the book says since. Orders count from the day after the advice to the season’s last day and are judged when that is past, or once there are more than the range has. Squares bought up to the next advice count; the range of their usable share is judged when it holds, or does not, whatever becomes of those on their way. How often ranges held counts the first advice on a species and season, of seasons that are over, with Wilson’s interval.",
    formula:
      "sum = takings + leftover value · free − shortage cost · (owed + lost) − price and carriage of squares − work on a square · bought",
    guide: "follow-up"
  }
];
