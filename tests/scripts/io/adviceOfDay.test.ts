import {expect, test} from "vitest";
import type {Book} from "../../../lib/book/parseBook.ts";
import {demandForecast} from "../../../lib/buying/demandForecast.ts";
import {draw} from "../../../scripts/draw.ts";
import {adviceOfDay} from "../../../scripts/io/adviceOfDay.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {seasonReport} from "../../../scripts/pages/season.ts";
import {texts} from "../../book/smallBook.ts";
import {folderOf} from "../run.ts";

const {book, ...rest} = readBook("sample-data");

/** The sample as of a day early in it, with what the owner says of ash. */
const readWith = (ash: Partial<Book["settings"]["demand"][string]> = {}) => {
  const demand = {ash: {bigOrder: 0, lostPct: 0, ...ash}};
  return bookAsOf({...rest, book: {...book!, settings: {...book!.settings, demand}}}, "2024-03-31");
};

const plain = adviceOfDay(readWith());

test("adviceOfDay(sample) gives the number, the range and the suppliers of the season's report", () => {
  const {lead} = seasonReport(readWith(), {notebooks: [], keptBefore: () => undefined, draw}).data;
  expect(plain.map(({species}) => species)).toEqual(["ash", "maple"]);
  for (const {species, squares, bandLow, bandHigh, orders, usable} of plain) {
    const point = lead.find((sentence) => sentence.toLowerCase().startsWith(`${species}: buy `))!;
    expect(point, species).toContain(`buy ${squares} squares`);
    for (const {supplier} of orders) expect(point, species).toContain(supplier);
    expect(orders.reduce((sum, one) => sum + one.squares, 0)).toBe(squares);
    expect(bandLow <= squares && squares <= bandHigh).toBe(true);
    expect(usable!.low <= usable!.mean && usable!.mean <= usable!.high).toBe(true);
  }
});

test("adviceOfDay keeps the orders that will stand in the book: with a big order, without those nobody writes down", () => {
  const {histories} = readWith();
  const {mean, low, high} = demandForecast(histories, "ash", "2025-05-31")!;
  const ash = (said: Parameters<typeof readWith>[0]) => adviceOfDay(readWith(said))[0]!.demand;
  expect(plain[0]!.demand).toEqual({mean, low, high});
  expect(ash({bigOrder: 12})).toEqual({mean: mean + 12, low: low + 12, high: high + 12});
  // Of 100 asked for 20 are never written down: more are planned for, as many as before will be seen.
  const lost = ash({lostPct: 20});
  expect(lost.mean).toBeCloseTo(mean, 9);
  expect([lost.low, lost.high]).toEqual([low, high]);
  expect(ash({shafts: 50, sd: 10}).mean).toBe(50);
});

test("adviceOfDay of a book just begun has nothing to say", () => {
  const {book: young, ...more} = readBook(folderOf(texts()));
  expect(adviceOfDay(bookAsOf({...more, book: young!}))).toEqual([]);
});
