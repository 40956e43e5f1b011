// %% [markdown]
// # Can we read the density off the growth rings?
//
// Rings are counted at the yard with a thumbnail and a rule; for the density a square has to be weighed, measured and
// metered. If rings told the density, we could leave the scale at home.
//
// The books say they may, in one wood and not in the other. Ash is ring-porous: each spring it lays down a band of wide
// vessels, of much the same width in a good year and a bad one, so a wide ring (few rings in 25 mm) holds more of the
// dense summer wood. Maple is diffuse-porous, its vessels all over the ring, and there is no such rule. (S. J. Record,
// _The Mechanical Properties of Wood_, 1914, on the rate of growth; the reason with the band of vessels there too, for chestnut.)
//
// ## What we have counted

// %% Squares with a count of their rings
import {shown, shownInterval} from "../lib/report/quantity.ts";
import {open} from "../scripts/notebook/book.ts";
import {frame} from "../scripts/notebook/frame.ts";
import {groupBy} from "../scripts/notebook/frameGroup.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, asOf} = open();
const {settings, pieces} = histories;
const squares = pieces.map(({species, supplier, lot, intake, densityAt12KgM3}) => {
  return {species, supplier, lot, rings: intake.ringsPer25Mm, densityAt12KgM3};
});

const counts = await groupBy(await frame(squares), ["species"], {
  squares: ["densityAt12KgM3", "count"],
  counted: ["rings", "count"],
  meanRings: ["rings", "mean"],
  meanDensityKgM3: ["densityAt12KgM3", "mean"],
  sdDensityKgM3: ["densityAt12KgM3", "sd"]
});
show(counts, {
  caption: "Squares, and those whose rings were counted",
  columns: [
    "species",
    "squares",
    {key: "counted", heading: "Rings counted"},
    {key: "meanRings", heading: "Mean rings in 25 mm", unit: "number"},
    {key: "meanDensityKgM3", heading: "Mean density at 12 %"},
    {key: "sdDensityKgM3", heading: "Its standard deviation"}
  ],
  note: "These squares were bought, so each had been picked already. What we left at the yard is not in the book."
});

// %% [markdown]
// ## Rings against density
//
// A straight line through the squares of each species: by how much does the density change with one ring more? Squares of
// one lot often come from the same few trees, so they do not count as so many witnesses. Each lot is left out in turn, and
// how far the line then turns makes the interval.

// %% The line of each species
import {groupBy as grouped} from "../lib/book/spells.ts";
import {clusterMeanInterval} from "../lib/stats/clusterInterval.ts";
import {clusterJackknife, fewestClusters} from "../lib/stats/clusterJackknife.ts";
import {mean} from "../lib/stats/mean.ts";
import {sum} from "../lib/stats/numbers.ts";

interface Point {
  rings: number;
  densityAt12KgM3: number;
}

/** Straight line by least squares: how the density changes with the rings, and how closely the two go together. */
function line(points: readonly Point[]) {
  const [x, y] = [mean(points.map(({rings}) => rings)), mean(points.map((point) => point.densityAt12KgM3))];
  if (x === undefined || y === undefined) return undefined;
  const sxx = sum(points.map(({rings}) => (rings - x) ** 2));
  const syy = sum(points.map(({densityAt12KgM3}) => (densityAt12KgM3 - y) ** 2));
  const sxy = sum(points.map(({rings, densityAt12KgM3}) => (rings - x) * (densityAt12KgM3 - y)));
  if (points.length < 3 || sxx === 0 || syy === 0) return undefined;
  return {x, y, slopeKgM3: sxy / sxx, correlation: sxy / Math.sqrt(sxx * syy), sdKgM3: Math.sqrt(syy / points.length)};
}

