import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {type IntervalDots, intervalDots} from "../../lib/figures/intervalDots.ts";
import {draw} from "../../scripts/draw.ts";
import {expectSound} from "./sound.ts";

const dots = [
  {label: "Low Fold Sawmill", value: 0.7, low: 0.6, high: 0.8},
  {label: "Elm End Yard", value: 0.5, low: undefined, high: undefined}
];
const input = (some: IntervalDots["dots"]): IntervalDots => ({
  id: "inside",
  title: "Low Fold Sawmill has most inside",
  subtitle: "Squares inside the window, % of squares measured, all years",
  alt: "Dots with intervals. Highest: Low Fold Sawmill with 70 %, lowest: Elm End Yard with 50 %.",
  unit: "fraction",
  axis: "% inside",
  dots: some,
  table: {
    id: "inside-data",
    caption: "Share of squares inside the window",
    columns: [{key: "label", heading: "Supplier", unit: "text"}],
    rows: some.map(({label}) => ({label}))
  }
});

test("intervalDots(two suppliers) is sound and draws a dot each, a line for the one with an interval", () => {
  const {wide} = expectSound(intervalDots(input(dots)));
  for (const {label} of dots) expect(wide).toContain(label);
});

test("intervalDots(two series) has a key of two; without dots it draws all the same", () => {
  const both = dots.flatMap((dot) => ["raw", "drawn"].map((series) => ({...dot, series})));
  const figure = intervalDots({...input(both), series: ["raw", "drawn"]});
  expectSound(figure);
  expect(figure.key!.map(({label}) => label)).toEqual(["raw", "drawn"]);
  expectSound(intervalDots(input([])));
});

test("each dot says its panel, label and series, its value and its interval, for whoever points at it", () => {
  const two = [
    {label: "Low Fold Sawmill", panel: "ash", series: "all", value: 0.951, low: 0.893, high: 0.979},
    {label: "Low Fold Sawmill", panel: "ash", series: "lately", value: 0.9, low: undefined, high: undefined}
  ];
  const {wide} = expectSound(intervalDots({...input(two), series: ["all", "lately"]}));
  const titles = [...wide.matchAll(/<title>([^<]*)<\/title>/g)].map(([, title]) =>
    title!.replaceAll("&nbsp;", "\u00a0")
  );
  expect(titles).toEqual([
    "ash, Low Fold Sawmill, all: 95.1\u00a0%, 89.3 to 97.9\u00a0%",
    "ash, Low Fold Sawmill, lately: 90.0\u00a0%"
  ]);
});

test("lines of several panels stand under the name of theirs, each with what it rests on; a dot without interval is hollow", () => {
  const two = [
    {label: "Elm End Yard", panel: "ash", value: 0.9, low: 0.8, high: 0.95, n: "7 lots"},
    {label: "Elm End Yard", panel: "maple", value: 0.4, low: undefined, high: undefined, n: "2 lots"}
  ];
  const {wide} = expectSound(intervalDots(input(two)));
  const {document} = new JSDOM(wide).window;
  const texts = [...document.querySelectorAll("text")].map(({textContent}) => textContent!);
  for (const text of ["ash", "maple", "7 lots", "2 lots"]) expect(texts.filter((one) => one === text)).toHaveLength(1);
  expect(texts.filter((text) => text === "Elm End Yard")).toHaveLength(2);
  expect(wide).not.toContain("\0");
  const fills = [...document.querySelectorAll("circle")].map((dot) => dot.getAttribute("fill"));
  expect(fills).toEqual(["var(--c1)", "var(--ground)"]);
});

test("a name too long for the drawing is cut in it, whole where one points", () => {
  const label = "Thornbeck and Sons, sawn goods, lower yard ".repeat(3).trim();
  for (const drawing of Object.values(
    expectSound(intervalDots(input([{label, value: 0.5, low: 0.4, high: 0.6, n: "7 lots"}])))
  )) {
    const {document} = new JSDOM(drawing).window;
    const texts = [...document.querySelectorAll("text")].map(({textContent}) => textContent!);
    expect(texts.some((text) => /^Thornbeck and Sons.*…$/.test(text))).toBe(true);
    expect(document.querySelector("title")!.textContent).toContain(label);
  }
});

test("each series is drawn once, also where there are more of them than colours", () => {
  const names = ["a", "b", "c", "d", "e", "f", "g"];
  const many = names.map((series, i) => ({
    label: "Elm End Yard",
    series,
    value: i / 10,
    low: undefined,
    high: undefined
  }));
  const {wide} = draw(intervalDots({...input(many), series: names}));
  expect(wide.match(/<title>/g)).toHaveLength(7);
});
