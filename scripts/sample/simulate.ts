import {dayNumber} from "../../lib/book/day.ts";
import {textOrder} from "../../lib/book/textOrder.ts";
import type {Row, Tables} from "./csv.ts";
import {eventRows} from "./eventRows.ts";
import {type Lot, lots} from "./lots.ts";
import {type Order, orderRow, orders} from "./orders.ts";
import {type Piece, pieces} from "./pieces.ts";
import {type Sales, sales, shaft} from "./selling.ts";
import {lotRow, squareRow} from "./squareRows.ts";
import {type Store, storeAir} from "./store.ts";
import {asOf} from "./truth.ts";

/** The five years of the workshop: what is true, and the sound book that shows it. */
export interface Workshop {
  lots: Lot[];
  pieces: Piece[];
  orders: Order[];
  sales: Sales;
  tables: Tables;
}

export function simulate(): Workshop {
  const bought = lots();
  return workshop(bought, pieces(bought), orders(), storeAir());
}

/** What comes of lots, of their squares and of orders: the shafts of these squares serve these orders. */
export function workshop(bought: Lot[], all: Piece[], ordered: Order[], store: Store): Workshop {
  const histories = all.map((piece) => ({piece, rows: eventRows(piece, store)}));
  const finished = histories.filter(
    ({piece: {finishedOn}}) => finishedOn !== undefined && finishedOn <= dayNumber(asOf)
  );
  const sold = sales(
    finished.map(({piece, rows}) => shaft(piece, rows.at(-1)!)),
    ordered
  );
  const tables = {
    "lots.csv": bought.map(lotRow),
    "squares.csv": all.map(squareRow),
    "events.csv": inOrder([...histories.flatMap(({rows}) => rows), ...sold.rows]),
    "orders.csv": ordered.map((order) => orderRow(order, sold.lost.get(order.order))),
    "climate.csv": store.rows
  };
  return {lots: bought, pieces: all, orders: ordered, sales: sold, tables};
}

/** By date, then by square; the events of one piece on one day stay in their order. */
export function inOrder(rows: Row[]): Row[] {
  return rows.sort((a, b) => textOrder(a.date!, b.date!) || textOrder(a.square!, b.square!));
}
