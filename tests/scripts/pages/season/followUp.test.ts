import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {htmlText} from "../../../../lib/report/html.ts";
import {draw} from "../../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../../scripts/io/readBook.ts";
import {makeComposer} from "../../../../scripts/pages/compose.ts";
import {guidePage, guideText} from "../../../../scripts/pages/guide.ts";
import {followUpParts} from "../../../../scripts/pages/season/followUp.ts";
import {texts} from "../../../book/smallBook.ts";
import {folderOf} from "../../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};

function partsOf(folder: string, asOf: string) {
  const {book, ...rest} = readBook(folder);
  const read = bookAsOf({...rest, book: book!}, asOf);
  const {composer, tables, figures} = makeComposer(
    {currency: read.book.settings.money.currency, asOf: read.asOf},
    beside
  );
  const parts = followUpParts(read, composer);
  const {document} = new JSDOM(parts.section.body.map(htmlText).join("")).window;
  for (const svg of document.querySelectorAll("svg")) svg.remove();
  const text = document.body.textContent!.replaceAll(/[\s\u00a0\u202f]+/g, " ");
  return {...parts, document, text, tables, figures};
}

const sample = partsOf("sample-data", "2026-10-31");

test("followUpParts(sample) tells of each kept advice, of three seasons and two species, one running", () => {
  expect(sample.section.heading).toBe(
    "Last season’s advice, and what came: orders lay inside the range said 4 times of 4, usable shares 3 times of 4"
  );
  expect(sample.figures.map(({id}) => id)).toEqual(["advice-follow-up"]);
  const [, squares, shafts, money] = sample.tables;
  expect([squares, shafts, money].map((table) => table!.rows.length)).toEqual([6, 6, 6]);
  expect(shafts!.rows.map(({orderedWords}) => orderedWords).slice(4)).toEqual(["so far", "so far"]);
  expect(money!.rows.map(({reckoned}) => reckoned !== undefined)).toEqual([true, true, true, true, false, false]);
});

test("followUpParts(sample): orders are those of orders.csv, counted here again", () => {
  const {orders} = readBook("sample-data").book!;
  const ash = orders.filter(
    ({species, orderedOn}) => species === "ash" && orderedOn > "2024-12-01" && orderedOn <= "2026-05-31"
  );
  const ordered = ash.reduce((total, {quantity}) => total + quantity, 0);
  expect(sample.text).toContain(`${ordered} were until 2026-05-31: inside.`);
});

test("followUpParts says what it cannot tell: too few seasons, no profit, seasons alike", () => {
  expect(sample.text).toContain("too few to tell that from 95 of 100");
  expect(sample.text).toContain("What really was earned cannot be told from the book: it knows neither wages nor rent");
  expect(sample.text).toContain("The seasons of one workshop are alike");
  expect(sample.limits).toHaveLength(1);
  expect(sample.point).toMatch(
    /^Of the seasons over whose advice was kept, orders lay inside the range said 4 times of 4/
  );
  expect(sample.text).not.toMatch(/undefined|NaN|\[object/);
});

test("followUpParts: where nothing is kept it says how to; before a season begins that there is something to come", () => {
  const none = partsOf(folderOf(texts()), "2025-03-01");
  expect(none.section.heading).toBe("Last season’s advice, and what came");
  expect(none.text).toContain("npx tsx scripts/season.ts --book my-book --keep-advice");
  expect([none.tables, none.figures, none.point]).toEqual([[], [], undefined]);
  const early = partsOf("sample-data", "2024-01-31");
  expect(early.text).toContain("Of 2 kept rows of advice no season has begun yet");
  const running = partsOf("sample-data", "2024-12-31");
  expect(running.section.heading).toBe("Last season’s advice, and what came");
  expect(running.text).toContain("Of shafts ordered no range can be judged yet.");
  expect(running.text).toContain("2 more are kept whose seasons have not begun yet.");
  expect(running.point).toBeUndefined();
});

test("followUpParts: a species' name is text", () => {
  const advice = ["2025-01-15,<b>ash</b>,2025-02-01,2026-01-31,2,1,3,1,0,3,50,10,90,20,1,1,80"];
  const species = {"<b>ash</b>": {wood: "european-ash", windowKgM3: {low: 640, high: 740}}};
  const files = texts({advice, lots: ["A,2025-01-10,Quill,<b>ash</b>,2,10"], orders: ["O1,2025-02-01,<b>ash</b>,1"]});
  const {document} = partsOf(folderOf({...files, "workshop.json": JSON.stringify({species})}), "2026-02-28");
  expect(document.querySelector("b")).toBeNull();
  expect(document.body.textContent).toContain("<b>ash</b>, advice of 2025-01-15");
});

test("the method of the follow-up has its place in the guide", () => {
  const {document} = new JSDOM(guidePage(guideText())).window;
  for (const {guide} of sample.method) expect(document.getElementById(guide), guide).not.toBeNull();
  expect(sample.method.map(({id}) => id)).toContain(sample.figures[0]!.method);
});
