// %% [markdown]
// # Can we read the density off the growth rings?
//
// Rings are counted at the yard with a thumbnail and a rule; for its density a square has to be weighed, measured and
// metered. If rings told the density, we could leave the scale at home.
//
// The books say that they may, in one wood and not in the other. Ash is _ring-porous_: each spring it lays down a band of
// wide vessels, about as wide in a good year as in a bad one, so a wide ring (few rings in 25 mm) holds more of the dense
// summer wood. Maple is _diffuse-porous_, with vessels all over the ring, and has no such rule. (S. J. Record, _The
// Mechanical Properties of Wood_, 1914, under “Rate of growth”.)
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
const squares = pieces.map(({species, lot, intake, densityAt12KgM3}) => {
  return {species, lot, rings: intake.ringsPer25Mm, densityKgM3: densityAt12KgM3};
});

show(
  await groupBy(await frame(squares), ["species"], {
    squares: ["densityKgM3", "count"],
    counted: ["rings", "count"],
    meanRings: ["rings", "mean"],
    meanDensityKgM3: ["densityKgM3", "mean"],
    sdDensityKgM3: ["densityKgM3", "sd"]
  }),
  {
    caption: "Squares, and those whose rings were counted",
    columns: [
      "species",
      "squares",
      {key: "counted", heading: "Counted"},
      {key: "meanRings", heading: "Mean rings in 25 mm", unit: "number"},
      {key: "meanDensityKgM3", heading: "Mean density"},
      {key: "sdDensityKgM3", heading: "Its standard deviation"}
    ],
    note: "Density at 12 % moisture, here and below. These squares had been picked before they were bought; what was left at the yard is not in the book."
  }
);

// %% [markdown]
// ## Rings against density
//
// A straight line through the squares of each species: by how much does the density change with one ring more? Squares of
// one lot often come from the same few trees, so they are not as many witnesses as they seem. Each lot is left out in turn,
// and how far the line then turns makes the interval.

// %% The line of each species
import {groupBy as grouped} from "../lib/book/spells.ts";
import {clusterMeanInterval, clusterShareInterval} from "../lib/stats/clusterInterval.ts";
import {clusterJackknife} from "../lib/stats/clusterJackknife.ts";
import {mean} from "../lib/stats/mean.ts";
import {sum} from "../lib/stats/numbers.ts";

interface Point {
  rings: number;
  densityKgM3: number;
}

/** Each point as its distance from the mean of all. */
function centred(points: readonly Point[]): Point[] {
  const [x, y] = [mean(points.map(({rings}) => rings))!, mean(points.map(({densityKgM3}) => densityKgM3))!];
  return points.map(({rings, densityKgM3}) => ({rings: rings - x, densityKgM3: densityKgM3 - y}));
}

/** Line by least squares: its slope, and how closely rings and density go together (correlation). */
function line(points: readonly Point[]) {
  const all = points.length > 2 ? centred(points) : [];
  const sxy = sum(all.map(({rings, densityKgM3}) => rings * densityKgM3));
  const [sxx, syy] = [sum(all.map(({rings}) => rings ** 2)), sum(all.map(({densityKgM3}) => densityKgM3 ** 2))];
  if (sxx === 0 || syy === 0) return undefined;
  return {slopeKgM3: sxy / sxx, correlation: sxy / Math.sqrt(sxx * syy), sdKgM3: Math.sqrt(syy / (all.length - 1))};
}

/** The line with intervals from how lots differ; that of the correlation on Fisher's scale, where it scatters evenly. */
function lineOfLots(lots: readonly (readonly Point[])[]) {
  const found = line(lots.flat());
  if (!found) return undefined;
  const [slope, fisher] = clusterJackknife(lots.length, (weights) => {
    const some = line(lots.filter((_, i) => weights[i] === 1).flat());
    return [some?.slopeKgM3, some && Math.atanh(some.correlation)];
  });
  const ends = slope && clusterMeanInterval(slope);
  const {low, high} = fisher ? clusterMeanInterval(fisher) : {};
  const explained = [low, high].flatMap((z) => (z === undefined ? [] : Math.tanh(z) ** 2));
  return {
    squares: lots.flat().length,
    lots: lots.length,
    ...found,
    slopeLow: ends?.low,
    slopeHigh: ends?.high,
    explainedFraction: found.correlation ** 2,
    explainedLow:
      low === undefined || high === undefined ? undefined : low < 0 && high > 0 ? 0 : Math.min(...explained),
    explainedHigh: explained.length === 0 ? undefined : Math.max(...explained),
    leftKgM3: found.sdKgM3 * Math.sqrt(1 - found.correlation ** 2)
  };
}

