import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {figureHtml} from "../../lib/report/figureHtml.ts";
import {htmlText} from "../../lib/report/html.ts";
import {lots} from "./tables.ts";

const figure = {
  id: "loss",
  title: "Drying takes <most>",
  subtitle: "Squares per 100",
  alt: "Areas; drying takes 16 of 100.",
  note: "Still resting: not lost.",
  key: [
    {label: "Finished", color: "var(--c1)"},
    {label: "Drying", color: "var(--c4)"}
  ],
  table: lots
};
const drawings = {wide: "<svg><title>wide</title></svg>", narrow: "<svg><title>narrow</title></svg>"};
const {document} = new JSDOM(htmlText(figureHtml(figure, drawings, {number: 3, currency: "£", period: "2026-10"})))
  .window;
const text = (selector: string) => document.querySelector(selector)?.textContent;

it("figureHtml(figure, drawings, place) is a section named by its number and finding", () => {
  const section = document.querySelector("section")!;
  expect(section.id).toBe("loss");
  expect(document.getElementById(section.getAttribute("aria-labelledby")!)!.textContent).toBe(
    "Figure 3 Drying takes <most>"
  );
  expect(text(".subtitle")).toBe("Squares per 100");
});

it("figureHtml has the key in order, above the drawing, in the colours of the marks", () => {
  expect([...document.querySelectorAll(".key li")].map((node) => node.textContent)).toEqual(["Finished", "Drying"]);
  expect([...document.querySelectorAll(".key rect")].map((node) => node.getAttribute("fill"))).toEqual([
    "var(--c1)",
    "var(--c4)"
  ]);
  const {key: _, ...bare} = figure;
  expect(htmlText(figureHtml(bare, drawings, {number: 1}))).not.toContain('class="key"');
});

it("figureHtml holds both drawings under one text for who cannot see them", () => {
  const image = document.querySelector("[role=img]")!;
  expect(image.getAttribute("aria-label")).toBe("Areas; drying takes 16 of 100.");
  expect([...image.children].map((node) => [node.className, node.textContent])).toEqual([
    ["wide", "wide"],
    ["narrow", "narrow"]
  ]);
});

it("figureHtml has figcaption as the last child of figure, and the data outside it", () => {
  expect(document.querySelector("figure")!.lastElementChild!.localName).toBe("figcaption");
  expect(document.querySelector("figure table, figure details")).toBeNull();
  expect(text("summary")).toBe("Data for figure 3");
  expect(text("details caption")).toBe("Lots by day of purchase");
  expect(document.querySelector<HTMLAnchorElement>("details a")!.download).toBe("lots-2026-10.csv");
  expect(document.querySelector("details")!.open).toBe(false);
});

it("figureHtml leads to how it is worked out and to its notebook, linked once that is made", () => {
  const leads = (more: object, notebook?: {href?: string; question: string}) =>
    new JSDOM(htmlText(figureHtml({...figure, ...more}, drawings, {number: 1, ...(notebook && {notebook})}))).window
      .document;
  const question = "Why <so>?";
  const both = leads({method: "how-loss"}, {href: "notebooks/03-why.html", question});
  expect([...both.querySelectorAll(".leads a")].map((link) => [link.getAttribute("href"), link.textContent])).toEqual([
    ["#how-loss", "How it is worked out"],
    ["notebooks/03-why.html", question]
  ]);
  expect(leads({}, {question}).querySelector(".leads")!.textContent).toBe(`In a notebook: ${question}`);
  expect(leads({}, {question}).querySelector(".leads a")).toBeNull();
  expect(leads({}).querySelector(".leads")).toBeNull();
});
