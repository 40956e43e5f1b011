import {writeFileSync} from "node:fs";
import {join} from "node:path";
import {randomStream} from "../../../lib/stats/random.ts";

/**
 * Writes what the kernels are asked, as tables that R, Python and we read alike: an invented workshop, the same bytes every time.
 *
 *   spells.csv      100 thousand squares: days seen, why they left ("" still there)
 *   lotSpells.csv   75 lots at three stages, lots unlike each other; lotDraws.csv says how often each lot comes in each of 2,000 resamples
 *   densities.csv   400 squares; densityDraws.csv has a number from 0 to 1 for each to be drawn in 2,000 resamples
 *   humps.csv       1,000 densities of two kinds of ash
 *   offers.csv, species.csv, budget.csv   six suppliers, two species, one budget
 *   fits.csv        300 orders × 400 shafts: how well each fits, 0 where it does not
 */
export function writeInputs(folder: string): void {
  const random = randomStream(2024);
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const whole = (below: number) => Math.floor(random() * below);
  const table = (name: string, head: string, rows: readonly (readonly (string | number)[])[]) =>
    writeFileSync(join(folder, name), `${[head, ...rows.map((row) => row.join(","))].join("\n")}\n`);
  /** A stay of so many days about, and what ends it, if it ends while it is looked at. */
  const stay = (days: number, pass: number): [number, string] => {
    const exit = Math.ceil(days * Math.exp(0.5 * normal()));
    const seen = 1 + whole(4 * days);
    return exit > seen ? [seen, ""] : [exit, random() < pass ? "passed" : random() < 0.6 ? "check" : "warp"];
  };

  table(
    "spells.csv",
    "exit,cause",
    Array.from({length: 100_000}, () => stay(200, 0.7))
  );
  const lots = Array.from({length: 75}, (_, lot) => ({lot, pass: 0.75 + 0.2 * random(), squares: 24 + whole(37)}));
  table(
    "lotSpells.csv",
    "lot,stage,exit,cause",
    lots.flatMap(({lot, pass, squares}) =>
      Array.from({length: squares}).flatMap(() => {
        const rows: (string | number)[][] = [];
        for (const [stage, days] of [60, 90, 120].entries()) {
          const [exit, cause] = stay(days, pass);
          rows.push([lot, stage, exit, cause]);
          if (cause !== "passed") break;
        }
        return rows;
      })
    )
  );
  table(
    "lotDraws.csv",
    lots.map(({lot}) => `lot${lot}`).join(","),
    Array.from({length: 2000}, () => {
      const times = lots.map(() => 0);
      for (const _ of lots) times[whole(lots.length)]!++;
      return times;
    })
  );

  const rounded = (x: number) => Math.round(10 * x) / 10;
  const densities = Array.from({length: 400}, () => [rounded(680 + 45 * normal())]);
  table("densities.csv", "density", densities);
  table(
    "densityDraws.csv",
    densities.map((_, i) => `square${i}`).join(","),
    Array.from({length: 2000}, () => densities.map(() => whole(1e6) / 1e6))
  );
  table(
    "humps.csv",
    "density",
    Array.from({length: 1000}, () => [random() < 0.6 ? 640 + 25 * normal() : 730 + 30 * normal()])
  );

  table("species.csv", "finished,mean,size,price,shortageCost,leftoverValue", [
    [3, 26, 6, 140, 20, 10],
    [2, 18, 4, 175, 25, 12]
  ]);
  table("budget.csv", "budget", [[2400]]);
  table("offers.csv", "species,alpha,beta,unitCost,available", [
    [0, 12, 9, 31, 30],
    [0, 7, 4, 34, 20],
    [0, 20, 8, 39, 40],
    [0, 5, 6, 24, 25],
    [0, 9, 5, 36, 30],
    [0, 15, 12, 29, 15],
    [1, 8, 7, 43, 30],
    [1, 14, 7, 52, 25],
    [1, 6, 3, 55, 20],
    [1, 10, 11, 37, 30],
    [1, 18, 10, 49, 40],
    [1, 5, 4, 46, 15]
  ]);

  const names = Array.from({length: 400}, (_, shaft) => `shaft${shaft}`);
  table(
    "fits.csv",
    names.join(","),
    Array.from({length: 300}, () =>
      names.map(() => (random() < 0.5 ? 0 : Math.round(1e12 * (0.2 + 0.8 * random())) / 1e12))
    )
  );
}
