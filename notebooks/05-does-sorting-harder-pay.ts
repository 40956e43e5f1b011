// %% [markdown]
// # Does sorting harder pay?
//
// At the yard one can take the first thirty squares of the stack, or turn over two hundred to find them. It takes hours,
// and the yard may mind. If squares chosen harder surely became usable shafts more often, by more than the hours cost, we
// would look at more.
//
// ## How hard we chose

// %% Settings and lots
import {byLot} from "../lib/book/spells.ts";
import {shown, shownInterval} from "../lib/report/quantity.ts";
import {deviation} from "../lib/stats/deviation.ts";
import {quantile} from "../lib/stats/quantile.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

/** What an hour of sorting costs, in the book's currency, and how many squares are looked at in it. Put your own here. */
const hourCost = 25;
const lookedAtPerHour = 60;

const {histories, book, asOf} = open();
const {currency, turningCostPerSquare} = book.settings.money;
const money = (value: number) => shown(value, "money", {currency});
const piecesOf = new Map(byLot(histories.pieces).map((own) => [own[0]!.lot, own]));

/** A lot is taken when it was written down how many were looked at, and nine tenths of its squares are decided. */
const lots = histories.lots.flatMap(
  ({lot, supplier, species, squaresLookedAt, squaresBought, priceEach, carriage = 0}) => {
    const own = piecesOf.get(lot) ?? [];
    const decided = own.filter(({fate}) => fate !== "in stock");
    if (squaresLookedAt === undefined || squaresLookedAt < squaresBought) return [];
    if (own.length < 2 || decided.length < 0.9 * own.length) return [];
    const {low, high} = book.settings.species[species]!.windowKgM3;
    const inside = own.filter(({densityAt12KgM3: x}) => x >= low && x <= high);
    const share = (some: typeof own, of: typeof own) => some.filter(({fate}) => fate === "finished").length / of.length;
    return {
      lot,
      supplier,
      species,
      squares: own.length,
      lookedAt: squaresLookedAt,
      looks: squaresLookedAt / squaresBought,
      finishedFraction: share(decided, decided),
      insideFraction: inside.length / own.length,
      usableFraction: share(
        inside.filter((piece) => decided.includes(piece)),
        decided
      ),
      spreadKgM3: deviation(own.map(({densityAt12KgM3}) => densityAt12KgM3))!,
      squareCost: priceEach + carriage / squaresBought
    };
  }
);
const looks = lots.map((lot) => lot.looks);
const [least = 1, middle = 1, most = 1] = [0, 0.5, 1].map((share) => quantile(looks, share));

show(
  `${lots.length} of ${histories.lots.length} lots can be used: it was written down how many squares were looked at, and nine tenths of them are decided. For each square taken ${shown(least, "number")} to ${shown(most, "number")} were looked at, ${shown(middle, "number")} in the middle lot.`
);

// %% [markdown]
// ## Lot by lot
//
// Each dot is a lot. It is set against the other lots of its own supplier and species, so that a good yard where we
// happen to look hard does not pass for the reward of looking: right means more looks than usual there, up means more usable
// shafts than usual there. Usable means finished, and inside the density window.

// %% Against the usual of the same supplier and species
import * as Plot from "@observablehq/plot";
import {groupBy} from "../lib/book/spells.ts";
import {clusterMeanInterval} from "../lib/stats/clusterInterval.ts";
import {clusterJackknife} from "../lib/stats/clusterJackknife.ts";
import {sum} from "../lib/stats/numbers.ts";

const measures = [
  {key: "usableFraction", name: "usable shafts", unit: "per 100", factor: 100},
  {key: "finishedFraction", name: "finished shafts", unit: "per 100", factor: 100},
  {key: "insideFraction", name: "squares inside the window", unit: "per 100", factor: 100},
  {key: "spreadKgM3", name: "spread of density within the lot", unit: "kg/m³", factor: 1}
] as const;
type Key = (typeof measures)[number]["key"];

/** Each lot less the mean of its supplier and species, of looks (in doublings) and of a measure; lots alone there tell nothing. */
const apart = (key: Key, kept: typeof lots) =>
  [...groupBy(kept, ({supplier, species}) => JSON.stringify([supplier, species])).values()].flatMap((own) => {
    if (own.length < 2) return [];
    const center = (value: (lot: (typeof lots)[number]) => number) => sum(own.map(value)) / own.length;
    const x = ({looks}: (typeof lots)[number]) => Math.log2(looks);
    const [meanX, meanY] = [center(x), center((lot) => lot[key])];
    return own.map((lot) => ({...lot, x: x(lot) - meanX, y: lot[key] - meanY}));
  });
/** The slope of a straight line through them: what one doubling of looks changes. */
const slopeOf = (key: Key, kept: typeof lots) => {
  const points = apart(key, kept);
  const below = sum(points.map(({x}) => x ** 2));
  return below > 1e-9 ? sum(points.map(({x, y}) => x * y)) / below : undefined;
};
const points = apart("usableFraction", lots).map((point) => ({...point, per100: 100 * point.y}));
const compared = points.length;
/** The means of supplier and species come from the same lots, so they are taken off what the lots can tell. */
const free = compared - new Set(points.map(({supplier, species}) => JSON.stringify([supplier, species]))).size;
const signed = (value: number) => (value > 0 ? "+" : "") + shown(100 * value, "per 100", {bare: true});
const slopes = measures.map(({key, name, unit, factor}) => {
  const slope = slopeOf(key, lots);
  const [estimate] = clusterJackknife(lots.length, (weights) => [
    slopeOf(
      key,
      lots.filter((_, i) => weights[i] === 1)
    )
  ]);
  return {
    key,
    name,
    unit,
    slope,
    interval: estimate && free > 1 ? clusterMeanInterval({...estimate, clusters: free}) : undefined,
    factor
  };
});
const usable = slopes[0]!;
const xs = points.map(({x}) => x);
const [from, to] = [Math.min(...xs), Math.max(...xs)];

