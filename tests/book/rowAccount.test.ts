import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import {rowAccounts} from "../../lib/book/rowAccount.ts";
import {settingsOf, smallest, texts} from "./smallBook.ts";

const [a1, a2] = smallest.squares;

test("rowAccounts: read = used + refused + no data, file by file", () => {
  const given = texts({
    squares: [a1, "", a2, "A3,A,1500,40,40,16o3,12", "Total,,,,,3360,"],
    events: ["2025-03-01,A1,weighed,,1650", "2025-03-02,A3,weighed,,1650", "2025-03-03,A2,discarded"]
  });
  const accounts = rowAccounts(parseBook(given, settingsOf()));
  expect(accounts).toEqual([
    {name: "lots.csv", file: "lots.csv", read: 1, used: 1, refused: 0, notData: 0},
    {name: "squares.csv", file: "squares.csv", read: 5, used: 2, refused: 1, notData: 2},
    {name: "orders.csv", file: "orders.csv", read: 1, used: 1, refused: 0, notData: 0},
    {name: "events.csv", file: "events.csv", read: 3, used: 1, refused: 2, notData: 0}
  ]);
});

test("rowAccounts counts an event that cannot have happened as refused", () => {
  const parsed = parseBook(
    texts({events: ["2024-03-01,A1,weighed,,1650", "2025-03-01,A1,weighed,,1650"]}),
    settingsOf()
  );
  const {problems} = histories(parsed.book!, "2025-12-31");
  const all = {...parsed, problems: [...parsed.problems, ...problems]};
  expect(rowAccounts(all).at(-1)).toMatchObject({name: "events.csv", read: 2, used: 1, refused: 1});
});

test("rowAccounts of a book that cannot be used has every row of data refused", () => {
  const {"orders.csv": _, ...without} = texts({squares: [a1, "", a2]});
  expect(rowAccounts(parseBook(without, settingsOf()))).toEqual([
    {name: "lots.csv", file: "lots.csv", read: 1, used: 0, refused: 1, notData: 0},
    {name: "squares.csv", file: "squares.csv", read: 3, used: 0, refused: 2, notData: 1},
    {name: "events.csv", file: "events.csv", read: 0, used: 0, refused: 0, notData: 0}
  ]);
});
