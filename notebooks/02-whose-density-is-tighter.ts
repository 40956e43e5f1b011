// %% [markdown]
// # Whose density is tighter?
//
// A shaft's weight follows from the density of its wood, and a square whose density lies outside the window is paid for
// and turned in vain. So it matters less who sells the heaviest timber than whose squares are most alike. If one yard
// were surely tighter than the others, we would pay it more.
//
// ## What was weighed

// %% The spread of density, by supplier and species
import {groupBy} from "../lib/book/spells.ts";
import {shown, shownInterval} from "../lib/report/quantity.ts";
import {open} from "../scripts/notebook/book.ts";
import {frame} from "../scripts/notebook/frame.ts";
import {pivot} from "../scripts/notebook/frameGroup.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, book, asOf} = open();
const bySpecies = [...groupBy(histories.pieces, (piece) => piece.species)].sort((a, b) => b[1].length - a[1].length);
/** The species to ask about: the one with most squares. Put another name here. */
const species = bySpecies[0]?.[0] ?? "ash";
const pieces = histories.pieces.filter((piece) => piece.species === species);
const window = book.settings.species[species]!.windowKgM3;

const squares = await frame(
  histories.pieces.map(({supplier, species, densityAt12KgM3}) => ({supplier, species, densityAt12KgM3}))
);
show(await pivot(squares, {rows: ["supplier"], columns: "species", values: "densityAt12KgM3", how: "sd"}), {
  caption: "Standard deviation of density at 12 % moisture, all lots together",
  columns: ["supplier", ...bySpecies.map(([key]) => ({key, unit: "kg/m³" as const}))],
  note: "A dash: fewer than two squares."
});

// %% Every square of the species
import {densityBySupplier} from "../lib/density/densityBySupplier.ts";
import {densityDots} from "../lib/figures/densityDots.ts";

const suppliers = densityBySupplier({...histories, pieces});
const firstDay = histories.lots.map(({boughtOn}) => boughtOn).sort()[0]!;
show(densityDots(suppliers, pieces, {species, window, period: `${firstDay} to ${asOf}`}));

// %% [markdown]
// ## Where the spread comes from
//
// Three things scatter: one log is not the next (between lots), one square is not its neighbour (within a lot), and scale,
// calliper and meter are a little off (measuring, which is a part of what is seen within a lot). Between lots we could ask
// the yard for one log; within a lot only sorting helps; measuring we could mend ourselves.

// %% Between lots, within a lot, measuring
import {spreadSources} from "../lib/density/spreadSources.ts";

const sources = spreadSources({...histories, pieces});
const unknownYet = {betweenLotsKgM3: undefined, withinLotKgM3: undefined, measuringFraction: undefined};
show(
  sources.map((row) => ({...unknownYet, ...row})),
  {
    caption: `Standard deviations of the density of ${species}, by where they come from`,
    columns: [
      "supplier",
      "squares",
      "lots",
      {key: "betweenLotsKgM3", heading: "Between lots"},
      {key: "withinLotKgM3", heading: "Within a lot"},
      {key: "measuringKgM3", heading: "Measuring alone"},
      {key: "measuringFraction", heading: "Measuring, of the variance in a lot"}
    ],
    note: "0 between lots: no more than chance would show. Few lots say little of how lots differ."
  }
);

// %% How much of the variance lies where
import {clusterMeanInterval} from "../lib/stats/clusterInterval.ts";
import {clusterJackknife, fewestClusters} from "../lib/stats/clusterJackknife.ts";
import {nestedVarianceComponents} from "../lib/stats/nestedVarianceComponents.ts";

const lots = [...groupBy(pieces, ({lot}) => lot).values()];
const parts = (weights: readonly number[]) => {
  const kept = lots.filter((_, i) => weights[i] === 1);
  const nested = [...groupBy(kept, (lot) => lot[0]!.supplier).values()].map((own) =>
    own.map((lot) => lot.map(({densityAt12KgM3}) => densityAt12KgM3))
  );
  const {outer, inner, within} = nestedVarianceComponents(nested) ?? {outer: 0, inner: 0, within: 0};
  const all = outer + inner + within;
  return all > 0 ? [outer / all, inner / all, within / all] : [undefined, undefined, undefined];
};
const whole = parts(lots.map(() => 1));
const doubts = clusterJackknife(lots.length, parts);

show(
  ["between suppliers", "between lots of one supplier", "within a lot"].map((where, i) => {
    const interval = doubts[i] && clusterMeanInterval(doubts[i]);
    return {
      where,
      shareFraction: whole[i],
      shareLow: interval && Math.max(0, interval.low),
      shareHigh: interval && Math.min(1, interval.high)
    };
  }),
  {
    caption: `Variance of the density of ${species}, taken apart`,
    note: `${pieces.length} squares of ${lots.length} lots and ${suppliers.length} suppliers; 95 % intervals from leaving out each lot in turn. The suppliers are taken as they are, one spread for all of them.`
  }
);