const counted = squares.flatMap(({rings, ...rest}) => (rings === undefined ? [] : [{...rest, rings}]));
const kinds = [...grouped(counted, ({species}) => species)].flatMap(([species, points]) => {
  const lots = [...grouped(points, ({lot}) => lot).values()];
  const [all, within] = [lineOfLots(lots), lineOfLots(lots.map(centred))];
  return all ? [{species, points, all, within}] : [];
});

if (kinds.length === 0) show("Too few rings were counted to draw a line.");
else
  show(
    kinds.flatMap(({species, all, within}) => [
      {species, what: "all", ...all},
      {species, what: "within a lot", ...(within ?? all)}
    ]),
    {
      caption: "One ring more in 25 mm, and how much of the spread of density the rings explain",
      columns: [
        "species",
        {key: "what", heading: "Squares compared"},
        "squares",
        "lots",
        {key: "slopeKgM3", heading: "One ring more", low: "slopeLow", high: "slopeHigh"},
        {key: "explainedFraction", heading: "Spread explained", low: "explainedLow", high: "explainedHigh"},
        {key: "leftKgM3", heading: "Spread left"}
      ],
      note: "95 % intervals from how lots differ; none with fewer than four lots. Spread explained: share of the variance; spread left: standard deviation about the line. “Within a lot” compares each square with the mean of its lot, as when one stack is picked over."
    }
  );

// %% In a picture
import * as Plot from "@observablehq/plot";

/** What the interval of a slope says. */
function trend({slopeLow, slopeHigh}: {slopeLow: number | undefined; slopeHigh: number | undefined}) {
  if (slopeLow === undefined || slopeHigh === undefined) return "too few lots to say";
  return slopeHigh < 0 ? "lighter" : slopeLow > 0 ? "heavier" : "no trend to see";
}

const firstDay = histories.lots.map(({boughtOn}) => boughtOn).sort()[0]!;
if (kinds.length > 0)
  show({
    title: `More rings: ${kinds.map(({species, all}) => `${species} ${trend(all)}`).join(", ")}`,
    subtitle: `Density at 12 %, kg/m³, by rings in 25 mm; each dot a square; ${firstDay} to ${asOf}`,
    ariaDescription: kinds
      .map(
        ({species, all}) =>
          `${species}: ${all.squares} squares about a line that changes by ${shown(all.slopeKgM3, "kg/m³")} a ring`
      )
      .join("; "),
    caption: "Rings are counted whole; the dots are moved aside a little so that they do not hide each other.",
    height: 60 + 230 * kinds.length,
    x: {label: "rings in 25 mm →", nice: true},
    y: {label: "↑ kg/m³ at 12 %", grid: true, ticks: 5},
    fy: {axis: null, domain: kinds.map(({species}) => species), padding: 0.08},
    marks: kinds.flatMap(({species, points}) => {
      const dots = points.map((point, i) => ({
        ...point,
        fy: species,
        aside: point.rings + 0.6 * ((i * 0.618034) % 1) - 0.3
      }));
      return [
        Plot.dot(dots, {fy: "fy", x: "aside", y: "densityKgM3", r: 1.6, fill: "var(--c1)", fillOpacity: 0.45}),
        Plot.linearRegressionY(dots, {
          fy: "fy",
          x: "rings",
          y: "densityKgM3",
          ci: 0,
          stroke: "var(--c4)",
          strokeWidth: 3
        }),
        Plot.text([species], {
          fy: [species],
          text: [species],
          frameAnchor: "top-right",
          fontWeight: 600,
          fill: "var(--ink)"
        })
      ];
    })
  });

// %% [markdown]
// ## What picking by rings would have brought
//
// Customers want wood inside the window, not the densest, so the rings matter as far as they tell which squares lie in it.
// Here the squares of each species are in three heaps by their rings.

// %% The share inside the window, by rings
import {quantile} from "../lib/stats/quantile.ts";

