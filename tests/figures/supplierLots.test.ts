import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {lotDensities} from "../../lib/density/lotDensities.ts";
import {supplierLots} from "../../lib/figures/supplierLots.ts";
import {now} from "../recovery/sample.ts";
import {expectSound} from "./sound.ts";

const window = {low: 650, high: 735};
const options = {species: "ash", window, period: "all years"};
const rows = lotDensities(now);
const suppliers = [...new Set(rows.filter(({species}) => species === "ash").map(({supplier}) => supplier))];
const lot = (supplier: string, meanKgM3: number, more = {}) => ({
  species: "ash",
  supplier,
  lot: `${supplier}-${meanKgM3}`,
  boughtOn: "2025-01-10",
  squares: 20,
  meanKgM3,
  quarterKgM3: meanKgM3 - 20,
  threeQuarterKgM3: meanKgM3 + 20,
  ...more
});

test("supplierLots(sample book) is sound: a panel a supplier in the order given, a dot a lot", () => {
  const figure = supplierLots(rows, {...options, suppliers});
  const {wide, narrow} = expectSound(figure);
  const own = rows.filter(({species}) => species === "ash");
  expect(figure.table.rows).toHaveLength(own.length);
  for (const drawing of [wide, narrow]) {
    const {document} = new JSDOM(drawing).window;
    expect(document.querySelectorAll("circle")).toHaveLength(own.length);
    // Panels are drawn column by column; read row by row they come in the order given.
    const panels = [...document.querySelectorAll("text")]
      .filter(({textContent}) => suppliers.includes(textContent!))
      .map((node) => ({name: node.textContent, box: placeOf(node)}));
    const names = panels.toSorted((a, b) => a.box.y - b.box.y || a.box.x - b.box.x).map(({name}) => name);
    expect(names).toEqual(suppliers);
  }
});

test("supplierLots names the supplier whose lots differ least, of those with four lots or more", () => {
  const lots = [
    ...[700, 701, 702, 703].map((mean) => lot("Even Yard", mean)),
    ...[650, 690, 720, 760].map((mean) => lot("Uneven Yard", mean)),
    ...[700, 700].map((mean) => lot("Two Lots", mean))
  ];
  const named = (some: string[]) => supplierLots(lots, {...options, suppliers: some});
  const figure = named(["Uneven Yard", "Even Yard", "Two Lots"]);
  expectSound(figure);
  expect(figure.title).toBe("Lots of Even Yard differ least from each other");
  expect(figure.alt).toContain("Lightest lot Uneven Yard-650 of Uneven Yard with 650\u00a0kg/m³");
  expect(named(["Even Yard", "Two Lots"]).title).toBe("Too few lots to see how they differ");
});

test("supplierLots draws a lot of few squares hollow, and no lots at all without a crash", () => {
  const {wide} = expectSound(
    supplierLots([lot("A", 700), lot("B", 690, {squares: 4})], {...options, suppliers: ["A", "B"]})
  );
  const fills = [...new JSDOM(wide).window.document.querySelectorAll("circle")].map((dot) =>
    dot.closest("g[fill]")!.getAttribute("fill")
  );
  expect(fills.toSorted()).toEqual(["var(--c1)", "var(--ground)"]);
  expect(supplierLots([], {...options, suppliers: []}).table.rows).toEqual([]);
});

/** Where a text stands, by the shifts of all groups around it. */
function placeOf(node: Element): {x: number; y: number} {
  let [x, y] = [0, 0];
  for (let at: Element | null = node; at; at = at.parentElement) {
    const [, dx = "0", dy = "0"] = /translate\(([-\d.]+),([-\d.]+)\)/.exec(at.getAttribute("transform") ?? "") ?? [];
    [x, y] = [x + Number(dx), y + Number(dy)];
  }
  return {x, y};
}
