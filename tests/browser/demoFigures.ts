import * as Plot from "@observablehq/plot";
import type {Figure} from "../../lib/figures/figure.ts";

/** Three figures of an invented workshop, of the forms the reports use, to hold page and drawing to what is asked of them. */

const states = [
  {label: "Finished", color: "var(--c1)", end: 63, from: 26, pace: 9},
  {label: "In stock", color: "var(--c0)", end: 0, from: 0, pace: 0},
  {label: "Lost in growth", color: "var(--c3)", end: 14, from: 6, pace: 10},
  {label: "Lost in drying", color: "var(--c4)", end: 16, from: 9, pace: 8},
  {label: "Lost in turning", color: "var(--c5)", end: 7, from: 12, pace: 11}
];

const weeks = Array.from({length: 31}, (_, i) => 2 * i);

function share(week: number, {end, from, pace}: {end: number; from: number; pace: number}): number {
  return week <= from ? 0 : end * (1 - Math.exp(-(week - from) / pace));
}

const stateRows = weeks.map((week) => {
  const shares = states.map((state) => share(week, state));
  shares[1] = 100 - shares.reduce((sum, value) => sum + value, 0);
  return {week, shares};
});

export const whereSquaresGo: Figure = {
  id: "where-squares-go",
  title: "61 of 100 ash squares become shafts within 60 weeks",
  subtitle:
    "Squares per 100 bought, by weeks since purchase; 1 284 ash squares of 19 lots, January 2025 to October 2026",
  alt: "Stacked areas over 60 weeks. Finished shafts, most at the end, begin in week 26 and reach 61 of 100 in week 60; drying takes 16 and growth 14.",
  method: "how-yield",
  note: "Squares still resting are counted as what they are, neither finished nor lost.",
  key: states.map(({label, color}) => ({label, color})),
  table: {
    id: "where-squares-go-data",
    caption: "Where 100 ash squares are, by weeks since purchase",
    columns: [
      {key: "week", heading: "Weeks", unit: "count"},
      ...states.map(({label}, i) => ({key: `s${i}`, heading: label, unit: "per 100" as const})),
      {key: "n", heading: "Squares seen that long", unit: "count"}
    ],
    rows: stateRows.map(({week, shares}) => ({
      week,
      ...Object.fromEntries(shares.map((value, i) => [`s${i}`, value])),
      n: 1284 - 17 * week
    }))
  },
  plot: ({width, narrow}) => ({
    width,
    height: narrow ? 280 : 340,
    x: {label: "Weeks since purchase", ticks: narrow ? [0, 20, 40, 60] : [0, 10, 20, 30, 40, 50, 60], insetLeft: 0},
    y: {label: "Squares per 100", domain: [0, 100], ticks: 5},
    color: {type: "identity"},
    marks: [
      Plot.areaY(
        stateRows.flatMap(({week, shares}) =>
          states.map(({color, label}, i) => ({week, share: shares[i], color, label}))
        ),
        {
          x: "week",
          y: "share",
          fill: "color",
          z: "label",
          order: states.map(({label}) => label),
          stroke: "var(--ground)",
          strokeWidth: 1
        }
      ),
      Plot.ruleY([0], {stroke: "currentColor"})
    ]
  })
};

const suppliers = [
  {supplier: "Alder Lane Yard", cv: 0.061, low: 0.052, high: 0.074, n: 96},
  {supplier: "Brook & Fell", cv: 0.078, low: 0.066, high: 0.094, n: 84},
  {supplier: "Coombe Mill", cv: 0.083, low: 0.06, high: 0.124, n: 23},
  {supplier: "Dunmoor Timber <i>Ltd</i>", cv: 0.104, low: 0.089, high: 0.126, n: 71},
  {supplier: "Elverstone Sawmill and Timber Merchants", cv: 0.117, low: 0.101, high: 0.14, n: 88}
];