const heaps = kinds.flatMap(({species, points}) => {
  const {low, high} = settings.species[species]!.windowKgM3;
  const inside = (some: readonly Point[]) =>
    mean(some.map(({densityKgM3}) => (densityKgM3 >= low && densityKgM3 <= high ? 1 : 0)));
  const [few, many] = [1 / 3, 2 / 3].map(
    (share) =>
      quantile(
        points.map(({rings}) => rings),
        share
      )!
  ) as [number, number];
  const heapOf = (rings: number) =>
    rings <= few ? `up to ${few}` : rings <= many ? `over ${few}, to ${many}` : `over ${many}`;
  const byRings = [...points].sort((a, b) => a.rings - b.rings);
  return [...grouped(byRings, ({rings}) => heapOf(rings))].map(([heap, own]) => {
    const lots = [...grouped(own, ({lot}) => lot).values()];
    const [share] = clusterJackknife(lots.length, (weights) => [
      inside(lots.filter((_, i) => weights[i] === 1).flat())
    ]);
    const ends = share && clusterShareInterval(share, own.length);
    const densityKgM3 = mean(own.map((point) => point.densityKgM3));
    return {
      species,
      heap,
      squares: own.length,
      lots: lots.length,
      densityKgM3,
      insideFraction: inside(own),
      insideLow: ends?.low,
      insideHigh: ends?.high
    };
  });
});

if (heaps.length > 0)
  show(heaps, {
    caption: "Squares inside the density window, by rings",
    columns: [
      "species",
      {key: "heap", heading: "Rings in 25 mm"},
      "squares",
      "lots",
      {key: "densityKgM3", heading: "Mean density"},
      {key: "insideFraction", heading: "Inside the window"}
    ],
    note: "95 % intervals from how lots differ; none with fewer than four lots."
  });

// %% [markdown]
// ## Counting or weighing
//
// Either leaves a doubt about one square. After counting it is the spread about the line; after weighing it is what
// scale, calliper, tape and meter may be off together.

// %% The doubt about one square
import {spreadSources} from "../lib/density/spreadSources.ts";

const doubts = kinds.map(({species, all}) => {
  const own = spreadSources(histories).filter((row) => row.species === species);
  const variance = sum(own.map((row) => row.squares * row.measuringKgM3 ** 2)) / sum(own.map((row) => row.squares));
  return {
    species,
    squares: all.squares,
    nothingKgM3: all.sdKgM3,
    ringsKgM3: all.leftKgM3,
    weighingKgM3: Math.sqrt(variance)
  };
});
if (doubts.length > 0)
  show(doubts, {
    caption: "How far the density of one square may be off (one standard deviation)",
    columns: [
      "species",
      "squares",
      {key: "nothingKgM3", heading: "Species known only"},
      {key: "ringsKgM3", heading: "Rings counted"},
      {key: "weighingKgM3", heading: "Weighed and metered"}
    ],
    note: "Weighed and metered: from the accuracies in workshop.json, which nobody has checked here."
  });

// %% [markdown]
// ## Answer

// %%
const answers = kinds.map(({species, all}, i) => {
  const {slopeKgM3, slopeLow, slopeHigh, explainedFraction, explainedLow, explainedHigh} = all;
  if (slopeLow === undefined || slopeHigh === undefined || explainedLow === undefined || explainedHigh === undefined)
    return `${species} has too few lots to say (${all.lots})`;
  const slope = `${shown(slopeKgM3, "kg/m³")} with each ring (95 % interval ${shownInterval({low: slopeLow, high: slopeHigh}, "count")})`;
  const explained = `${shown(explainedFraction, "fraction")} of the spread (${shownInterval({low: explainedLow, high: explainedHigh}, "fraction")})`;
  const {ringsKgM3, weighingKgM3} = doubts[i]!;
  const left = `so that counting leaves ±${shown(ringsKgM3, "kg/m³")} where weighing leaves ±${shown(weighingKgM3, "kg/m³", {bare: true})}`;
  return `${species} changes by ${slope}, which explains ${explained}, ${left}`;
});
const told = kinds.some(({all}) => all.slopeLow !== undefined);
const replaces = doubts.filter(
  ({ringsKgM3, weighingKgM3}, i) => kinds[i]!.all.slopeLow !== undefined && ringsKgM3 <= weighingKgM3
);
const verdict =
  replaces.length > 0
    ? `Counting rings does as well as weighing for ${replaces.map(({species}) => species).join(" and ")}`
    : "Counting rings does not replace weighing";

show(
  told
    ? `${verdict}: ${answers.join("; ")}.`
    : "The book cannot tell yet: write rings_per_25mm beside each new square, of four lots of a species or more."
);
