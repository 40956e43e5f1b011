import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {monthTrend, type Trend} from "../../lib/figures/monthTrend.ts";
import {expectSound} from "./sound.ts";

const trend: Trend = {
  id: "trend-x",
  title: "Ordered in the year: 12 of ash",
  subtitle: "Shafts ordered in the month, by species; 2026-01 to 2026-04",
  unit: "count",
  axis: "shafts",
  of: "squares",
  months: ["2026-01", "2026-02", "2026-03", "2026-04"],
  rows: [
    {series: "ash", month: "2026-01", value: 3},
    {series: "ash", month: "2026-02", value: undefined},
    {series: "ash", month: "2026-03", value: 7},
    {series: "ash", month: "2026-04", value: 2, n: 9},
    {series: "maple", month: "2026-03", value: 2, n: 10}
  ],
  table: {
    caption: "Shafts ordered by month",
    columns: [{key: "month", heading: "Month", unit: "date"}],
    rows: [{month: "2026-01"}]
  }
};
const svg = (drawing: string) => new JSDOM(drawing).window.document;

test("monthTrend(a year) is sound, tells each value, and names each line at its end without a key", () => {
  const figure = monthTrend(trend);
  const {wide, narrow} = expectSound(figure);
  for (const drawing of [wide, narrow]) {
    const document = svg(drawing);
    expect([...document.querySelectorAll("title")].map((node) => node.textContent)).toEqual([
      "ash, 2026-01: 3",
      "ash, 2026-03: 7",
      "ash, 2026-04: 2 of 9 squares",
      "maple, 2026-03: 2 of 10 squares"
    ]);
    const names = [...document.querySelectorAll("text")].filter(({textContent}) =>
      /^(ash|maple) \d/.test(textContent!)
    );
    expect(names.map(({textContent}) => textContent)).toEqual(["ash 2", "maple 2"]);
  }
  expect(figure.key).toBeUndefined();
  expect(figure.alt).toBe(
    "Lines of 4 months. ash: first 3 in 2026-01, last 2 in 2026-04, highest 7 in 2026-03, lowest 2 in 2026-04. maple: first 2 in 2026-03, last 2 in 2026-03, highest 2 in 2026-03, lowest 2 in 2026-03."
  );
});

test("monthTrend: what rests on fewer than ten is hollow", () => {
  const document = svg(expectSound(monthTrend(trend)).wide);
  const fill = (words: string) => {
    const dot = [...document.querySelectorAll("title")].find(({textContent}) => textContent === words)!.parentElement!;
    return dot.getAttribute("fill") ?? dot.parentElement!.getAttribute("fill");
  };
  expect(fill("ash, 2026-04: 2 of 9 squares")).toBe("var(--ground)");
  expect(fill("ash, 2026-03: 7")).toBe("var(--c1)");
  expect(fill("maple, 2026-03: 2 of 10 squares")).toBe("var(--c4)");
});

test("monthTrend of more lines than there are colours tells in words only those that it draws", () => {
  const rows = ["a", "b", "c", "d", "e", "f"].map((series, i) => ({series, month: "2026-01", value: 1 + i}));
  const {alt} = monthTrend({...trend, rows});
  expect(alt).toContain("e: first 5");
  expect(alt).not.toContain("f: first");
});

test("monthTrend: a month without a value breaks the line", () => {
  const line = svg(expectSound(monthTrend(trend)).wide).querySelector(
    'g[stroke="var(--c1)"] path, path[stroke="var(--c1)"]'
  )!;
  expect(line.getAttribute("d")!.match(/M/g)).toHaveLength(2);
});

test("monthTrend: names of lines that end at one value stand apart", () => {
  const places = [...svg(expectSound(monthTrend(trend)).wide).querySelectorAll("text")]
    .filter(({textContent}) => /^(ash|maple) \d/.test(textContent!))
    .map((node) => Number(/,([\d.]+)\)/.exec(node.getAttribute("transform")!)![1]));
  expect(Math.abs(places[0]! - places[1]!)).toBeGreaterThan(14);
});

test("monthTrend without values draws an empty year and says so", () => {
  const figure = monthTrend({...trend, rows: [], band: []});
  expectSound(figure);
  expect(figure.alt).toContain("No data");
});

test("monthTrend: names of many lines near the top stay within the drawing, and lines beyond the colours are said to be left out", () => {
  const series = ["a", "b", "c", "d", "e", "f"];
  const rows = series.flatMap((name) => trend.months.map((month) => ({series: name, month, value: 95})));
  const figure = monthTrend({...trend, unit: "percent", axis: "% inside", rows});
  expect(figure.note).toBe("Not drawn, in the table only: f.");
  const places = [...svg(expectSound(figure).wide).querySelectorAll("text")]
    .filter(({textContent}) => /^[a-f] 95/.test(textContent!))
    .map((node) => Number(/,([\d.]+)\)/.exec(node.getAttribute("transform")!)![1]));
  expect(places).toHaveLength(5);
  const sorted = places.toSorted((a, b) => a - b);
  expect(sorted[0]!).toBeGreaterThan(10);
  for (const [i, place] of sorted.slice(1).entries()) expect(place - sorted[i]!).toBeGreaterThan(14);
});
