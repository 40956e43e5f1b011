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

const series = (supplier: string, means: readonly number[]) =>
  means.map((mean, i) =>
    lot(supplier, mean, {lot: `${supplier}-${i}`, boughtOn: `2025-${String(i + 1).padStart(2, "0")}-10`})
  );
const turned = [700, 702, 698, 701, 699, 660, 662, 658, 661, 659];
const steady = [700, 690, 705, 695, 701, 693, 699, 697, 702, 694];

test("supplierLots names the lot from which a supplier changed, and draws its level before and after", () => {
  const figure = supplierLots([...series("Turned", turned), ...series("Steady", steady)], {
    ...options,
    suppliers: ["Steady", "Turned"]
  });
  const {wide} = expectSound(figure);
  expect(figure.title).toBe("Turned's ash became lighter with lot Turned-5");
  expect(figure.note).toContain("before and after a change");
  expect(figure.alt).toContain("Lightest lot Turned-7 of Turned with 658\u00a0kg/m³");
  const levels = [...new JSDOM(wide).window.document.querySelectorAll("g[stroke-dasharray] line")];
  expect(levels).toHaveLength(3);
  const [whole, before, after] = levels.map((line) =>
    ["x1", "x2", "y1"].map((name) => Number(line.getAttribute(name)))
  );
  expect(before![1]).toBe(after![0]);
  expect([before![0], after![1]]).toEqual([whole![0], whole![1]]);
  // Lighter stands lower.
  expect(after![2]).toBeGreaterThan(before![2]!);
});

test.each([
  ["one that rose", series("Turned", turned.toReversed()), "Turned's ash became heavier with lot Turned-5"],
  [
    "two that changed",
    [...series("A", turned), ...series("B", turned.toReversed())],
    "2 suppliers' ash changed beyond chance"
  ],
  [
    "steady ones",
    [...series("A", steady), ...series("B", steady)],
    "No supplier's ash density has changed beyond chance"
  ],
  ["one steady", series("A", steady), "Density of this ash has not changed beyond chance"],
  ["too few lots", series("A", [700, 600, 700, 600]), "Too few lots to tell whether ash changed"],
  ["none", [], "No ash has been measured yet"]
])("supplierLots of %s says so", (_, lots, title) => {
  const figure = supplierLots(lots, {...options, suppliers: [...new Set(lots.map(({supplier}) => supplier))]});
  expectSound(figure);
  expect(figure.title).toBe(title);
});

test("supplierLots weighs chance over all lots given, those of other species too", () => {
  // Two blocks of five, in either order, are 2 · 5! · 5!/10! = 1/126 of all orders: rare alone, not among ten suppliers, of whom none can be called.
  const own = series("Turned", turned);
  const others = Array.from({length: 9}, (_, i) =>
    series(`Yard ${i}`, steady).map((row) => ({...row, species: "maple"}))
  ).flat();
  const titled = (lots: typeof own) => supplierLots(lots, {...options, suppliers: ["Turned"]}).title;
  expect(titled(own)).toBe("Turned's ash became lighter with lot Turned-5");
  expect(titled([...own, ...others])).toBe("Too few lots to tell whether ash changed");
});

test("supplierLots and long or hostile names: drawn cut, kept whole in the table", () => {
  const names = [
    "</script><img src=x>",
    `${"Thornbeck and Sons, sawn goods, lower yard ".repeat(3)}`.trim(),
    "\"&'\u2028"
  ];
  const lots = names.flatMap((name) => series(name, turned));
  const figure = supplierLots(lots, {...options, suppliers: names});
  for (const drawing of Object.values(expectSound(figure))) {
    expect(drawing).not.toContain("<img");
    expect(drawing).toContain("…</text>");
  }
  expect(new Set(figure.table.rows.map(({supplier}) => supplier))).toEqual(new Set(names));
});

test("supplierLots draws a lot of few squares hollow, and says how many lots each panel has", () => {
  const {wide} = expectSound(
    supplierLots([lot("A", 700), lot("B", 690, {squares: 4})], {...options, suppliers: ["A", "B"]})
  );
  const fills = [...new JSDOM(wide).window.document.querySelectorAll("circle")].map((dot) =>
    dot.closest("g[fill]")!.getAttribute("fill")
  );
  expect(fills.toSorted()).toEqual(["var(--c1)", "var(--ground)"]);
  expect(wide.match(/>1 lot</g)).toHaveLength(2);
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