/** The line with its intervals from how lots differ; of the correlation on Fisher's scale, where it scatters evenly. */
function lineOfLots(lots: readonly (readonly Point[])[]) {
  const points = lots.flat();
  const found = line(points);
  if (!found) return undefined;
  const [slope, fisher] = clusterJackknife(lots.length, (weights) => {
    const some = line(lots.flatMap((lot, i) => (weights[i] === 0 ? [] : lot)));
    return [some?.slopeKgM3, some && Math.abs(some.correlation) < 1 ? Math.atanh(some.correlation) : undefined];
  });
  const ends = slope && clusterMeanInterval(slope);
  const z = fisher && clusterMeanInterval(fisher);
  const explained = z && [Math.tanh(z.low) ** 2, Math.tanh(z.high) ** 2];
  return {
    squares: points.length,
    lots: lots.length,
    ...found,
    ...(ends && {slopeLow: ends.low, slopeHigh: ends.high}),
    explainedFraction: found.correlation ** 2,
    ...(explained && {
      explainedLow: z.low < 0 && z.high > 0 ? 0 : Math.min(...explained),
      explainedHigh: Math.max(...explained)
    }),
    leftKgM3: found.sdKgM3 * Math.sqrt(1 - found.correlation ** 2)
  };
}

/** Each square against the mean of its own lot: what is left when suppliers and lots no longer differ. */
function againstLot(lot: readonly Point[]): Point[] {
  const [x, y] = [mean(lot.map(({rings}) => rings))!, mean(lot.map((point) => point.densityAt12KgM3))!];
  return lot.map(({rings, densityAt12KgM3}) => ({rings: rings - x, densityAt12KgM3: densityAt12KgM3 - y}));
}

const counted = squares.flatMap(({rings, ...rest}) => (rings === undefined ? [] : [{...rest, rings}]));
const kinds = [...grouped(counted, ({species}) => species)].flatMap(([species, points]) => {
  const lots = [...grouped(points, ({lot}) => lot).values()];
  const [all, within] = [lineOfLots(lots), lineOfLots(lots.map(againstLot))];
  const wood = settings.species[species]!.wood.endsWith("-ash") ? "ring-porous" : "diffuse-porous";
  return all ? [{species, wood, points, all, within}] : [];
});

const compared = kinds.flatMap(({species, wood, all, within}) => [
  {species, wood, what: "all squares", ...all},
  ...(within ? [{species, wood, what: "within a lot", ...within}] : [])
]);
if (compared.length === 0)
  show("Too few rings were counted for a line: three squares with different counts are the least.");
else
  show(compared, {
    caption: "One ring more in 25 mm, and how much of the spread of density rings explain",
    columns: [
      "species",
      "wood",
      {key: "what", heading: "Which squares"},
      "squares",
      "lots",
      {key: "slopeKgM3", heading: "One ring more", low: "slopeLow", high: "slopeHigh"},
      {key: "explainedFraction", heading: "Spread explained", low: "explainedLow", high: "explainedHigh"},
      {key: "sdKgM3", heading: "Standard deviation"},
      {key: "leftKgM3", heading: "Left when rings are known"}
    ],
    note: `95 % intervals from how lots differ; none with fewer than ${fewestClusters} lots. Spread explained is the share of the variance. “Within a lot” takes each square against the mean of its lot: it is what counts when one stack is picked over.`
  });

// %% In a picture
import * as Plot from "@observablehq/plot";

/** What an interval says of a slope. */
function trend({slopeLow, slopeHigh}: {slopeLow?: number; slopeHigh?: number}) {
  if (slopeLow === undefined || slopeHigh === undefined) return "too few lots to say";
  return slopeHigh < 0 ? "lighter" : slopeLow > 0 ? "heavier" : "no trend to see";
}