export const spread: Figure = {
  id: "density-spread",
  title: "Alder Lane is tightest; Coombe Mill’s 23 squares cannot tell",
  subtitle: "Coefficient of variation of density at 12 % moisture, with 95 % interval; ash, all lots to 2026-10-31",
  alt: "Dots with intervals for five suppliers, tightest first: from 6.1 % at Alder Lane Yard to 11.7 % at Elverstone Sawmill.",
  note: "Lines are 95 % bootstrap intervals. A hollow dot rests on fewer than 30 squares.",
  table: {
    id: "density-spread-data",
    caption: "Spread of density by supplier",
    columns: [
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "cv", heading: "Coefficient of variation", unit: "fraction", low: "low", high: "high"},
      {key: "n", heading: "Squares", unit: "count"}
    ],
    rows: suppliers
  },
  plot: ({width}) => ({
    width,
    height: 240,
    x: {label: "Coefficient of variation (%)", percent: true, grid: true, ticks: 5},
    y: {label: null, domain: suppliers.map(({supplier}) => supplier), tickSize: 0},
    marks: [
      Plot.axisY({
        label: null,
        tickSize: 0,
        tickFormat: (name: string) => (width < 500 ? name.replace(/(.{14}\S*) /g, "$1\n") : name)
      }),
      Plot.ruleY(suppliers, {y: "supplier", x1: "low", x2: "high", stroke: "var(--c1)", strokeWidth: 2}),
      Plot.dot(suppliers, {
        y: "supplier",
        x: "cv",
        r: 5,
        fill: ({n}) => (n < 30 ? "var(--ground)" : "var(--c1)"),
        stroke: "var(--c1)",
        strokeWidth: 2,
        title: ({supplier, n}) => `${supplier}: ${n} squares`
      })
    ]
  })
};

const groups = [
  {supplier: "Alder Lane Yard", mean: 662, sd: 40, n: 96, color: "var(--c1)"},
  {supplier: "Elverstone", mean: 671, sd: 78, n: 88, color: "var(--c3)"}
];

/** Evenly spread quantiles of a bell curve stand for a sample: no dice in a test. */
const densities = groups.flatMap(({supplier, mean, sd, n, color}) =>
  Array.from({length: n}, (_, i) => {
    const p = (i + 0.5) / n;
    const density = mean + sd * 1.7 * (p ** 0.135 - (1 - p) ** 0.135) * 1.71;
    return {supplier, density, color, step: (i * 7) % 10};
  })
);

const curves = groups.flatMap(({supplier, mean, sd, color}) =>
  Array.from({length: 81}, (_, i) => {
    const density = 460 + 5 * i;
    return {supplier, density, color, height: Math.exp(-0.5 * ((density - mean) / sd) ** 2) / sd};
  })
);

export const densityDots: Figure = {
  id: "density-dots",
  title: "Elverstone’s ash spreads twice as far",
  subtitle:
    "Density at 12 % moisture, kg/m³, one dot a square; 184 ash squares of two suppliers, all lots to October 2026",
  alt: "Dots and smoothed curves for two suppliers. Alder Lane Yard lies between 560 and 760 kg/m³, Elverstone between 470 and 870.",
  table: {
    id: "density-dots-data",
    caption: "Density at 12 % moisture by supplier",
    columns: [
      {key: "supplier", heading: "Supplier", unit: "text"},
      {key: "mean", heading: "Mean", unit: "kg/m³"},
      {key: "sd", heading: "Standard deviation", unit: "kg/m³"},
      {key: "n", heading: "Squares", unit: "count"}
    ],
    rows: groups.map(({supplier, mean, sd, n}) => ({supplier, mean, sd, n}))
  },
  plot: ({width, narrow}) => ({
    width,
    height: 380,
    x: {label: "Density at 12 % moisture (kg/m³)", domain: [450, 880], ticks: narrow ? 4 : 8},
    y: {axis: null, domain: [-0.0115, 0.0255]},
    fy: {domain: groups.map(({supplier}) => supplier), label: null, axis: null, padding: 0.1},
    marks: [
      Plot.text(groups, {
        fy: "supplier",
        frameAnchor: "top-left",
        text: ({supplier, n}) => `${supplier},${narrow ? "\n" : " "}${n} squares`,
        fontWeight: 600
      }),
      Plot.areaY(curves, {fy: "supplier", x: "density", y1: 0, y2: "height", fill: "color", fillOpacity: 0.18}),
      Plot.lineY(curves, {fy: "supplier", x: "density", y: "height", stroke: "color", strokeWidth: 1.5}),
      Plot.dot(densities, {
        fy: "supplier",
        x: "density",
        y: ({step}) => -0.0015 - step * 0.001,
        r: 2,
        fill: "color",
        clip: true
      }),
      Plot.ruleY([0], {stroke: "currentColor"})
    ]
  })
};

export const demoFigures: readonly Figure[] = [whereSquaresGo, spread, densityDots];
