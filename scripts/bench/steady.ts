import {spawnSync} from "node:child_process";
import {readFileSync} from "node:fs";
import {join} from "node:path";
import {build} from "esbuild";
import {bookFolder, inWords, makeBooks, sizesAsked} from "./books.ts";
import {type Case, type Measured, measure, type Ratio, ratio, type Suite} from "./measure.ts";

/** Events of the books; STEADY_SIZES=10000,100000 asks for fewer. */
const sizes = sizesAsked("STEADY_SIZES", "10000,100000,1000000,5000000");

/** Book to all result rows, side by side with readers that only read, at four sizes. */
export const steady: Suite = {
  name: "steady",
  title: `Book to all result rows, ${sizes.map(inWords).join(", ")} events`,
  async run(rounds) {
    makeBooks(sizes);
    await bundled();
    const pandas = pandasVersion();
    const cases = sizes.flatMap((size) => casesAt(size, pandas !== undefined));
    const measured = measure(cases, rounds);
    return {
      cases: measured,
      ratios: [...sizes.map((size) => againstPapa(measured, size)), ...growth(measured), ...memory(measured)],
      notes: [
        `PapaParse ${papaVersion()}, streaming, with headings, rows dropped; the bytes alone with line ends counted${pandas ? `; pandas ${pandas}, read_csv` : "; no pandas on this machine"}.`,
        "Ours is the whole process: start from a bundle, as npm run does it, reading, every check, replay, counts, and every question of scripts/results/allResults.ts: yields, discards, densities, rests, costs, lead times, the season's plan."
      ]
    };
  }
};

const papaVersion = () =>
  (JSON.parse(readFileSync(join("node_modules", "papaparse", "package.json"), "utf8")) as {version: string}).version;

const named = {
  ours: (size: number) => `ours, all results, ${inWords(size)}`,
  papa: (size: number) => `PapaParse, ${inWords(size)}`,
  bytes: (size: number) => `bytes alone, ${inWords(size)}`,
  pandas: (size: number) => `pandas read_csv, ${inWords(size)}`
};

function casesAt(size: number, withPandas: boolean): Case[] {
  const book = bookFolder(size);
  const bench = (file: string) => join("scripts", "bench", file);
  return [
    {name: named.bytes(size), command: ["node", bench("readOnly.mjs"), book]},
    {name: named.papa(size), command: ["node", bench("papaStream.mjs"), book]},
    ...(withPandas ? [{name: named.pandas(size), command: [python, "-c", readAll, book]}] : []),
    {name: named.ours(size), command: ["node", bundle, book]}
  ];
}

const bundle = join("bench", "results.mjs");

/** The program in one file, as commands are started from bundles. */
async function bundled(): Promise<void> {
  await build({
    entryPoints: [join("scripts", "bench", "results.ts")],
    outfile: bundle,
    bundle: true,
    format: "esm",
    platform: "node",
    target: "node20",
    mainFields: ["module", "main"],
    external: ["jsdom"],
    banner: {
      js: 'import {createRequire as requireFrom} from "node:module"; const require = requireFrom(import.meta.url);'
    },
    logLevel: "error"
  });
}

const python = "/usr/bin/python3";
const readAll =
  "import glob, os, sys, pandas\nfor path in glob.glob(os.path.join(sys.argv[1], '*.csv')): pandas.read_csv(path)";

function pandasVersion(): string | undefined {
  const {status, stdout} = spawnSync(python, ["-c", "import pandas; print(pandas.__version__)"], {encoding: "utf8"});
  return status === 0 ? stdout.trim() : undefined;
}

function againstPapa(measured: readonly Measured[], size: number): Ratio {
  const what = `ours to bare PapaParse, ${inWords(size)}`;
  return ratio(measured, named.ours(size), named.papa(size), what, size === 1_000_000 ? 0.6 : undefined);
}

/** ln(t₂/t₁)/ln(n₂/n₁) from size to size, over all of them from 100 thousand on, and the same without what a small book takes. */
function growth(measured: readonly Measured[]): Ratio[] {
  const [smallest] = sizes;
  const seconds = (size: number) => measured.find(({name}) => name === named.ours(size))!.medianSeconds;
  const exponent = (from: number, to: number, start: number) =>
    Math.log((seconds(to) - start) / (seconds(from) - start)) / Math.log(to / from);
  const spans = sizes.slice(1).map((to, i): [number, number] => [sizes[i]!, to]);
  const whole: [number, number] = [100_000, sizes.at(-1)!];
  const isMore = sizes.slice(0, -2).includes(whole[0]);
  return [...spans, ...(isMore ? [whole] : [])].flatMap(([from, to]) => {
    const of = {of: named.ours(to), to: named.ours(from)};
    const span = `growth exponent, ${inWords(from)} to ${inWords(to)}`;
    const goal = from === 100_000 && to === 5_000_000 ? {goal: 1.05} : {};
    return [
      {...of, what: span, ratio: exponent(from, to, 0), ...goal},
      ...(from > smallest!
        ? [{...of, what: `${span}, start-up taken off`, ratio: exponent(from, to, seconds(smallest!))}]
        : [])
    ];
  });
}

/** Peak memory, GB (10⁹ bytes). */
function memory(measured: readonly Measured[]): Ratio[] {
  return sizes.flatMap((size) => {
    const name = named.ours(size);
    const {peakMiB} = measured.find((one) => one.name === name)!;
    if (peakMiB === undefined) return [];
    const goal = size === 5_000_000 ? {goal: 1.5} : {};
    return [{what: `peak memory, GB, ${inWords(size)}`, of: name, to: name, ratio: (peakMiB * 2 ** 20) / 1e9, ...goal}];
  });
}
