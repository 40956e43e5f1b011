import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {seasonReport} from "../../../scripts/pages/season.ts";
import {texts} from "../../book/smallBook.ts";
import {folderOf} from "../run.ts";

const beside = {notebooks: [], keptBefore: () => undefined, draw};

function pageOf(folder: string, asOf?: string): {document: Document; lead: readonly string[]} {
  const found = readBook(folder);
  const report = seasonReport(bookAsOf({...found, book: found.book!}, asOf), beside);
  return {document: new JSDOM(report.html).window.document, lead: report.data.lead};
}

const page = pageOf("sample-data").document;
const early = pageOf("sample-data", "2023-12-31").document;
const young = pageOf(folderOf(texts({events: []}))).document;

const headings = (document: Document) =>
  [...document.querySelectorAll("main > section > h2")].map((node) => node.textContent!);
const numberIn = (text: string) => Number(text.replace(/\D/g, ""));
const column = (document: Document, id: string, k: number) =>
  [...document.querySelectorAll(`#${id} tbody tr`)].map((row) => row.children[k]!.textContent!);

it("seasonReport(book) has the purchase, the panel, and five sections of findings a species: how many, of whom, what for, orders, by when", () => {
  const ofSpecies = (species: string) => [
    expect.stringMatching(new RegExp(`^${species}: buy \\d+ squares, \\d+ to \\d+ nearly as good$`)),
    expect.stringMatching(
      new RegExp(
        `^${species}: (all from [\\w ]+(, the most it can sell by the settings)?|\\d+ from [\\w ]+, \\d+ from [\\w ]+)$`
      )
    ),
    expect.stringMatching(new RegExp(`^${species}: \\d+ shafts there or on their way, \\d+ left to cover$`)),
    expect.stringMatching(new RegExp(`^${species}: about \\d+ shafts wanted until \\d{4}-\\d\\d-\\d\\d$`)),
    expect.stringMatching(
      new RegExp(
        `^${species}: (in the store by \\d{4}-\\d\\d-\\d\\d|bought today [\\d.]+\u00a0% of the shafts are in time)`
      )
    )
  ];
  expect(headings(page).slice(3, 13)).toEqual([...ofSpecies("Ash"), ...ofSpecies("Maple")]);
});

it("seasonReport(a book just begun) says why no number can be given", () => {
  expect(headings(young)).toContain("Ash: no number yet");
  expect(young.querySelector("main")!.textContent).toContain("No number can be given, as no ash square has become");
});

it.each(["ash", "maple"])("seasonReport(book): number, split, cost and sum of %s agree with each other", (species) => {
  const heading = page.querySelector(`#plan-${species}`)!.textContent!;
  const squares = Number(/buy (\d+)/.exec(heading)![1]);
  const planned = column(page, `offers-${species}`, 1).map(numberIn);
  expect(planned.reduce((a, b) => a + b, 0)).toBe(squares);
  const unit = column(page, `offers-${species}`, 3).map(Number);
  const cost = planned.reduce((sum, n, i) => sum + n * unit[i]!, 0);
  const said = /They cost £([\d\u202f]+)/.exec(page.querySelector("main")!.textContent!.split(heading).at(-1)!)![1]!;
  expect(Math.abs(numberIn(said) - cost)).toBeLessThan(0.005 * squares + 1);
  const [open, coming, rack, onWay, left] = column(page, `sum-${species}`, 1).map((text) => Number.parseInt(text, 10));
  expect(Math.abs(open! + coming! - rack! - onWay! - left!)).toBeLessThanOrEqual(2);
});

it("seasonReport(book) says when the plan takes all that a supplier is taken to sell, and only then", () => {
  for (const document of [page, early]) {
    for (const species of ["ash", "maple"]) {
      if (!document.querySelector(`#offers-${species}`)) continue;
      const [names, planned, most] = [0, 1, 7].map((k) => column(document, `offers-${species}`, k));
      const all = names!.filter((_, i) => planned![i] !== "0" && planned![i] === most![i]);
      const text = document.querySelector(`section[aria-labelledby="whom-${species}"]`)!.textContent!;
      const said = /The plan takes all that (.*) (?:is|are) taken to sell/.exec(text)?.[1] ?? "";
      expect(
        said
          .split(/, | and /)
          .filter((name) => name !== "")
          .sort()
      ).toEqual(all.sort());
    }
  }
});

it("seasonReport(book): the range of orders to come holds the number and is not below none", () => {
  for (const document of [page, early]) {
    const cells = ["ash", "maple"].flatMap((species) => column(document, `sum-${species}`, 1)[1] ?? []);
    expect(cells.length).toBeGreaterThan(0);
    for (const cell of cells) {
      const [mean, low, high] = /^(\d+) \((\d+) to (\d+)\)$/.exec(cell)!.slice(1).map(Number);
      expect(low).toBeGreaterThanOrEqual(0);
      expect(low).toBeLessThanOrEqual(mean!);
      expect(high).toBeGreaterThanOrEqual(mean!);
    }
  }
});

it("seasonReport(book) begins a section with its figure, if it has one, and each figure and table leads to a method that is there", () => {
  for (const section of page.querySelectorAll("main > section[aria-labelledby]")) {
    const kinds = [...section.children].flatMap((node) =>
      node.matches(".figure") ? ["figure"] : node.matches(".table-block") ? ["table"] : []
    );
    if (kinds.includes("figure")) expect(kinds[0], section.getAttribute("aria-labelledby")!).toBe("figure");
  }
  const links = [...page.querySelectorAll(".leads a[href^='#']")].map((link) => link.getAttribute("href")!.slice(1));
  expect(new Set(links)).toEqual(
    new Set([
      "how-plan",
      "how-what-if",
      "how-hangs",
      "how-supply",
      "how-demand",
      "how-back-test",
      "how-buy-by",
      "how-stock-ahead",
      "how-cash",
      "how-follow-up"
    ])
  );
  for (const id of links) expect(page.getElementById(id), id).not.toBeNull();
});

it("seasonReport(book) before a day counts no order, lot or square of after it", () => {
  const rows = [...early.querySelectorAll("#demand-ash tbody tr")].map((row) =>
    [...row.children].map((cell) => cell.textContent!)
  );
  const ordered = rows.filter(([, count]) => count !== "–").map(([month]) => month!);
  expect(ordered.at(-1)).toBe("2023-12");
  expect(rows.at(-1)![0]).toBe("2025-05");
  const lots = (document: Document) => column(document, "offers-ash", 5).reduce((sum, text) => sum + Number(text), 0);
  const bought = readBook("sample-data").book!.lots.filter(
    ({species, boughtOn}) => species === "ash" && boughtOn <= "2023-12-31"
  );
  expect(lots(early)).toBe(bought.length);
  expect(lots(page)).toBeGreaterThan(bought.length);
});