const firstDay = histories.lots.map(({boughtOn}) => boughtOn).sort()[0]!;
const dots = kinds.flatMap(({species, points}) =>
  // Rings are whole numbers: each dot is moved aside a little, without dice, so that they do not hide each other.
  points.map((point, i) => ({species, x: point.rings + 0.6 * ((i * 0.618034) % 1) - 0.3, y: point.densityAt12KgM3}))
);
const lines = kinds.flatMap(({species, points, all}) =>
  [Math.min(...points.map(({rings}) => rings)), Math.max(...points.map(({rings}) => rings))].map((x) => {
    return {species, x, y: all.y + all.slopeKgM3 * (x - all.x)};
  })
);
if (kinds.length > 0)
  show({
    title: `More rings: ${kinds.map(({species, all}) => `${species} ${trend(all)}`).join(", ")}`,
    subtitle: `Density at 12 %, kg/m³, against rings in 25 mm; each dot a square; ${firstDay} to ${asOf}`,
    ariaDescription: kinds
      .map(
        ({species, all}) =>
          `${species}: ${all.squares} squares about a line that changes by ${shown(all.slopeKgM3, "kg/m³")} a ring`
      )
      .join("; "),
    height: 60 + 230 * kinds.length,
    x: {label: "rings in 25 mm →", nice: true},
    y: {label: "↑ kg/m³ at 12 %", grid: true, ticks: 5},
    fy: {label: null, domain: kinds.map(({species}) => species), axis: null, padding: 0.08},
    marks: [
      Plot.dot(dots, {fy: "species", x: "x", y: "y", r: 1.6, fill: "var(--c1)", fillOpacity: 0.45}),
      Plot.line(lines, {fy: "species", x: "x", y: "y", stroke: "var(--c4)", strokeWidth: 3}),
      Plot.text(kinds, {
        fy: "species",
        text: ({species, wood}) => `${species}, ${wood}`,
        frameAnchor: "top-right",
        fontWeight: 600,
        fill: "var(--ink)"
      })
    ]
  });

// %% [markdown]
// ## What picking by rings would have brought
//
// The customer does not ask for the densest wood but for wood inside the window, so the rings matter only if they tell
// which squares lie in it. Each species in three heaps by its rings:

// %% The share inside the window, by rings
import {intervalDots} from "../lib/figures/intervalDots.ts";
import {clusterShareInterval} from "../lib/stats/clusterInterval.ts";
import {quantile} from "../lib/stats/quantile.ts";
import {wilson} from "../lib/stats/wilson.ts";

const heaps = kinds.flatMap(({species, points}) => {
  const window = settings.species[species]!.windowKgM3;
  const inside = (some: readonly Point[]) =>
    some.filter(({densityAt12KgM3: x}) => x >= window.low && x <= window.high).length;
  const [few, many] = [1 / 3, 2 / 3].map(
    (share) =>
      quantile(
        points.map(({rings}) => rings),
        share
      )!
  ) as [number, number];
  const bounds = [0, few, many, Number.POSITIVE_INFINITY];
  const names = [`up to ${few} rings`, `over ${few}, to ${many}`, `over ${many} rings`];
  return names.flatMap((name, i) => {
    const own = points.filter(({rings}) => rings > bounds[i]! && rings <= bounds[i + 1]!);
    if (own.length === 0) return [];
    const lots = [...grouped(own, ({lot}) => lot).values()];
    const [share] = clusterJackknife(lots.length, (weights) => {
      const some = lots.flatMap((lot, k) => (weights[k] === 0 ? [] : lot));
      return [some.length > 0 ? inside(some) / some.length : undefined];
    });
    const ends = share ? clusterShareInterval(share, own.length) : wilson(inside(own), own.length)!;
    const insideFraction = inside(own) / own.length;
    const meanDensityKgM3 = mean(own.map((point) => point.densityAt12KgM3));
    return [
      {
        species,
        name,
        squares: own.length,
        lots: lots.length,
        meanDensityKgM3,
        insideFraction,
        insideLow: ends.low,
        insideHigh: ends.high
      }
    ];
  });
});

const [best, worst] = [...heaps]
  .sort((a, b) => b.insideFraction - a.insideFraction)
  .filter((_, i, all) => i === 0 || i === all.length - 1);
