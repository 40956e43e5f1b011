import {readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {seasonPlan} from "../../../lib/buying/seasonPlan.ts";
import {assignShafts} from "../../../lib/rack/assignShafts.ts";
import {aalenJohansen} from "../../../lib/stats/aalenJohansen.ts";
import {bootstrapInterval} from "../../../lib/stats/bootstrapInterval.ts";
import {chainedIncidence} from "../../../lib/stats/chainedIncidence.ts";
import {deviation} from "../../../lib/stats/deviation.ts";
import type {Spell} from "../../../lib/stats/eventTable.ts";
import {kernelDensity} from "../../../lib/stats/kernelDensity.ts";
import {sheatherJonesBandwidth} from "../../../lib/stats/sheatherJonesBandwidth.ts";

const [folder = "", kernel = "", when = ""] = process.argv.slice(2);

function rows(name: string): Record<string, string>[] {
  const [head = "", ...lines] = readFileSync(join(folder, name), "utf8").trimEnd().split("\n");
  const fields = head.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    return Object.fromEntries(fields.map((field, i) => [field, cells[i]!]));
  });
}

function numbers(name: string): number[][] {
  const lines = readFileSync(join(folder, name), "utf8").trimEnd().split("\n").slice(1);
  return lines.map((line) => line.split(",").map(Number));
}

const spell = ({exit, cause}: Record<string, string>): Spell => ({exit: Number(exit), ...(cause && {cause})});

/** Each reads its input and returns what is measured, which gives the numbers to compare. */
const kernels: Record<string, () => () => (number | undefined)[]> = {
  incidence: () => {
    const spells = rows("spells.csv").map(spell);
    return () => {
      const {incidence} = aalenJohansen(spells);
      return Object.values(incidence).flatMap(({fraction, se, low, high}) => [...fraction, ...se, ...low, ...high]);
    };
  },
  lots: () => {
    const draws = numbers("lotDraws.csv");
    const stages = [0, 1, 2].map(() => draws[0]!.map((): Spell[] => []));
    for (const row of rows("lotSpells.csv")) stages[Number(row.stage)]![Number(row.lot)]!.push(spell(row));
    return () => {
      const chain = chainedIncidence(stages, "passed");
      return draws.map((times) => chain(times).passed);
    };
  },
  spread: () => {
    const values = numbers("densities.csv").flat();
    const drawn = numbers("densityDraws.csv").flat();
    return () => {
      let next = 0;
      const random = () => drawn[next++]!;
      const {low, high} = bootstrapInterval(values, deviation, {random, resamples: 2000})!;
      return [low, high];
    };
  },
  densities: () => {
    const values = numbers("humps.csv").flat();
    const at = Array.from({length: 512}, (_, i) => 500 + (400 * i) / 511);
    return () => {
      const bandwidth = sheatherJonesBandwidth(values, {bins: 1000})!;
      return [bandwidth, ...kernelDensity(values, {bandwidth, at})];
    };
  },
  plan: () => {
    const offers = numbers("offers.csv").map(([species, alpha, beta, unitCost, available], i) => ({
      species: species!,
      offer: {supplier: `supplier ${i % 6}`, alpha: alpha!, beta: beta!, unitCost: unitCost!, available: available!}
    }));
    const needs = numbers("species.csv").map(([finished, mean, size, price, shortageCost, leftoverValue], s) => ({
      finished: finished!,
      pipeline: [],
      demand: {mean: mean!, size: size!},
      offers: offers.filter(({species}) => species === s).map(({offer}) => offer),
      money: {price: price!, shortageCost: shortageCost!, leftoverValue: leftoverValue!}
    }));
    const budget = numbers("budget.csv")[0]![0]!;
    return () => {
      const {purchases, profit} = seasonPlan({needs, budget});
      const squares = needs.flatMap(({offers}, s) =>
        offers.map(({supplier}) => purchases[s]!.orders.find((order) => order.supplier === supplier)?.squares ?? 0)
      );
      return [profit, ...squares];
    };
  },
  assignment: () => {
    const ranked = numbers("fits.csv").map((fits, i) => ({
      order: {order: `order ${i}`, orderedOn: "2026-01-01", lacking: 1, row: i},
      shafts: fits.flatMap((fit, shaft) =>
        fit > 0 ? [{square: String(shaft), state: "fits" as const, fit, finishedOn: shaft}] : []
      )
    }));
    return () => {
      const {given, totalFit} = assignShafts(ranked);
      const shafts = new Map(given.map(({order, square}) => [order, Number(square)]));
      return [totalFit, ...ranked.map(({order}) => shafts.get(order.order))];
    };
  }
};

const run = kernels[kernel]!();
const seconds: number[] = [];
let result: (number | undefined)[] = [];
const start = performance.now();
do {
  const before = performance.now();
  result = run();
  seconds.push((performance.now() - before) / 1000);
} while (when === "warm" && (seconds.length < 4 || (seconds.length < 31 && performance.now() - start < 2000)));
const later = seconds.slice(1).sort((a, b) => a - b);
writeFileSync(join(folder, `${kernel}.ours.txt`), `${result.map((x) => x ?? "NaN").join("\n")}\n`);
console.log(JSON.stringify({seconds: when === "warm" ? later[Math.floor(later.length / 2)] : seconds[0]}));