// %% [markdown]
// ## Two suppliers at a time
//
// The spread of one divided by the spread of the other: 1 is alike, 0.5 is half as wide. Each interval comes from how the
// lots of both differ. Whoever looks for the tightest of many will find one even if all are alike, so look at how far
// an interval stays below 1.

// %% The tightest against each of the others
import {compareSpread} from "../lib/density/compareSpread.ts";
import {intervalDots} from "../lib/figures/intervalDots.ts";

const [comparison] = compareSpread({pieces});
const pairs = comparison?.pairs ?? [];
const lotsOf = (name: string) => suppliers.find(({supplier}) => supplier === name)!.lots;
/** Suppliers whose lots are too few to say how they differ take no part in the answer. */
const tooFew = suppliers.filter(({lots}) => lots < fewestClusters).map(({supplier}) => supplier);
const judged = pairs.filter(({tighter, wider}) => !tooFew.includes(tighter) && !tooFew.includes(wider));
const tightest = judged[0]?.tighter;
const rivals = judged.filter(({tighter}) => tighter === tightest);
const beaten = rivals.filter(({verdict}) => verdict === "tighter");

if (rivals.length > 0)
  show(
    intervalDots({
      id: "spread-ratios",
      title: `${tightest}: clearly tighter than ${beaten.length} of ${rivals.length}`,
      subtitle: `Standard deviation of ${tightest} ÷ that of each other supplier; ${species}, density at 12 %, ${firstDay} to ${asOf}`,
      alt: `Dots with 95 % intervals. ${rivals.map(({wider, ratio}) => `${wider}: ${shown(ratio, "number")}`).join("; ")}. Dashed line at 1: alike.`,
      note: `Lines: 95 % intervals from how lots differ. Dashed: alike.${tooFew.length > 0 ? ` Left out, with fewer than ${fewestClusters} lots: ${tooFew.join(", ")}.` : ""}`,
      unit: "number",
      axis: "ratio of standard deviations",
      reference: {value: 1, label: "alike"},
      dots: rivals.map(({wider, ratio, ratioLow, ratioHigh}) => ({
        label: wider,
        value: ratio,
        low: ratioLow,
        high: ratioHigh
      })),
      table: {
        id: "spread-ratios-data",
        caption: `Every pair of suppliers of ${species}, the tighter first`,
        columns: [
          {key: "tighter", heading: "Tighter", unit: "text"},
          {key: "tighterLots", heading: "Its lots", unit: "count"},
          {key: "wider", heading: "Wider", unit: "text"},
          {key: "widerLots", heading: "Its lots", unit: "count"},
          {key: "ratio", heading: "Ratio", unit: "number", low: "ratioLow", high: "ratioHigh"},
          {key: "verdict", heading: "Verdict", unit: "text"}
        ],
        rows: pairs.map((pair) => ({...pair, tighterLots: lotsOf(pair.tighter), widerLots: lotsOf(pair.wider)})),
        note: `${pairs.length} pairs: were all alike, ${shown(0.05 * pairs.length, "per 100", {bare: true})} of them would on average still look different.`
      }
    })
  );
else
  show(`There are not two suppliers of ${species} with ${fewestClusters} lots each, so no ratio has an interval yet.`);

// %% [markdown]
// ## The usual test, and why it is too sure
//
// The Brown–Forsythe test asks whether all suppliers could have one spread. It counts every square as news. But squares of
// one log are alike, so a lot of forty tells less than forty squares of forty lots. To see what that does, bring all
// suppliers to one mean and one spread, then deal their lots out again by chance, whole lot by whole lot: now no supplier
// is tighter than another, only lots differ, and a fair test should cry out in 5 deals of 100.

// %% The same test when lots are dealt out by chance
import {brownForsythe} from "../lib/stats/brownForsythe.ts";
import {randomStream} from "../lib/stats/random.ts";
import {wilson} from "../lib/stats/wilson.ts";

const random = randomStream(2);
const deals = 499;
const owners = lots.map((lot) => lot[0]!.supplier);
const measured = lots.map((lot) => lot.map(({densityAt12KgM3}) => densityAt12KgM3));
const evened = lots.map((lot) => {
  const {meanKgM3, sdKgM3 = 0} = suppliers.find(({supplier}) => supplier === lot[0]!.supplier)!;
  return lot.map(({densityAt12KgM3}) => (sdKgM3 > 0 ? (densityAt12KgM3 - meanKgM3) / sdKgM3 : 0));
});
const testOf = (values: readonly number[][], names: readonly string[]) => {
  const own = groupBy(values.keys(), (i) => names[i]!);
  return brownForsythe([...own.values()].map((some) => some.flatMap((i) => values[i]!)));
};
const shuffled = <T>(list: readonly T[]) =>
  list
    .map((value) => ({value, place: random()}))
    .sort((a, b) => a.place - b.place)
    .map(({value}) => value);

