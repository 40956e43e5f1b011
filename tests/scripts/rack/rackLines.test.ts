import {expect, test} from "vitest";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {rackLines} from "../../../scripts/rack/rackLines.ts";
import {rackToday} from "../../../scripts/rack/rackToday.ts";

const found = readBook("sample-data");
const read = bookAsOf({...found, book: found.book!});
const today = rackToday(read);
const lines = rackLines(today, read);

test("rackLines(today): the main points, then each piece to turn and to weigh once, then a line for each shaft owed", () => {
  const lists = lines.slice(lines.indexOf("Turn:"), lines.indexOf("Shafts for orders:"));
  const words = lists.join(" ").split(/\s+/);
  for (const {square, verdict, weigh} of today.ready)
    expect(words.filter((word) => word === square).length, square).toBe(verdict === "ready" || weigh ? 1 : 0);
  const orders = lines.slice(lines.indexOf("Shafts for orders:") + 1, -1);
  expect(orders.length).toBe(today.assignment.owed);
  expect(orders.filter((line) => line.endsWith(": no shaft")).length).toBe(
    today.assignment.given.filter(({square}) => square === undefined).length
  );
});

test("rackLines(today) breaks long lists before 100 characters; only sentences are longer", () => {
  const lists = lines.slice(lines.indexOf(""));
  expect(lists.length).toBeGreaterThan(10);
  expect(lists.filter((line) => line.length > 100)).toEqual([]);
});

test("rackLines shows a hostile number and does not obey it", () => {
  const [first] = today.ready.filter(({verdict}) => verdict === "ready");
  const hostile = {...today, ready: [{...first!, square: "\u001b[2J\u202e7\u0007"}]};
  const shown = rackLines(hostile, read).join("\n");
  expect(shown).toContain(" \ufffd[2J\ufffd7\ufffd");
  for (const obeyed of ["\u001b", "\u202e", "\u0007"]) expect(shown).not.toContain(obeyed);
});
