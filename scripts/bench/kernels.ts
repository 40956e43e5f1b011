import {spawnSync} from "node:child_process";
import {mkdtempSync, readFileSync, rmSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {writeInputs} from "./kernels/inputs.ts";
import {type Case, type Measured, measure, type Ratio, ratio, type Suite} from "./measure.ts";

/** Another program that answers what one of our kernels does. */
interface Peer {
  /** Its name in kernels.R or kernels.py. */
  kernel: string;
  in: "R" | "Python";
  named: string;
  /** R packages it needs beside R's own. */
  packages?: readonly string[];
  /** How far each of its numbers may be from ours, as a part of the number; of numbers below `of`, as a part of that. */
  tolerance: number;
  of?: number;
  /** It takes minutes: run once, and not warm. */
  isSlow?: boolean;
}

interface Kernel {
  /** Its name in ours.ts. */
  kernel: string;
  what: string;
  peers: readonly Peer[];
}

const exact = 1e-9;
const kernels: readonly Kernel[] = [
  {
    kernel: "incidence",
    what: "Aalen–Johansen, 100 thousand spells",
    peers: [
      {kernel: "incidence", in: "R", named: "R survival", packages: ["survival"], tolerance: exact},
      {kernel: "incidence", in: "Python", named: "numpy", tolerance: exact}
    ]
  },
  {
    kernel: "lots",
    what: "lot bootstrap of the rolled yield, 2,000 × 75",
    peers: [
      {kernel: "lots", in: "R", named: "R", tolerance: exact},
      {kernel: "lots", in: "Python", named: "numpy", tolerance: exact}
    ]
  },
  {
    kernel: "spread",
    what: "bootstrap of spread, 2,000 × 400",
    peers: [
      {kernel: "spread", in: "R", named: "R", tolerance: exact},
      {kernel: "spread", in: "Python", named: "numpy", tolerance: exact}
    ]
  },
  {
    kernel: "densities",
    what: "bandwidth and density of 1,000 values at 512 points",
    peers: [
      {kernel: "densities", in: "R", named: "R density()", tolerance: 3e-3, of: 1e-3},
      {kernel: "directDensities", in: "R", named: "R, summed directly", tolerance: 1e-8, of: 1e-3},
      {kernel: "densities", in: "Python", named: "scipy", tolerance: 1e-8, of: 1e-3}
    ]
  },
  {
    kernel: "plan",
    what: "purchase plan, two species, six suppliers, budget",
    peers: [
      {kernel: "plan", in: "R", named: "R", tolerance: exact},
      {kernel: "plan", in: "Python", named: "numpy", tolerance: exact}
    ]
  },
  {
    kernel: "assignment",
    what: "assignment 300 × 400",
    peers: [
      {kernel: "hungarian", in: "R", named: "R clue", packages: ["clue"], tolerance: exact},
      {kernel: "assignment", in: "R", named: "R lpSolve", packages: ["lpSolve"], tolerance: exact, isSlow: true},
      {kernel: "assignment", in: "Python", named: "scipy", tolerance: exact}
    ]
  }
];

const reasons = [
  "All read the same inputs and the same draws before the clock starts. First is the first call of a fresh process, warm the median of the later ones. Every answer is compared: plan and assignment must be the same, other numbers agree to 1e-8 or better.",
  "density() of R puts the values on a grid and is up to 0.3 % off, which the comparison allows for; ours adds up every value at every point, and that costs half a million exponentials: behind density(), ahead of R when it sums directly too.",
  "First calls: ours run before V8 has compiled them, R's vectors and clue are compiled C. Where the first is behind R and the warm ahead, that is the reason.",
  "scipy's assignment is compiled C++; ours is a well-kept library, kept as it is fast enough for a rack of any size.",
  "The plan's profit is exact; the plan is searched by all three, and where money is tight another search can find one that earns some ten thousandths more or less.",
  "lp.assign writes the assignment as an integer program: once, as it takes minutes."
];

/** Our kernels against R's and numpy's. */
export const kernelSuite: Suite = {
  name: "kernels",
  title: "Kernels against R and numpy",
  run(rounds) {
    const folder = mkdtempSync(join(tmpdir(), "kernels-"));
    try {
      writeInputs(folder);
      const [r, python] = [findR(), findPython()];
      const isThere = (peer: Peer) =>
        peer.in === "Python" ? python !== undefined : (peer.packages ?? []).every((name) => r?.packages.includes(name));
      const own = kernels.map((one) => ({
        ...one,
        peers: one.peers.filter((peer) => (peer.in === "R" ? r !== undefined : true) && isThere(peer))
      }));
      const run = (peer: Peer, when: When): string[] =>
        peer.in === "R"
          ? [r!.program, join(programs, "kernels.R"), folder, peer.kernel, when]
          : [python!.program, join(programs, "kernels.py"), folder, peer.kernel, when];
      const measured = own.flatMap((one) => measure(casesOf(one, folder, run), rounds));
      const slow = own.flatMap((one) => measure(slowCases(one, folder, run), 1));
      for (const one of own) compare(one, folder);
      return {
        cases: [...measured, ...slow],
        ratios: own.flatMap((one) => [...ratiosOf(measured, one), ...slowRatios(slow, one)]),
        notes: [
          r
            ? `R ${r.version}, with ${r.packages.join(", ") || "none of its packages"}.`
            : "No Rscript on this machine: nothing compared with R.",
          python ? python.version : "No Python with numpy and scipy on this machine: nothing compared with these.",
          ...reasons
        ]
      };
    } finally {
      rmSync(folder, {recursive: true, force: true});
    }
  }
};

type When = "first" | "warm";
type Run = (peer: Peer, when: When) => string[];
const whens: readonly When[] = ["first", "warm"];
const programs = join("scripts", "bench", "kernels");
const nameOf = ({what}: Kernel, who: string, when: string) => `${what}: ${who}, ${when}`;

function ours(kernel: Kernel, folder: string, when: When, called: string): Case {
  const command = ["node", "--import", "tsx", join(programs, "ours.ts"), folder, kernel.kernel, when];
  return {name: nameOf(kernel, "ours", called), command, tells: true};
}

function casesOf(kernel: Kernel, folder: string, run: Run): Case[] {
  return whens.flatMap((when) => [
    ours(kernel, folder, when, when),
    ...kernel.peers
      .filter(({isSlow}) => !isSlow)
      .map((peer) => ({name: nameOf(kernel, peer.named, when), command: run(peer, when), tells: true}))
  ]);
}

function slowCases(kernel: Kernel, folder: string, run: Run): Case[] {
  const slow = kernel.peers.filter(({isSlow}) => isSlow);
  if (slow.length === 0) return [];
  const cases = slow.map((peer) => ({
    name: nameOf(kernel, peer.named, "once"),
    command: run(peer, "first"),
    tells: true
  }));
  return [ours(kernel, folder, "first", "once"), ...cases];
}

function ratiosOf(measured: readonly Measured[], kernel: Kernel): Ratio[] {
  return kernel.peers.flatMap((peer) =>
    peer.isSlow ? [] : whens.map((when) => against(measured, kernel, peer, when))
  );
}

function slowRatios(measured: readonly Measured[], kernel: Kernel): Ratio[] {
  return kernel.peers.flatMap((peer) => (peer.isSlow ? [against(measured, kernel, peer, "once")] : []));
}

function against(measured: readonly Measured[], kernel: Kernel, peer: Peer, when: string): Ratio {
  const [of, to] = [nameOf(kernel, "ours", when), nameOf(kernel, peer.named, when)];
  return ratio(measured, of, to, `${kernel.what}: ours to ${peer.named}, ${when}`, peer.in === "R" ? 1 : undefined);
}

/** Fails where a peer's answer is not ours: a speed of another answer is none. */
function compare({kernel, what, peers}: Kernel, folder: string): void {
  const mine = answer(folder, `${kernel}.ours.txt`);
  for (const peer of peers) {
    const theirs = answer(folder, `${peer.kernel}.${peer.in === "R" ? "R" : "python"}.txt`);
    if (theirs.length !== mine.length)
      throw new Error(`${what}: ${peer.named} gave ${theirs.length} numbers, ours ${mine.length}.`);
    mine.forEach((x, i) => {
      const isAlike =
        (Number.isNaN(x) && Number.isNaN(theirs[i])) ||
        Math.abs(x - theirs[i]!) <= peer.tolerance * Math.max(Math.abs(x), peer.of ?? 0);
      if (!isAlike) throw new Error(`${what}: number ${i + 1} of ${peer.named} is ${theirs[i]}, ours ${x}.`);
    });
  }
}

function answer(folder: string, name: string): number[] {
  const lines = readFileSync(join(folder, name), "utf8").trim().split("\n");
  return lines.map((line) => Number(line.trim())); // "NA" and "NaN" alike are NaN
}

function findR(): {program: string; version: string; packages: string[]} | undefined {
  const wanted = [...new Set(kernels.flatMap(({peers}) => peers.flatMap(({packages = []}) => packages)))];
  const ask = `cat(paste(R.version$major, R.version$minor, sep = "."), Filter(function(p) requireNamespace(p, quietly = TRUE), c(${wanted.map((name) => `"${name}"`).join(", ")})))`;
  const {status, stdout} = spawnSync("Rscript", ["-e", ask], {encoding: "utf8"});
  if (status !== 0) return undefined;
  const [version = "", ...packages] = stdout.trim().split(" ");
  return {program: "Rscript", version, packages};
}

/** Debian's Python first, as that is the one with numpy and scipy there. */
function findPython(): {program: string; version: string} | undefined {
  const ask = `import sys, numpy, scipy; print(f"Python {sys.version.split()[0]}, numpy {numpy.__version__}, scipy {scipy.__version__}.")`;
  for (const program of ["/usr/bin/python3", "python3", "python"]) {
    const {status, stdout} = spawnSync(program, ["-c", ask], {encoding: "utf8"});
    if (status === 0) return {program, version: stdout.trim()};
  }
  return undefined;
}
