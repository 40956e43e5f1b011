// %% [markdown]
// # Is a better moisture meter worth its money?
//
// Squares are compared by their density at 12 % moisture. The scale and the calliper say how heavy a square is today; the
// meter says how much of that is water. If its errors spoiled our choice of squares, we would buy a better one, or dry an
// offcut in the oven and weigh it.
//
// ## One square

// %% The same square, read dry, right and wet
import {dayNumber} from "../lib/book/day.ts";
import type {Piece} from "../lib/book/histories.ts";
import {shown, shownInterval} from "../lib/report/quantity.ts";
import {barVolume, density} from "../lib/wood/density.ts";
import {densityAt12} from "../lib/wood/densityAt12.ts";
import {woodConstants} from "../lib/wood/species.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, asOf} = open();
const {settings, pieces} = histories;
const {meterPct} = settings.accuracy;

/** Density at 12 % of a square if its moisture were so much higher than was read, kg/m³. */
function densityIf({intake, species}: Piece, errorPct: number): number {
  const densityKgM3 = density({massG: intake.massG, volumeMm3: barVolume(intake)});
  const moisturePct = Math.min(200, Math.max(0, intake.moisturePct + errorPct));
  return densityAt12({densityKgM3, moisturePct, species: woodConstants(settings.species[species]!.wood)});
}

const [one] = pieces;
if (!one) show("The book has no squares yet: all below is empty.");
else
  show(
    [-meterPct, 0, meterPct].map((errorPct) => {
      return {
        readPct: one.intake.moisturePct + errorPct,
        massG: one.intake.massG,
        densityKgM3: densityIf(one, errorPct)
      };
    }),
    {
      caption: `Square ${one.square}, ${one.species}: what the reading makes of it`,
      columns: [{key: "readPct", heading: "Moisture read"}, "massG", {key: "densityKgM3", heading: "Density at 12 %"}],
      note: `The meter's standard uncertainty in workshop.json is ${shown(meterPct, "percent")} moisture: two readings in three are no further off, if that is right.`
    }
  );

// %% [markdown]
// ## All instruments, all squares

// %% What each instrument adds
import {groupBy} from "../lib/book/spells.ts";
import {mean} from "../lib/stats/mean.ts";
import {densityUncertainty} from "../lib/wood/densityUncertainty.ts";

/** How far each instrument puts the density of a square off, and all together, if the moisture is known to `moistureErrorPct`. */
function errorsOf({intake, species}: Piece, moistureErrorPct = meterPct) {
  const wood = woodConstants(settings.species[species]!.wood);
  const {at12KgM3, contributions} = densityUncertainty({
    ...intake,
    ...settings.accuracy,
    meterPct: moistureErrorPct,
    species: wood
  });
  return [...contributions, {instrument: "all together", at12KgM3}];
}

const errors = [...groupBy(pieces, ({species}) => species)].map(([species, own]) => {
  const parts = groupBy(
    own.flatMap((piece) => errorsOf(piece)),
    ({instrument}) => instrument
  );
  const sizes = [...parts].map(
    ([name, all]) => [name, Math.sqrt(mean(all.map(({at12KgM3}) => at12KgM3 ** 2))!)] as const
  );
  return {species, squares: own.length, ...(Object.fromEntries(sizes) as Record<string, number>)};
});
if (one)
  show(errors, {
    caption: "How far each instrument puts the density of one square off, kg/m³ (one standard deviation)",
    columns: [
      "species",
      "squares",
      ...["scale", "calliper", "tape", "meter", "all together"].map((key) => ({key, unit: "number" as const}))
    ],
    note: "From the accuracies in workshop.json, which nobody has checked here."
  });

// %% The share of the spread that is only measuring
import {spreadSources} from "../lib/density/spreadSources.ts";

if (one)
  show(
    spreadSources(histories).map((row) => ({withinLotKgM3: undefined, measuringFraction: undefined, ...row})),
    {
      caption: "Standard deviation of density within a lot, and what measuring alone would make",
      columns: [
        "supplier",
        "species",
        "squares",
        "lots",
        {key: "withinLotKgM3", heading: "Within a lot"},
        {key: "measuringKgM3", heading: "Measuring alone"},
        {key: "measuringFraction", heading: "Share of the variance"}
      ],
      note: "All instruments, each erring anew with every square. The tighter the timber, the larger the share. A dash: one lot only, which the library does not split."
    }
  );

// %% [markdown]
// ## A meter that reads high or low every time
//
// An error that is the same for all squares makes no spread, so that table cannot show it. Suppliers still compare fairly,
// but every square moves towards one edge of the window and away from the other. What if every reading in the book were
// 1.5 % of moisture too high, or too low?

// %% The share inside the window, if every reading were off
import * as Plot from "@observablehq/plot";
import {byLot} from "../lib/book/spells.ts";
import {clusterMeanInterval, clusterShareInterval} from "../lib/stats/clusterInterval.ts";
import {clusterJackknife} from "../lib/stats/clusterJackknife.ts";

