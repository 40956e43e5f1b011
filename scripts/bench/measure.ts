import {spawnSync} from "node:child_process";
import {quantile} from "../../lib/stats/quantile.ts";

/** One thing to measure: a process, from its start to its end, or the seconds that it tells of itself. */
export interface Case {
  name: string;
  /** The program and its arguments; "node" stands for the Node.js that runs this. */
  command: readonly string[];
  cwd?: string;
  env?: Readonly<Record<string, string>>;
  /** Whether the last line of its stdout is JSON with `seconds`: what it measured inside, without its own start. */
  tells?: boolean;
}

/** What was measured of one case. */
export interface Measured {
  name: string;
  /** One for each round, in order. */
  seconds: number[];
  medianSeconds: number;
  /** Median of the greatest resident memory, MiB; of Node.js processes only. */
  peakMiB?: number;
}

/** Two cases side by side: how many times the seconds of the one are those of the other. */
export interface Ratio {
  what: string;
  of: string;
  to: string;
  /** Median over the rounds of the ratio inside each round. */
  ratio: number;
  /** At most this is wanted. */
  goal?: number;
}

/** What one suite gives: cases, the ratios that count, and what is to be said with them. */
export interface SuiteResult {
  cases: Measured[];
  ratios: Ratio[];
  /** Versions of the programs compared with, and reasons where a goal is missed. */
  notes: string[];
}

/** A set of cases measured together. */
export interface Suite {
  name: string;
  title: string;
  run(rounds: number): Promise<SuiteResult> | SuiteResult;
}

/**
 * Runs every case once in a round, round after round, so that what slows the machine for a while slows all of them alike.
 *
 * @throws Error when a process fails: a time of something that did not work is none
 */
export function measure(cases: readonly Case[], rounds: number): Measured[] {
  const seconds = cases.map((): number[] => []);
  const peaks = cases.map((): number[] => []);
  for (let round = 0; round < rounds; round++) {
    for (const [index, one] of cases.entries()) {
      const run = once(one);
      seconds[index]!.push(run.seconds);
      if (run.peakMiB !== undefined) peaks[index]!.push(run.peakMiB);
    }
  }
  return cases.map(({name}, index) => ({
    name,
    seconds: seconds[index]!,
    medianSeconds: quantile(seconds[index]!, 0.5)!,
    ...(peaks[index]!.length > 0 && {peakMiB: quantile(peaks[index]!, 0.5)!})
  }));
}

/** The ratio of two cases that were measured in the same rounds. */
export function ratio(measured: readonly Measured[], of: string, to: string, what: string, goal?: number): Ratio {
  const [upper, lower] = [of, to].map((name) => measured.find((one) => one.name === name)!.seconds) as [
    number[],
    number[]
  ];
  const each = upper.map((value, round) => value / lower[round]!);
  return {what, of, to, ratio: quantile(each, 0.5)!, ...(goal !== undefined && {goal})};
}

const peakMark = "peak-KiB ";
/** Run first in a Node.js process: it tells its greatest memory as it ends. */
const tellPeak = `data:text/javascript,process.on("exit",()=>process.stderr.write("${peakMark}"+process.resourceUsage().maxRSS+"\\n"))`;

function once({name, command: [program, ...args], cwd, env, tells}: Case): {seconds: number; peakMiB?: number} {
  const isNode = program === "node";
  const start = performance.now();
  const {status, stdout, stderr, error} = spawnSync(
    isNode ? process.execPath : program!,
    isNode ? ["--import", tellPeak, ...args] : args,
    {cwd, env: {...process.env, ...env}, encoding: "utf8", maxBuffer: 1 << 28}
  );
  const wall = (performance.now() - start) / 1000;
  if (error || status !== 0) throw new Error(`${name} failed: ${error?.message ?? stderr.slice(-2000)}`);
  const peak = stderr.split("\n").findLast((line) => line.startsWith(peakMark));
  const told = tells ? (JSON.parse(stdout.trim().split("\n").at(-1)!) as {seconds: number}).seconds : undefined;
  return {
    seconds: told ?? wall,
    ...(peak !== undefined && {peakMiB: Number(peak.slice(peakMark.length)) / 1024})
  };
}