const real = testOf(measured, owners);
const dealt = real
  ? Array.from({length: deals}, () => testOf(evened, shuffled(owners))).flatMap((test) => test ?? [])
  : [];
const cries = dealt.filter(({p}) => p < 0.05).length;
const asFar = dealt.filter(({f}) => f >= real!.f).length;
const chance = (p: number) => (p < 0.01 ? "below 0.01" : shown(p, "number"));

show(
  real && dealt.length > 0
    ? `Brown–Forsythe on ${pieces.length} squares: F = ${shown(real.f, "number")}, p ${chance(real.p)}.\nWith the lots dealt out by chance it cried out in ${cries} of ${dealt.length} deals (${shown(cries / dealt.length, "fraction")}, 95 % interval ${shownInterval(wilson(cries, dealt.length), "fraction")}), where 5 % would be fair.\nIn ${asFar} of these deals F was as large as the real one: a p that knows of lots is ${chance((asFar + 1) / (dealt.length + 1))}.`
    : "There are too few suppliers or squares for the test."
);

// %% [markdown]
// ## What the next lot may be
//
// For a square yet to be bought we know neither the supplier's true mean nor its true spread, and the fewer lots we have
// seen the less. The squares are therefore counted for as many as they are worth: n ÷ (1 + (n̄ − 1)ρ), with n̄ the
// squares of a lot and ρ the part of the variance that lies between lots.

// %% Where the next squares will lie
import {predictiveShare} from "../lib/stats/predictiveShare.ts";
import {toleranceFactor} from "../lib/stats/toleranceFactor.ts";

const coverage = 0.9;
const ahead = suppliers.flatMap(({supplier, squares, lots, meanKgM3}) => {
  const {betweenLotsKgM3: between, withinLotKgM3: within} = sources.find((row) => row.supplier === supplier)!;
  if (lots < fewestClusters || !within || between === undefined) return [];
  const deviation = Math.hypot(between, within);
  const n = Math.floor(squares / (1 + (squares / lots - 1) * (between / deviation) ** 2));
  if (n < 3) return [];
  const half = toleranceFactor({n, coverage}) * deviation;
  return {
    supplier,
    squares,
    lots,
    worth: n,
    meanKgM3,
    bandLow: meanKgM3 - half,
    bandHigh: meanKgM3 + half,
    insideFraction: predictiveShare({n, mean: meanKgM3, deviation}, window)
  };
});

if (ahead.length > 0)
  show(ahead, {
    caption: `The next ${species} squares of each supplier`,
    columns: [
      "supplier",
      "lots",
      "squares",
      {key: "worth", heading: "Worth so many independent ones"},
      {
        key: "meanKgM3",
        heading: `Mean, and the band of ${shown(100 * coverage, "count")} squares in 100`,
        low: "bandLow",
        high: "bandHigh"
      },
      {key: "insideFraction", heading: `Chance to lie in ${window.low} to ${window.high} kg/m³`}
    ],
    note: `With 95 % certainty the band holds ${shown(100 * coverage, "count")} of 100 squares to come, if density scatters like a bell curve and the yard goes on as before; one lot may lie well to one side of it. Only suppliers with ${fewestClusters} lots or more.`
  });
else show(`No supplier has ${fewestClusters} lots of ${species} yet, so nothing can be said of the next.`);

// %% [markdown]
// ## Answer

// %%
const closest = rivals.toSorted((a, b) => (b.ratioHigh ?? Infinity) - (a.ratioHigh ?? Infinity))[0];
const unknown = tooFew.length > 0 ? `; ${tooFew.join(" and ")} cannot be judged yet, with too few lots` : "";
const against = ({ratio, ratioLow = 0, ratioHigh = Infinity}: (typeof rivals)[number]) =>
  `${shown(ratio, "number")} times as wide, 95 % interval ${shownInterval({low: ratioLow, high: ratioHigh}, "number")}`;

show(
  closest === undefined
    ? `The data cannot tell whose ${species} is tighter: there are not two suppliers with ${fewestClusters} lots each.`
    : closest.verdict === "tighter"
      ? `${tightest} has the tightest ${species}: even against ${closest.wider}, which comes nearest, its spread is clearly smaller (${against(closest)})${unknown}.`
      : `The data cannot tell for sure whose ${species} is tightest: ${tightest}’s is tighter than that of ${beaten.length} of ${rivals.length} others, but not clearly than ${closest.wider}’s (${against(closest)})${unknown}.`
);
