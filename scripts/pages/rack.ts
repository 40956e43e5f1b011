import {dayNumber} from "../../lib/book/day.ts";
import type {Html} from "../../lib/report/html.ts";
import {keyFigures} from "../../lib/report/keyFigures.ts";
import {shown} from "../../lib/report/quantity.ts";
import type {ReadyRow} from "../../lib/seasoning/readyToTurn.ts";
import {counted} from "../faultLines.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {type RackToday, rackToday} from "../rack/rackToday.ts";
import {type Beside, type Composer, compose, type Report} from "./compose.ts";
import {listed} from "./listed.ts";
import {competingSection, orderMethods, ordersSection, withoutSection, withoutWords} from "./rack/orders.ts";
import {
  isReady,
  isToWeigh,
  oversizeSection,
  readyMethods,
  turnSection,
  waitSection,
  weighSection
} from "./rack/ready.ts";

/** The day's list: what may be turned, what to weigh first, and which shaft goes to which order. */
export function rackReport(read: BookAsOf, beside: Beside): Report {
  const today = rackToday(read);
  return compose("rack", read, beside, (composer) => {
    const {asOf, book} = read;
    return {
      title: `The rack on ${asOf}`,
      subtitle: `${book.settings.name} · what may be turned, what to weigh first, and which shaft for which order`,
      lead: mainPoints(today, read),
      summary: summary(today, composer),
      sections: [
        turnSection(today, read, composer),
        weighSection(today, asOf, composer),
        waitSection(today, composer),
        oversizeSection(today, read, composer),
        ordersSection(today, asOf, composer),
        withoutSection(today, composer),
        competingSection(today, composer)
      ],
      method: [...readyMethods, ...orderMethods],
      limits: limits(today, read)
    };
  });
}

/** "20 rough-round and 4 proud-round", by the stages of the settings. */
function byStage(rows: readonly ReadyRow[], {book}: Pick<BookAsOf, "book">): string {
  const parts = book.settings.stages.flatMap(({name}) => {
    const n = rows.filter(({stage}) => stage === name).length;
    return n > 0 ? [`${n} at ${name}`] : [];
  });
  return listed(parts);
}

/** The main points of the day; the terminal prints them too. */
export function mainPoints(today: RackToday, read: Pick<BookAsOf, "book" | "asOf" | "problems">): string[] {
  const {ready, oversize, assignment, ranked} = today;
  const turn = ready.filter(isReady);
  const weigh = ready.filter(isToWeigh);
  const within = (days: number) =>
    ready.filter(({verdict, weigh: now, until}) => {
      const ahead = until === undefined ? undefined : dayNumber(until) - dayNumber(read.asOf);
      return verdict !== "ready" && !now && ahead !== undefined && ahead <= days;
    }).length;
  const points: string[] = [];
  if (ready.length === 0) points.push("Nothing is waiting to be turned: every piece is finished or out.");
  else if (turn.length === 0)
    points.push(`None of ${counted(ready.length, "piece")} waiting is known to be ready today.`);
  else {
    const blind = today.store ? "" : ", by rest and steady mass alone, as the store's moisture is not known";
    points.push(`${counted(turn.length, "piece")} may be turned today${blind}: ${byStage(turn, read)}.`);
  }
  if (weigh.length > 0)
    points.push(
      `${weigh.length} more ${weigh.length === 1 ? "has" : "have"} rested, but no two weighings say that ${weigh.length === 1 ? "it is" : "they are"} steady: weigh ${weigh.length === 1 ? "it" : "them"} today (${byStage(weigh, read)}).`
    );
  if (ready.length > turn.length + weigh.length)
    points.push(`In the next 7 days ${within(7)} more should be ready, in the next 30 days ${within(30)}.`);
  const tight = turn.filter(({square}) => oversize.get(square) && oversize.get(square)!.verdict !== "clears");
  if (tight.length > 0)
    points.push(
      `Of those ready ${tight.length} may be too small for the next diameter, measure first: ${listed(tight.slice(0, 5).map(({square}) => square))}${tight.length > 5 ? " and more" : ""}.`
    );
  if (ranked.length === 0) points.push(`No order lacks a shaft.${setAside(read)}`);
  else {
    const {owed, served, toLookAt} = assignment;
    const rest = owed - served - toLookAt;
    const late = ranked.filter(({order}) => order.wantedBy !== undefined && order.wantedBy < read.asOf);
    const lateNames = listed(late.slice(0, 3).map(({order}) => order.order));
    const more = late.length > 3 ? ` and ${late.length - 3} more` : "";
    const overdue = late.length === 0 ? "" : `${lateNames}${more} ${late.length === 1 ? "is" : "are"} overdue. `;
    const look = toLookAt > 0 ? `; for ${toLookAt} more a shaft must be looked at first` : "";
    points.push(
      `${overdue}Of ${counted(owed, "shaft")} owed on ${counted(ranked.length, "order")} the rack serves ${served}${look}; ${rest === 0 ? "none goes" : rest === 1 ? "1 goes" : `${rest} go`} without.${setAside(read)}`
    );
  }
  const first = today.unserved[0];
  if (first) points.push(withoutWords(first, today));
  return points.slice(0, 6);
}

