import type {Piece} from "../../lib/book/histories.ts";
import {groupBy} from "../../lib/book/spells.ts";
import {finishDays} from "../../lib/buying/finishDays.ts";
import type {FreeShaft} from "../../lib/figures/shaftsForOrders.ts";
import {assignShafts, type ShaftAssignment} from "../../lib/rack/assignShafts.ts";
import {type ComingForOrder, comingForOrder} from "../../lib/rack/comingForOrder.ts";
import {type CompetingOrder, competingOrders} from "../../lib/rack/competingOrders.ts";
import {byPromise} from "../../lib/rack/openOrders.ts";
import {freeShafts, type OrderShafts, rankShafts} from "../../lib/rack/rankShafts.ts";
import {type ShaftFit, shaftFit, shaftKnown} from "../../lib/rack/shaftFit.ts";
import {type UnservedOrder, unservedOrders} from "../../lib/rack/unservedOrders.ts";
import {moistureNow} from "../../lib/seasoning/moistureNow.ts";
import {type OversizeRow, oversizeCheck} from "../../lib/seasoning/oversizeCheck.ts";
import {type ReadyRow, readyToTurn} from "../../lib/seasoning/readyToTurn.ts";
import {type StoreMoisture, storeMoisture} from "../../lib/seasoning/storeMoisture.ts";
import {finishChance} from "../../lib/yield/finishChance.ts";
import {stageMass} from "../../lib/yield/stageMass.ts";
import type {BookAsOf} from "../io/readBook.ts";
import {dryingOf} from "./dryingOf.ts";

/** The day's work: what may be turned, and which shaft goes to which order. */
export interface RackToday {
  store: StoreMoisture | undefined;
  ready: ReadyRow[];
  /** By square: whether the next diameter clears. */
  oversize: Map<string, OversizeRow>;
  /** Shafts allotted and not delivered, held against their orders; earliest promised first. */
  allotted: {order: string; wantedBy?: string | undefined; fit: ShaftFit}[];
  ranked: OrderShafts[];
  /** The free shafts as they are, those of which a weight is known. */
  free: FreeShaft[];
  assignment: ShaftAssignment;
  unserved: UnservedOrder[];
  competing: CompetingOrder[];
  /** What may still come for each order that is not served whole from the rack. */
  coming: ComingForOrder[];
}

/** What may be turned today, by the book; the same for the page, the terminal and the labels. */
export function readyToday(
  read: Pick<BookAsOf, "histories" | "book">
): Pick<RackToday, "store" | "ready" | "oversize"> {
  const {histories: now, book} = read;
  const drying = dryingOf(read);
  const store = storeMoisture(book.climate, now);
  const moisture = moistureNow(now, book.climate, drying);
  const ready = readyToTurn(now, {store, times: drying.times, moisture});
  const oversize = new Map(oversizeCheck(now, {store, moisture}).map((row) => [row.square, row]));
  return {store, ready, oversize};
}

const days = new WeakMap<object, RackToday>();

/** All of the day's work, worked out once for a book and a day. */
export function rackToday(read: Pick<BookAsOf, "histories" | "book">): RackToday {
  const today = days.get(read.histories) ?? workOut(read);
  days.set(read.histories, today);
  return today;
}

function workOut(read: Pick<BookAsOf, "histories" | "book">): RackToday {
  const {histories: now} = read;
  const first = readyToday(read);
  const known = shaftKnown(now, {masses: stageMass(now), storePct: first.store?.equilibriumPct});
  const ranked = rankShafts(now, known);
  const free = freeShafts(now).flatMap((piece) => {
    const massG = known.cutTo(piece, {}).mass?.massG;
    return massG === undefined ? [] : [{square: piece.square, species: piece.species, massG}];
  });
  const orders = new Map(now.orders.map((order) => [order.order, order]));
  const allotted = now.pieces
    .flatMap((piece) => {
      const order = piece.deliveredOn === undefined ? orders.get(piece.allottedTo ?? "") : undefined;
      if (!order || piece.fate !== "finished") return [];
      return [{order: order.order, wantedBy: order.wantedBy, fit: shaftFit(order, piece, known)}];
    })
    .sort((a, b) => byPromise(orders.get(a.order)!, orders.get(b.order)!));
  const assignment = assignShafts(ranked);
  const wanting = ranked.filter(({order}) =>
    assignment.given.some((one) => one.order === order.order && (!one.square || one.look))
  );
  const bySpecies = groupBy(now.pieces, ({species}) => species);
  const ofSpecies = new Map(
    [...bySpecies].map(([species, pieces]) => [
      species,
      {chance: finishChance(now, pieces), days: finishDays(now, pieces)}
    ])
  );
  const of = <T>(part: "chance" | "days", piece: Piece) => ofSpecies.get(piece.species)![part](piece) as T;
  return {
    ...first,
    allotted,
    ranked,
    free,
    assignment,
    unserved: unservedOrders(ranked, assignment),
    competing: competingOrders(ranked, assignment),
    coming: wanting.map(({order}) =>
      comingForOrder(order, now, {
        known,
        finishChance: (piece) => of("chance", piece),
        finishDay: (piece) => of("days", piece)
      })
    )
  };
}
