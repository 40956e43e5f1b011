import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {labelLayout} from "../../../scripts/pages/labelFit.ts";
import {labelsPage} from "../../../scripts/pages/labels.ts";

// How it prints and what its codes say: tests/browser/labels.test.ts.

const about = {workshop: `Bench & <Vice>`, asOf: "2026-10-31"};
const usual = {
  species: "ash",
  stage: "rough-round",
  state: "about" as const,
  day: "2026-11-20",
  densityAt12KgM3: 690.4
};
const page = (rows: Parameters<typeof labelsPage>[0], layout = labelLayout()) => {
  const made = labelsPage(rows, layout, about);
  return {...made, document: new JSDOM(made.html).window.document};
};
const textOf = (node: Element) =>
  [...node.querySelectorAll("b, span")].map((one) => one.textContent!.replaceAll("\u00a0", " "));

test("labelsPage: number, species, stage, day and density of each piece; of a shaft since when", () => {
  const {document} = page([
    {square: "A0001", ...usual},
    {square: "A0002", species: "maple", stage: "finished", finishedOn: "2026-09-30", densityAt12KgM3: 712},
    {square: "A0003", species: "ash", stage: "square", densityAt12KgM3: 655},
    {square: "A0004", ...usual, state: "weigh"},
    {square: "A0005", ...usual, state: "ready", day: "2026-10-31"}
  ]);
  expect([...document.querySelectorAll(".label")].map(textOf)).toEqual([
    ["A0001", "Ash, rough-round", "about 2026-11-20", "690 kg/m³ at 12 %"],
    ["A0002", "Maple, finished", "finished 2026-09-30", "712 kg/m³ at 12 %"],
    ["A0003", "Ash, square", "not ready, day not known", "655 kg/m³ at 12 %"],
    ["A0004", "Ash, rough-round", "weigh from 2026-11-20", "690 kg/m³ at 12 %"],
    ["A0005", "Ash, rough-round", "ready 2026-10-31", "690 kg/m³ at 12 %"]
  ]);
});

test("labelsPage cuts the labels into sheets, those used up counted", () => {
  const rows = Array.from({length: 30}, (_, i) => ({square: `A${i}`, ...usual}));
  const counts = (skip: number) =>
    [...page(rows, labelLayout({skip})).document.querySelectorAll(".sheet")].map((sheet) => sheet.children.length);
  expect(counts(0)).toEqual([24, 6]);
  expect(counts(5)).toEqual([19, 11]);
  expect(counts(23)).toEqual([1, 24, 5]);
});

test("labelsPage shows what the book holds and obeys none of it", () => {
  const hostile = `"><script>alert(1)</script>`;
  const {document} = page([{square: hostile, ...usual, species: hostile, stage: hostile}]);
  expect(document.querySelectorAll("script")).toHaveLength(0);
  expect(document.querySelector(".label b")!.textContent).toBe(hostile);
  expect(document.querySelector(".about p")!.textContent).toContain(
    "Bench & <Vice>: 1 label on one sheet of A4, 3 × 8 of 70 × 37.1 mm."
  );
  expect(document.querySelector("meta[http-equiv]")!.getAttribute("content")).toMatch(
    /^default-src 'none'; style-src-elem /
  );
});

test("labelsPage breaks a number behind its dashes, within its letters only where nothing else is left, and names these", () => {
  const {document, broken, tiny} = page(
    [
      {square: "ASH-2026-117", ...usual},
      {square: "W".repeat(30), ...usual}
    ],
    labelLayout({columns: 8, rows: 8})
  );
  const [dashes, letters] = [...document.querySelectorAll(".label b")];
  expect(dashes!.innerHTML).toBe("ASH-<wbr>2026-<wbr>117");
  expect([dashes!.className, letters!.className]).toEqual(["", "letters"]);
  expect(broken).toEqual(["W".repeat(30)]);
  expect(tiny).toEqual(["ASH-2026-117", "W".repeat(30)]);
  expect(page([{square: "ASH-2026-117", ...usual}])).toMatchObject({broken: [], tiny: [], small: []});
});