/** That orders are missing, as their rows were set aside. */
function setAside({problems}: Pick<BookAsOf, "problems">): string {
  const refused = problems.filter(({file, severity}) => severity === "refused" && file.startsWith("orders"));
  const rows = new Set(refused.map(({row}) => row)).size;
  return rows === 0
    ? ""
    : ` ${counted(rows, "row")} of the orders could not be read and ${rows === 1 ? "is" : "are"} not counted: see the faults.`;
}

function summary({ready, store, assignment}: RackToday, {currency}: Composer): Html {
  const {owed, served, toLookAt} = assignment;
  return keyFigures(
    [
      {
        label: "Ready to turn",
        value: ready.filter(isReady).length,
        unit: "count",
        n: `of ${counted(ready.length, "piece")} not finished`
      },
      {
        label: "To weigh today",
        value: ready.filter(isToWeigh).length,
        unit: "count",
        n: "rested, not seen to be steady"
      },
      {
        label: "Shafts owed",
        value: owed,
        unit: "count",
        n: `${served} served from the rack`,
        ...(toLookAt > 0 && {note: `${toLookAt} to be looked at first`})
      },
      {
        label: "The store's moisture",
        value: store?.equilibriumPct,
        unit: "percent",
        ...(store && {
          n: store.source === "climate.csv" ? `${counted(store.readings, "reading")} to ${store.to}` : "by the settings"
        })
      }
    ],
    {currency}
  );
}

function limits({store}: RackToday, {book}: BookAsOf): string[] {
  const {settings} = book;
  const {rack, bendTest, ready} = settings;
  return [
    "This list is advice from records. A piece is looked at before it goes on the lathe: splits, loose knots and run-out do not show in a weight. A long thin shaft whips; follow the lathe's manual and local rules, extract the dust at the source.",
    `Shop rules, common practice, no source: mass steady within ${shown(ready.steadyPct, "number")} % or ${shown(ready.scaleSteps, "number")} times the scale's uncertainty over ${counted(ready.steadyDays, "day")}, moisture at most ${shown(ready.nearPct, "percent", {bare: true})} points above the store. Laboratory rules of constant mass are for small pieces and do not hold here; steady in damp air is not dry.`,
    store
      ? `The store's moisture is what its air would bring wood to in the end (Wood Handbook, FPL-GTR-190, eq. 4-5), good to about a point.`
      : "The store's moisture is not known: write its air into climate.csv, or store.moisturePct into workshop.json. Until then a piece counts as ready by rest and steady mass alone, and when others will be ready is told by their rest only.",
    "No bow is written down in the book: what a piece still bows is an allowance of a quarter of a millimetre a metre, common practice, no source.",
    `An order's weight is taken to be that of ${rack.handleMassG > 0 ? `shaft and handle, of ${shown(rack.handleMassG, "g")}` : "the bare shaft"}; a shaft must be ${shown(rack.spliceMarginMm, "mm")} longer and ${shown(rack.tipMarginMm, "mm")} thicker at the tip than ordered (rack in workshop.json). The large end is kept; what is too long comes off the tip.`,
    bendTest
      ? `Bend: in the workshop's test, ${shown(bendTest.loadKg, "number")} kg ${bendTest.support === "simple" ? "in the middle of" : "at the end of"} ${shown(bendTest.spanMm, "count")} mm. Shear is left out.`
      : "The settings name no bending test, so nothing is said of stiffness."
  ];
}
