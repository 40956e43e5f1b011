import * as Plot from "@observablehq/plot";
import type {Piece} from "../book/histories.ts";
import type {SupplierDensity} from "../density/densityBySupplier.ts";
import {shown} from "../report/quantity.ts";
import {kernelDensity, silvermanBandwidth} from "../stats/kernelDensity.ts";
import type {Figure} from "./figure.ts";

/** Most dots drawn for one supplier; with more squares every k-th by density is drawn, which keeps the shape. */
const mostDots = 400;

/** Density at 12 % of every square of one species, supplier by supplier: dots, a density curve, quartiles, and the window. */
export function densityDots(
  rows: readonly SupplierDensity[],
  pieces: readonly Piece[],
  {species, window, period}: {species: string; window: {low: number; high: number}; period: string}
): Figure {
  const own = rows.filter((row) => row.species === species);
  const suppliers = own.map(({supplier}) => supplier);
  const [tightest, widest] = [own[0], own.at(-1)];
  const bySupplier = suppliers.map((supplier) => {
    const values = pieces
      .filter((piece) => piece.species === species && piece.supplier === supplier)
      .map(({densityAt12KgM3}) => densityAt12KgM3)
      .sort((a, b) => a - b);
    return {supplier, values};
  });
  const all = bySupplier.flatMap(({values}) => values);
  const [low, high] = [Math.min(...all, window.low) - 10, Math.max(...all, window.high) + 10];
  const dots = bySupplier.flatMap(({supplier, values}) => {
    const every = Math.ceil(values.length / mostDots);
    return values
      .filter((_, i) => i % every === 0)
      .map((density, i) => ({supplier, density, jitter: -0.06 - 0.34 * scatter(i)}));
  });
  const curves = bySupplier.flatMap(({supplier, values}) => {
    const bandwidth = values.length > 4 ? silvermanBandwidth(values) : undefined;
    if (!bandwidth) return [];
    const at = Array.from({length: 61}, (_, i) => low + ((high - low) * i) / 60);
    const heights = kernelDensity(values, {bandwidth, at})!;
    const top = Math.max(...heights);
    const curve = at.map((density, i) => ({supplier, density, height: (0.46 * heights[i]!) / top}));
    return [{supplier, density: low, height: 0}, ...curve, {supplier, density: high, height: 0}];
  });
  return {
    id: `density-${slug(species)}`,
    title:
      tightest && widest && tightest !== widest
        ? `${tightest.supplier} has the tightest ${species}, ${widest.supplier} the widest`
        : `${capital(species)} of one supplier only`,
    subtitle: `Density of every ${species} square, kg/m³ at 12 % moisture, by supplier, tightest first; ${period}`,
    alt:
      all.length === 0
        ? "No data: no square of this species has been measured."
        : `Dots for ${all.length} squares of ${suppliers.length} suppliers, tightest first. ${own
            .map(
              ({supplier, medianKgM3, quarterKgM3, threeQuarterKgM3}) =>
                `${supplier}: half of the squares between ${shown(quarterKgM3, "kg/m³")} and ${shown(threeQuarterKgM3, "kg/m³")}, middle ${shown(medianKgM3, "kg/m³")}`
            )
            .join(
              "; "
            )}. From ${shown(Math.min(...all), "count")} to ${shown(Math.max(...all), "kg/m³")} in all. Window ${shown(window.low, "count")} to ${shown(window.high, "kg/m³")}.`,
    note: `Shaded: the window of ${shown(window.low, "count")} to ${shown(window.high, "kg/m³")} from the settings. Bar: the middle half of the squares; tick: the middle square; curve: the shape of the spread, each to its own height.`,
    method: "how-density",
    notebook: "02",
    table: {
      id: `density-${slug(species)}-data`,
      caption: `Density of ${species} at 12 % moisture, by supplier, with 95 % intervals`,
      columns: [
        {key: "supplier", heading: "Supplier", unit: "text"},
        {key: "squares", heading: "Squares", unit: "count"},
        {key: "lots", heading: "Lots", unit: "count"},
        {key: "meanKgM3", heading: "Mean", unit: "kg/m³", low: "meanLow", high: "meanHigh"},
        {key: "sdKgM3", heading: "Standard deviation", unit: "kg/m³", low: "sdLow", high: "sdHigh"},
        {key: "variationFraction", heading: "Coefficient of variation", unit: "fraction"},
        {key: "lowestKgM3", heading: "Lowest", unit: "kg/m³"},
        {key: "quarterKgM3", heading: "Lower quartile", unit: "kg/m³"},
        {key: "medianKgM3", heading: "Median", unit: "kg/m³"},
        {key: "threeQuarterKgM3", heading: "Upper quartile", unit: "kg/m³"},
        {key: "highestKgM3", heading: "Highest", unit: "kg/m³"}
      ],
      rows: own.map((row) => ({...row}))
    },
    plot: ({narrow}) => ({
      height: 60 + suppliers.length * (narrow ? 66 : 78),
      x: {label: "density, kg/m³ at 12 % →", domain: [low, high], grid: true, ticks: narrow ? 4 : 8},
      y: {axis: null, domain: [-0.5, 0.5]},
      fy: {label: null, domain: suppliers, ...(narrow && {axis: null}), padding: 0.04},
      marks: [
        Plot.rect(
          suppliers.map((supplier) => ({supplier})),
          {fy: "supplier", x1: window.low, x2: window.high, y1: -0.5, y2: 0.5, fill: "var(--c2)", fillOpacity: 0.13}
        ),
        Plot.line(curves, {
          fy: "supplier",
          z: "supplier",
          x: "density",
          y: "height",
          stroke: "none",
          fill: "var(--c0)",
          fillOpacity: 0.3
        }),
        Plot.dot(dots, {
          fy: "supplier",
          x: "density",
          y: "jitter",
          r: narrow ? 1.1 : 1.6,
          fill: "var(--c1)",
          fillOpacity: 0.6
        }),
        Plot.ruleY(own, {
          fy: "supplier",
          y: 0,
          x1: "quarterKgM3",
          x2: "threeQuarterKgM3",
          stroke: "var(--ink)",
          strokeWidth: 4
        }),
        Plot.tickX(own, {
          fy: "supplier",
          x: "medianKgM3",
          stroke: "var(--c4)",
          strokeWidth: 3,
          insetTop: narrow ? 24 : 28,
          insetBottom: narrow ? 24 : 28
        }),
        ...(narrow
          ? [
              Plot.text(own, {
                fy: "supplier",
                text: ({supplier, squares}) => `${supplier}, ${squares}`,
                frameAnchor: "top-left",
                dy: 2,
                fontWeight: 600,
                fill: "var(--ink)"
              })
            ]
          : [
              Plot.text(own, {
                fy: "supplier",
                text: ({squares}) => `${squares} squares`,
                frameAnchor: "right",
                textAnchor: "start",
                dx: 8,
                fill: "var(--muted)"
              })
            ])
      ]
    })
  };
}

/** An even scatter in 0…1 that needs no dice: the golden-ratio sequence. */
function scatter(i: number): number {
  return (i * 0.6180339887498949) % 1;
}

/** Letters, digits and hyphens of a name, for an anchor; names that differ stay different. */
export function slug(name: string): string {
  const plain = name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "");
  if (plain === name) return plain;
  const code = [...name].reduce((sum, letter) => (sum * 31 + letter.codePointAt(0)!) % 0x7fffffff, 7);
  return `${plain === "" ? "x" : plain}-${code.toString(36)}`;
}

/** The text with its first letter large. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
