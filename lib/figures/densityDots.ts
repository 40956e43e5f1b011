import type {Piece} from "../book/histories.ts";
import {compareSpread, type SpreadComparison} from "../density/compareSpread.ts";
import type {SupplierDensity} from "../density/densityBySupplier.ts";
import {shown} from "../report/quantity.ts";
import {kernelDensity, silvermanBandwidth} from "../stats/kernelDensity.ts";
import {greatest, least} from "../stats/numbers.ts";
import type {Figure} from "./figure.ts";
import {fitText, fitTitle} from "./fitText.ts";

/** Most dots drawn for one supplier; with more squares every k-th by density is drawn, which keeps the shape. */
const mostDots = 400;
/** Points of a curve. */
const curvePoints = 41;
/** Where a curve is lower than this part of its top, it is not drawn. */
const flat = 0.01;

/**
 * Density at 12 % of every square of one species, supplier by supplier: dots, a density curve, quartiles, and the window. The title names
 * the tightest and the widest where `compareSpread` finds them so against every other supplier.
 */
export function densityDots(
  rows: readonly SupplierDensity[],
  pieces: readonly Piece[],
  {species, window, period}: {species: string; window: {low: number; high: number}; period: string}
): Figure {
  const own = rows.filter((row) => row.species === species);
  const suppliers = own.map(({supplier}) => supplier);
  const bySupplier = suppliers.map((supplier) => {
    const values = pieces
      .filter((piece) => piece.species === species && piece.supplier === supplier)
      .map(({densityAt12KgM3}) => densityAt12KgM3)
      .sort((a, b) => a - b);
    return {supplier, values};
  });
  const lineOf = ({supplier}: SupplierDensity) => -suppliers.indexOf(supplier);
  const all = bySupplier.flatMap(({values}) => values);
  const [low, high] = [least(all, window.low) - 10, greatest(all, window.high) + 10];
  const dots = bySupplier.flatMap(({values}, line) => {
    const every = Math.ceil(values.length / mostDots);
    return values
      .filter((_, i) => i % every === 0)
      .map((density, i) => ({density, height: -line - 0.06 - 0.34 * scatter(i)}));
  });
  const curves = bySupplier.flatMap(({values}, line) => {
    const bandwidth = values.length > 4 ? silvermanBandwidth(values) : undefined;
    if (!bandwidth) return [];
    const at = Array.from({length: curvePoints}, (_, i) => low + ((high - low) * i) / (curvePoints - 1));
    const heights = kernelDensity(values, {bandwidth, at})!;
    const top = Math.max(...heights);
    // From the last flat point before it rises to the first after it falls.
    const isHigh = (height: number) => height > flat * top;
    const [first, end] = [Math.max(0, heights.findIndex(isHigh) - 1), heights.findLastIndex(isHigh) + 2];
    const curve = at.slice(first, end).map((density, i) => ({density, height: (0.46 * heights[first + i]!) / top}));
    return [{...curve[0]!, height: 0}, ...curve, {...curve.at(-1)!, height: 0}].map(({density, height}) => ({
      line,
      density,
      height: height - line
    }));
  });
  return {
    id: `density-${slug(species)}`,
    title: titleOf(own, species, compareSpread({pieces: [...pieces]})),
    subtitle: `Density of every ${species} square, kg/m³ at 12 % moisture, by supplier, tightest first; ${period}`,
    alt:
      all.length === 0
        ? "No data: no square of this species has been measured."
        : `Dots for ${shown(all.length, "count")} squares of ${suppliers.length === 1 ? "one supplier" : `${suppliers.length} suppliers, tightest first`}, between ${shown(least(all), "count")} and ${shown(greatest(all), "kg/m³")}; window ${shown(window.low, "count")} to ${shown(window.high, "kg/m³")}. ${extremesOf(own)}`,
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
        {
          key: "variationFraction",
          heading: "Coefficient of variation",
          unit: "fraction",
          low: "variationLow",
          high: "variationHigh"
        },
        {key: "lowestKgM3", heading: "Lowest", unit: "kg/m³"},
        {key: "quarterKgM3", heading: "Lower quartile", unit: "kg/m³"},
        {key: "medianKgM3", heading: "Median", unit: "kg/m³"},
        {key: "threeQuarterKgM3", heading: "Upper quartile", unit: "kg/m³"},
        {key: "highestKgM3", heading: "Highest", unit: "kg/m³"}
      ],
      rows: own.map((row) => ({...row}))
    },
    plot: ({width, narrow}, Plot) => ({
      height: 60 + suppliers.length * (narrow ? 66 : 78),
      x: {label: "density, kg/m³ at 12 % →", domain: [low, high], grid: true, ticks: narrow ? 4 : 8},
      // One line a supplier, one unit apart: so window and grid are drawn once, not once for each.
      y: {axis: null, domain: [0.5 - Math.max(1, suppliers.length), 0.5]},
      marks: [
        Plot.rect([window], {
          x1: "low",
          x2: "high",
          y1: 0.5,
          y2: 0.5 - Math.max(1, suppliers.length),
          fill: "var(--c2)",
          fillOpacity: 0.13
        }),
        Plot.line(curves, {
          z: "line",
          x: "density",
          y: "height",
          stroke: "none",
          fill: "var(--c0)",
          fillOpacity: 0.3
        }),
        Plot.dot(dots, {x: "density", y: "height", r: narrow ? 1.1 : 1.6, fill: "var(--c1)", fillOpacity: 0.6}),
        Plot.ruleY(own, {
          y: lineOf,
          x1: "quarterKgM3",
          x2: "threeQuarterKgM3",
          stroke: "var(--ink)",
          strokeWidth: 4
        }),
        Plot.ruleX(own, {
          x: "medianKgM3",
          y1: (row: SupplierDensity) => lineOf(row) - 0.12,
          y2: (row: SupplierDensity) => lineOf(row) + 0.12,
          stroke: "var(--c4)",
          strokeWidth: 3
        }),
        ...(narrow
          ? [
              Plot.text(own, {
                y: (row: SupplierDensity) => lineOf(row) + 0.5,
                text: ({supplier, squares}) => `${fitText(supplier, width / 2, 12)}, ${shown(squares, "count")}`,
                frameAnchor: "left",
                textAnchor: "start",
                lineAnchor: "top",
                dy: 2,
                fontWeight: 600,
                fill: "var(--ink)"
              })
            ]
          : [
              Plot.text(own, {
                y: lineOf,
                text: ({supplier}) => fitText(supplier, width / 4, 12),
                frameAnchor: "left",
                textAnchor: "end",
                dx: -9,
                fill: "var(--ink)"
              }),
              Plot.text(own, {
                y: lineOf,
                text: ({squares, lots}) => `${counted(squares, "square")}\n${counted(lots, "lot")}`,
                frameAnchor: "right",
                textAnchor: "start",
                lineHeight: 1.25,
                dx: 8,
                fill: "var(--muted)"
              })
            ])
      ]
    })
  };
}