if (usable.slope === undefined)
  show("There are not two lots of one supplier and species with unlike looks, so there is nothing to compare.");
else
  show({
    title: `Twice the looks went with ${signed(usable.slope)} shafts per 100`,
    subtitle: `Usable shafts per 100 squares against looks per square taken, both against the mean of supplier and species; ${compared} lots to ${asOf}`,
    caption: "Line: the straight line through the dots. 1 to the right: twice as many looked at as usual there.",
    ariaDescription: `${points.length} lots as dots, from ${shown(from, "number")} to ${shown(to, "number")} doublings and from ${shown(Math.min(...points.map(({per100}) => per100)), "per 100")} to ${shown(Math.max(...points.map(({per100}) => per100)), "per 100")}. The line changes by ${shown(100 * usable.slope, "per 100")} a doubling.`,
    height: 280,
    x: {label: "doublings of looks against the usual →", ticks: 5, grid: true},
    y: {label: "↑ usable shafts per 100, against the usual", ticks: 6, grid: true},
    marks: [
      Plot.ruleY([0], {stroke: "var(--rule)"}),
      Plot.dot(points, {x: "x", y: "per100", r: 3.5, fill: "var(--c1)", fillOpacity: 0.7}),
      Plot.line(
        [from, to].map((x) => ({x, per100: 100 * usable.slope! * x})),
        {x: "x", y: "per100", stroke: "var(--c4)", strokeWidth: 2}
      )
    ]
  });

// %% What a doubling changes
show(
  slopes.map(({name, unit, slope, interval, factor}) => ({
    name,
    unit,
    lots: compared,
    change: slope && factor * slope,
    changeLow: interval && factor * interval.low,
    changeHigh: interval && factor * interval.high
  })),
  {
    caption: "What twice as many looks go with, lot against lot of the same supplier and species",
    columns: [
      {key: "name", heading: "What"},
      {key: "unit", heading: "In"},
      "lots",
      {key: "change", heading: "A doubling changes it by", unit: "number"}
    ],
    note: "95 % intervals from leaving out each lot in turn. The lots are the units: a lot of forty squares is one choice, not forty."
  }
);

// %% Ranks instead of a line
import {wilson} from "../lib/stats/wilson.ts";

const pairs = [...groupBy(lots, ({supplier, species}) => JSON.stringify([supplier, species])).values()].flatMap(
  (own) => {
    const byLooks = own.toSorted((a, b) => a.looks - b.looks);
    const half = Math.floor(own.length / 2);
    return byLooks.slice(0, half).map((easy, i) => ({easy, hard: byLooks[own.length - half + i]!}));
  }
);
const unlike = pairs.filter(({easy, hard}) => easy.usableFraction !== hard.usableFraction);
const better = unlike.filter(({easy, hard}) => hard.usableFraction > easy.usableFraction).length;

show(
  unlike.length > 0
    ? `Without a line: pair each easily chosen lot with a harder chosen one of the same supplier and species. In ${better} of ${unlike.length} pairs the harder chosen lot gave more usable shafts (${shown(better / unlike.length, "fraction")}, 95 % interval ${shownInterval(wilson(better, unlike.length), "fraction")}; half would be chance).`
    : "There is no pair of lots of one supplier and species to compare."
);

// %% [markdown]
// ## What an hour must bring
//
// A square costs its price, its carriage and the work on it; a harder choice adds the looks. It pays if the cost of a usable
// shaft falls, that is if the usable share grows at least in the measure in which the cost of a square does.
//
// We choose how hard to look, and may look harder where the stack is poor. Then even a useful choice seems to do nothing.
// To settle it: toss a coin before each visit, and look at twice as many squares when it falls heads.

// %% The gain at which sorting pays for itself
const bought = sum(lots.map(({squares}) => squares));
const weighted = (key: "squareCost" | "usableFraction") =>
  bought > 0 ? sum(lots.map((lot) => lot.squares * lot[key])) / bought : 0;
const share = weighted("usableFraction");
const squareCost = weighted("squareCost") + turningCostPerSquare + (middle * hourCost) / lookedAtPerHour;
/** Cost of looking at as many squares again as in the middle lot, for each square taken. */
const doublingCost = (middle * hourCost) / lookedAtPerHour;
const needed = (share * doublingCost) / squareCost;

show(
  bought > 0
    ? `A square comes to ${money(squareCost)} with the work and the sorting, and ${shown(100 * share, "per 100")} become usable. Twice the looks cost ${money(doublingCost)} more a square at ${money(hourCost)} an hour and ${lookedAtPerHour} squares looked at in it; to pay, they must bring ${shown(100 * needed, "per 100")} more, or ${shown(share * (hourCost / squareCost), "number")} usable shafts for each hour.`
    : "No lot can be used yet, so the sum cannot be done."
);

// %% [markdown]
// ## Answer

// %%
const {slope, interval} = usable;

show(
  slope === undefined || !interval
    ? "The data cannot tell whether sorting harder pays: too few lots have their looks written down and are decided."
    : `${interval.low > needed ? "Sorting harder pays" : interval.high < needed ? "Sorting harder does not pay" : "The data cannot tell whether sorting harder pays"}: twice the looks went with ${signed(slope)} usable shafts per 100 squares (95 % interval ${signed(interval.low)} to ${signed(interval.high)}, ${compared} lots), and at ${money(hourCost)} an hour ${signed(needed)} would be needed.`
);