if (best && worst)
  show(
    intervalDots({
      id: "window-by-rings",
      title: `In the window: ${shown(worst.insideFraction, "fraction")} to ${shown(best.insideFraction, "fraction")}, by rings`,
      subtitle: `Squares inside the density window, %, by rings in 25 mm; ${firstDay} to ${asOf}`,
      alt: heaps
        .map(({species, name, insideFraction}) => `${species}, ${name}: ${shown(insideFraction, "fraction")}`)
        .join("; "),
      note: "95 % intervals from how lots differ; Wilson’s with fewer than four lots.",
      unit: "fraction",
      axis: "inside the window, %",
      dots: heaps.map(({species, name, insideFraction, insideLow, insideHigh}) => {
        return {panel: species, label: name, value: insideFraction, low: insideLow, high: insideHigh};
      }),
      table: {
        id: "window-by-rings-data",
        caption: "Squares inside the density window, by rings",
        columns: [
          {key: "species", heading: "Species", unit: "text"},
          {key: "name", heading: "Rings in 25 mm", unit: "text"},
          {key: "squares", heading: "Squares", unit: "count"},
          {key: "lots", heading: "Lots", unit: "count"},
          {key: "meanDensityKgM3", heading: "Mean density", unit: "kg/m³"},
          {key: "insideFraction", heading: "Inside", unit: "fraction", low: "insideLow", high: "insideHigh"}
        ],
        rows: heaps
      }
    })
  );

// %% [markdown]
// ## Counting or weighing
//
// Either leaves a doubt about the density of one square. After counting it is what the line leaves of the spread; after
// weighing it is what scale, calliper, tape and meter add up to.

// %% The doubt about one square
import {spreadSources} from "../lib/density/spreadSources.ts";

const doubts = kinds.map(({species, all}) => {
  const own = spreadSources(histories).filter((row) => row.species === species);
  const weighingKgM3 = Math.sqrt(
    sum(own.map((row) => row.squares * row.measuringKgM3 ** 2)) / sum(own.map((row) => row.squares))
  );
  return {species, squares: all.squares, nothingKgM3: all.sdKgM3, ringsKgM3: all.leftKgM3, weighingKgM3};
});
if (doubts.length > 0)
  show(doubts, {
    caption: "How far the density of one square may be off (one standard deviation)",
    columns: [
      "species",
      "squares",
      {key: "nothingKgM3", heading: "Knowing nothing"},
      {key: "ringsKgM3", heading: "Rings counted"},
      {key: "weighingKgM3", heading: "Weighed and metered"}
    ]
  });

// %% [markdown]
// ## Answer

// %%
const answers = kinds.map(({species, all}, i) => {
  const {slopeKgM3, slopeLow, slopeHigh, explainedFraction, explainedLow, explainedHigh} = all;
  const {ringsKgM3, weighingKgM3} = doubts[i]!;
  if (slopeLow === undefined || slopeHigh === undefined || explainedLow === undefined || explainedHigh === undefined)
    return `${species}: ${all.squares} squares of ${all.lots} lots are too few to say`;
  const [slope, explained] = [
    `${shown(slopeKgM3, "kg/m³")} a ring (95 % interval ${shownInterval({low: slopeLow, high: slopeHigh}, "count")})`,
    `${shown(explainedFraction, "fraction")} of the spread (${shownInterval({low: explainedLow, high: explainedHigh}, "fraction")})`
  ];
  const says = trend(all) === "no trend to see" ? "the rings show no trend" : `the rings tell something`;
  const left = `counting leaves ±${shown(ringsKgM3, "kg/m³", {bare: true})} where weighing leaves ±${shown(weighingKgM3, "kg/m³")}`;
  return `${species}: ${says}, ${slope}, ${explained}; ${left}`;
});
const replaces = doubts.filter(({ringsKgM3, weighingKgM3}) => ringsKgM3 <= weighingKgM3).map(({species}) => species);
const verdict =
  replaces.length > 0
    ? `Counting does as well as weighing for ${replaces.join(" and ")}`
    : "Counting rings does not replace weighing";

show(
  answers.length === 0
    ? "The book cannot tell: too few rings were counted. Write rings_per_25mm beside each new square."
    : `${verdict}. ${answers.join(". ")}.`
);
