import * as Plot from "@observablehq/plot";
import {expect, it} from "vitest";
import type {Figure} from "../../lib/figures/figure.ts";
import {figureFaults} from "../../lib/figures/lint.ts";
import {demoFigures, spread} from "../browser/demoFigures.ts";

it.each(demoFigures.map((figure) => ({id: figure.id, figure})))(
  "figureFaults($id) finds a sound figure sound",
  ({figure}) => {
    expect(figureFaults(figure)).toEqual([]);
  }
);

const [name, cv, n] = spread.table.columns;
const broken: [string, Partial<Figure>][] = [
  ["id must be small letters", {id: "Density spread"}],
  ["title must be 2 to 10 words, got 11", {title: "one two three four five six seven eight nine ten eleven"}],
  ["title must be 2 to 10 words, got 0", {title: ""}],
  ["title must end without a full stop", {title: "The tightest."}],
  ["subtitle must name measure", {subtitle: "Ash"}],
  [
    "subtitle must say more than the title",
    {title: "Spread of density of all ash squares", subtitle: "Spread of density of all ash squares"}
  ],
  ["alt must be at least 40 characters, got 5", {alt: "Dots 1".slice(0, 5)}],
  ["alt must name numbers", {alt: "Dots with intervals for a few suppliers in order of spread"}],
  ["words must be free of undefined", {note: "Rests on undefined squares"}],
  ["words must be free of undefined", {title: "NaN of 100 squares finish"}],
  [
    "key labels must differ",
    {
      key: [
        {label: "a", color: "var(--c1)"},
        {label: "a", color: "var(--c2)"}
      ]
    }
  ],
  [
    "key colours must differ",
    {
      key: [
        {label: "a", color: "var(--c1)"},
        {label: "b", color: "var(--c1)"}
      ]
    }
  ],
  ["key colours must be those of the page", {key: [{label: "a", color: "red"}]}],
  ["key must have at most 5 classes", {key: [1, 2, 3, 4, 5, 6].map((i) => ({label: `${i}`, color: `var(--c${i})`}))}],
  ["table id must be", {table: {...spread.table, id: "A b"}}],
  ["table caption must say", {table: {...spread.table, caption: "Spread"}}],
  ["table columns must have keys of their own", {table: {...spread.table, columns: [name!, cv!, n!, n!]}}],
  [
    "an interval must have low and high",
    {table: {...spread.table, columns: [name!, {key: "cv", heading: "CV", unit: "fraction", low: "low"}, n!]}}
  ],
  ["a table with intervals must have a column that counts", {table: {...spread.table, columns: [name!, cv!]}}],
  [
    "every column must be in the rows",
    {table: {...spread.table, columns: [...spread.table.columns, {key: "lots", heading: "Lots", unit: "count"}]}}
  ],
  [
    "each value must lie within its interval",
    {table: {...spread.table, rows: [{supplier: "A", cv: 0.2, low: 0.3, high: 0.4, n: 3}]}}
  ],
  ["the page writes title and note", {plot: () => ({title: "Spread"})}],
  ["the page writes the key", {plot: () => ({color: {legend: true}})}],
  ["each axis must say what it shows", {plot: () => ({x: {ticks: 4}})}],
  ["each axis of numbers must say its unit", {plot: () => ({x: {label: "how much →"}})}],
  ["labels must be level", {plot: () => ({x: {label: "kg", tickRotate: 45}})}],
  ["labels must be level", {plot: () => ({y: {label: "kg", labelAnchor: "center"}})}],
  ["the order of names must be given", {plot: () => ({y: {label: null, type: "band"}})}],
  ["the order of names must be given", {plot: () => ({fy: {label: null}})}],
  ["bars must begin at zero", {plot: () => ({x: {label: "kg"}, marks: [Plot.barX([1], {x1: 2, x2: 3})]})}],
  ["bars must begin at zero", {plot: () => ({y: {label: "kg", domain: [2, 9]}, marks: [[Plot.barY([1], {y: 3})]]})}],
  ["alt must name the extremes", {alt: "Dots with intervals for 5 suppliers in order of their spread, all ash."}],
  [
    "subtitle, note or caption must say what the intervals are",
    {note: "", subtitle: "Coefficient of variation of density at 12 % moisture; ash"}
  ],
  [
    "each axis must say what it shows, or null (narrow)",
    {plot: ({narrow}) => ({x: narrow ? {ticks: 4} : {label: "kg"}})}
  ]
];

it.each(broken)("figureFaults finds: %s", (fault, change) => {
  expect(figureFaults({...spread, ...change}).some((sentence) => sentence.includes(`: ${fault}`))).toBe(true);
});

it("figureFaults lets an axis that is not drawn go without a name", () => {
  expect(figureFaults({...spread, plot: () => ({y: {axis: null}, x: {label: null}})})).toEqual([]);
});

it("figureFaults lets bars that begin at zero be, by their scale or by their domain, and names in a given order", () => {
  const plots = [
    {x: {label: "kg", zero: true}, marks: [Plot.barX([1], {x: 3})]},
    {y: {label: "kg", domain: [0, 9]}, x: {label: null, type: "band", domain: ["a"]}, marks: [Plot.barY([1], {y: 3})]}
  ] as const;
  for (const plot of plots) expect(figureFaults({...spread, plot: () => plot as never})).toEqual([]);
});