const isInside = (piece: Piece, errorPct: number) => {
  const {low, high} = settings.species[piece.species]!.windowKgM3;
  const densityKgM3 = densityIf(piece, errorPct);
  return densityKgM3 >= low && densityKgM3 <= high;
};

/** The mean of a number over squares, and how it would scatter were other lots drawn. */
function ofLots(own: readonly Piece[], value: (piece: Piece) => number) {
  const lots = byLot(own).map((lot) => lot.map(value));
  const [estimate] = clusterJackknife(lots.length, (weights) => [mean(lots.filter((_, i) => weights[i] === 1).flat())]);
  return {value: mean(lots.flat())!, estimate};
}

const bySpecies = [...groupBy(pieces, ({species}) => species)];
const changed = bySpecies.flatMap(([species, own]) =>
  [-1.5, 1.5].map((highPct) => {
    const change = ofLots(own, (piece) => 100 * (Number(isInside(piece, -highPct)) - Number(isInside(piece, 0))));
    const ends = change.estimate && clusterMeanInterval(change.estimate);
    return {
      species,
      squares: own.length,
      lots: byLot(own).length,
      highPct,
      insideFraction: ofLots(own, (piece) => Number(isInside(piece, -highPct))).value,
      changePer100: change.value,
      changeLow: ends?.low,
      changeHigh: ends?.high
    };
  })
);
if (one)
  show(changed, {
    caption: "Squares inside the window, if the meter had read too high (or −, too low) every time",
    columns: [
      "species",
      "squares",
      "lots",
      {key: "highPct", heading: "Read too high by"},
      {key: "insideFraction", heading: "Truly inside"},
      {key: "changePer100", heading: "More than we think"}
    ],
    note: "95 % intervals from how lots differ; none with fewer than four lots."
  });

const misjudged = bySpecies.flatMap(([species, own], i) =>
  Array.from({length: 25}, (_, step) => (step - 12) / 4).map((highPct) => {
    const wrong = own.filter((piece) => isInside(piece, -highPct) !== isInside(piece, 0)).length;
    return {species, color: `var(--c${[1, 4, 5, 2, 3][i % 5]})`, highPct, per100: (100 * wrong) / own.length};
  })
);
const at15 = misjudged.filter(({highPct}) => Math.abs(highPct) === 1.5).map(({per100}) => per100);
const [fewest, most] = [Math.min(...at15), Math.max(...at15)].map((x) => shown(x, "count")) as [string, string];
const misjudgedAt15 = fewest === most ? fewest : `${fewest} to ${most}`;
const firstDay = histories.lots.map(({boughtOn}) => boughtOn).sort()[0]!;
if (one)
  show({
    title: `A meter 1.5 % off misjudges ${misjudgedAt15} of 100 squares`,
    subtitle: `Squares on the wrong side of the window, per 100, if every reading were off; ${firstDay} to ${asOf}`,
    ariaDescription: `Lines that rise from 0 at a right meter to both sides. ${misjudged
      .filter(({highPct}) => Math.abs(highPct) === 3)
      .map(({species, highPct, per100}) => `${species}, ${shown(highPct, "percent")}: ${shown(per100, "per 100")}`)
      .join("; ")}.`,
    height: 260,
    x: {label: "meter reads too high by, % moisture →", ticks: 7},
    y: {label: "↑ misjudged per 100", grid: true, nice: true, ticks: 5},
    marks: [
      Plot.ruleY([0]),
      Plot.ruleX([-meterPct, meterPct], {stroke: "var(--muted)", strokeDasharray: "4,3"}),
      Plot.line(misjudged, {x: "highPct", y: "per100", z: "species", stroke: "color", strokeWidth: 2}),
      Plot.text(
        misjudged.filter(({highPct}) => highPct === 3),
        {
          x: "highPct",
          y: "per100",
          text: "species",
          fill: "var(--ink)",
          textAnchor: "start",
          dx: 8
        }
      )
    ],
    caption:
      "Dashed: the standard uncertainty of our meter. A square is misjudged when it is inside and seems outside, or the reverse."
  });

// %% [markdown]
// ## What a better reading would gain
//
// If the meter errs anew with each square, some errors matter (near an edge of the window) and most do not. A square on the
// wrong side is turned in vain or passed over, so it is taken to cost its price, its carriage and
// the work on it. A shaft of the wrong density that was sold costs more, and is not in this.
//
// The other way is to saw off an offcut, weigh it, dry it in an oven at 103 °C until it gets no lighter, and weigh it again.
// (Use an oven for that purpose, never left alone, by your fire rules.) Two weighings of a small offcut ask much of the
// scale. And the end of a square is drier than its middle; that is not counted here.