/** What can be said of the spreads beyond chance: who is tightest or widest against every other supplier, or that nobody is. */
function titleOf(own: readonly SupplierDensity[], species: string, spreads: readonly SpreadComparison[]): string {
  if (own.length === 0) return `No ${species} has been measured yet`;
  if (own.length === 1) return fitTitle(`${capital(species)} of ${own[0]!.supplier} only`, "One supplier only");
  const pairs =
    spreads.find((row) => row.species === species)?.pairs.filter(({ratioLow}) => ratioLow !== undefined) ?? [];
  const first = (end: "tighter" | "wider") =>
    pairs
      .map((pair) => pair[end])
      .find((name) =>
        pairs.every(
          (pair) => (pair.tighter !== name && pair.wider !== name) || (pair[end] === name && pair.verdict === "tighter")
        )
      );
  const [tightest, widest] = [first("tighter"), first("wider")];
  if (tightest !== undefined && widest !== undefined)
    return fitTitle(
      `${tightest} has the tightest ${species}, ${widest} the widest`,
      "The tightest and the widest stand apart"
    );
  if (tightest !== undefined) return fitTitle(`${tightest} has the tightest ${species}`, "The tightest stands apart");
  if (widest !== undefined) return fitTitle(`${widest} has the widest ${species}`, "The widest stands apart");
  return fitTitle(
    `The data cannot tell whose ${species} is tightest`,
    "The data cannot tell whose density is tightest"
  );
}

/** Where the middle halves are closest together and furthest apart, where the middle is lightest and heaviest. */
function extremesOf(own: readonly SupplierDensity[]): string {
  const half = ({supplier, quarterKgM3, threeQuarterKgM3}: SupplierDensity) =>
    `${supplier} (${shown(quarterKgM3, "count")} to ${shown(threeQuarterKgM3, "kg/m³")})`;
  const middle = ({supplier, medianKgM3}: SupplierDensity) => `${supplier} (${shown(medianKgM3, "kg/m³")})`;
  const ends = (value: (row: SupplierDensity) => number) => {
    const sorted = own.toSorted((a, b) => value(a) - value(b));
    return [sorted[0]!, sorted.at(-1)!] as const;
  };
  const [closest, furthest] = ends(({quarterKgM3, threeQuarterKgM3}) => threeQuarterKgM3 - quarterKgM3);
  const [lightest, heaviest] = ends(({medianKgM3}) => medianKgM3);
  return own.length === 1
    ? `Middle half: ${half(closest)}, middle square: ${middle(closest)}.`
    : `Middle half of the squares: narrowest at ${half(closest)}, widest at ${half(furthest)}. Middle square: lightest at ${middle(lightest)}, heaviest at ${middle(heaviest)}.`;
}

function counted(count: number, what: string): string {
  return `${shown(count, "count")} ${what}${count === 1 ? "" : "s"}`;
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