// %% Four ways to know the moisture
import normalCdf from "@stdlib/stats-base-dists-normal-cdf";
import {sum} from "../lib/stats/numbers.ts";
import {ovenDryMass} from "../lib/wood/moisture.ts";

/** The chance that a square of this density lies on the other side of the window's edges, its true density scattered about it. */
function wrongSide(piece: Piece, moistureErrorPct: number): number {
  const {low, high} = settings.species[piece.species]!.windowKgM3;
  const [x, error] = [piece.densityAt12KgM3, errorsOf(piece, moistureErrorPct).at(-1)!.at12KgM3];
  if (error === 0) return 0;
  const inside = normalCdf((high - x) / error, 0, 1) - normalCdf((low - x) / error, 0, 1);
  return x >= low && x <= high ? 1 - inside : inside;
}

/** How far the moisture of a 30 mm offcut is off when it is weighed wet and dry on a scale, % of oven-dry mass. */
function ovenPct({intake}: Piece, scaleG: number): number {
  const massG = (30 * intake.massG) / intake.lengthMm;
  const dryG = ovenDryMass({massG, moisturePct: intake.moisturePct});
  return (100 / dryG) * Math.hypot(scaleG, (scaleG * massG) / dryG);
}

const {scaleG} = settings.accuracy;
const {currency, turningCostPerSquare} = settings.money;
const bought = sum(histories.lots.map((lot) => lot.squaresBought));
const costEach =
  sum(histories.lots.map((lot) => lot.squaresBought * lot.priceEach + (lot.carriage ?? 0))) / bought +
  turningCostPerSquare;
const ways = (
  [
    ["our meter", () => meterPct],
    ["meter half as far off", () => meterPct / 2],
    [`oven, our scale (${scaleG} g)`, (piece) => ovenPct(piece, scaleG)],
    ["oven, scale to 0.1 g", (piece) => ovenPct(piece, 0.1)]
  ] satisfies [string, (piece: Piece) => number][]
).map(([way, errorPct]) => {
  const wrong = ofLots(pieces, (piece) => wrongSide(piece, errorPct(piece)));
  const ends = wrong.estimate && clusterShareInterval(wrong.estimate, pieces.length);
  const saved = ofLots(
    pieces,
    (piece) => 100 * costEach * (wrongSide(piece, meterPct) - wrongSide(piece, errorPct(piece)))
  );
  const savedEnds = saved.estimate && clusterMeanInterval(saved.estimate);
  return {
    way,
    squares: pieces.length,
    moisturePct: mean(pieces.map(errorPct)),
    wrongPer100: 100 * wrong.value,
    wrongLow: ends && 100 * ends.low,
    wrongHigh: ends && 100 * ends.high,
    savedMoney: saved.value,
    savedLow: savedEnds?.low,
    savedHigh: savedEnds?.high
  };
});
if (one)
  show(ways, {
    caption: "Squares on the wrong side of the window, all instruments erring anew with each square",
    columns: [
      {key: "way", heading: "Moisture from"},
      "squares",
      {key: "moisturePct", heading: "Moisture known to ±"},
      {key: "wrongPer100", heading: "Misjudged"},
      {
        key: "savedMoney",
        heading: "Saved per 100 squares",
        unit: "money whole",
        low: "savedLow",
        high: "savedHigh"
      }
    ],
    note: `95 % intervals from how lots differ; none with fewer than four lots. A misjudged square counts ${shown(costEach, "money", {currency})}: its mean price, carriage and turning.`
  });

// %% [markdown]
// ## Answer

// %%
const [now, better] = ways as [(typeof ways)[number], (typeof ways)[number]];
const lastYear = histories.lots.filter(({boughtOn}) => histories.asOf - dayNumber(boughtOn) < 365);
const aYear = sum(lastYear.map((lot) => lot.squaresBought));
const interval = (low: number | undefined, high: number | undefined, unit: "per 100" | "money whole", factor = 1) =>
  low === undefined || high === undefined
    ? "too few lots for an interval"
    : `95 % interval ${shownInterval({low: factor * low, high: factor * high}, unit, {bare: unit === "per 100", currency})}`;

show(
  one
    ? `A meter half as far off is worth about ${shown((better.savedMoney * aYear) / 100, "money whole", {currency})} a year to us (${interval(better.savedLow, better.savedHigh, "money whole", aYear / 100)}; ${shown(aYear, "count")} squares bought in the last 365 days), as it would misjudge ${shown(better.wrongPer100, "per 100", {bare: true})} of 100 squares instead of ${shown(now.wrongPer100, "per 100", {bare: true})} (${interval(now.wrongLow, now.wrongHigh, "per 100")}); whether ours reads 1.5 % high or low every time, which would misjudge ${misjudgedAt15} of 100, this book cannot tell: a few offcuts dried in the oven can.`
    : "Nobody can say before a square has been weighed and metered."
);
