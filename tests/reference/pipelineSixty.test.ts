import {expect, test} from "vitest";
import type {Piece} from "../../lib/book/histories.ts";
import {purchaseSpells, stageSpells} from "../../lib/book/spells.ts";
import {aalenJohansen} from "../../lib/stats/aalenJohansen.ts";
import {normalFactor} from "../../lib/stats/interval.ts";
import {stageYields} from "../../lib/yield/stageYields.ts";
import {makePiece, settings} from "../pieces.ts";
import {expectClose} from "./close.ts";

// Check pipeline.sixty: 60 squares over 420 days with growing purchases, simulated. Published: none; R only.
// Computed in R 4.2.2 with survival 3.5-3: survfit(Surv(t, factor) ~ 1) on the time in each stage and since purchase, SE its
// infinitesimal jackknife (= the delta formula). Expected values carry 12 digits: relTol 1e-8.
const relTol = 1e-8;
const asOf = 420;

// id, bought, turned to the second, third, fourth, last stage, discarded, cause; a blank: not reached.
const csv = `1,55,78,115,195,225,,
2,59,104,192,234,259,,
3,72,103,140,194,213,,
4,83,104,181,,,220,warp
5,100,147,206,262,294,,
6,101,126,179,222,247,,
7,102,,,,,116,knot
8,106,129,209,,,285,knot
9,113,141,198,,,216,check
10,120,146,173,254,,258,knot
11,161,185,,,,222,knot
12,175,204,246,291,352,,
13,183,208,254,285,310,,
14,187,216,273,346,372,,
15,192,216,,,,258,knot
16,199,238,269,344,377,,
17,203,243,308,385,,,
18,212,232,305,351,388,,
19,220,234,295,,,322,knot
20,230,259,311,364,381,,
21,240,273,337,,,,
22,243,264,318,345,373,,
23,257,,,,,278,check
24,261,282,355,,,,
25,265,297,358,417,,,
26,280,320,352,416,,,
27,289,313,382,416,,,
28,292,313,380,,,,
29,293,326,365,,,,
30,311,343,398,,,,
31,320,344,,,,,
32,332,365,394,,,,
33,341,,,,,356,check
34,347,379,,,,,
35,348,,,,,359,warp
36,354,392,,,,,
37,359,,,,,391,warp
38,364,385,,,,,
39,364,395,,,,,
40,365,404,,,,,
41,366,392,,,,,
42,376,405,,,,,
43,380,405,,,,,
44,380,412,,,,,
45,381,405,,,,,
46,397,,,,,,
47,401,,,,,,
48,401,,,,,,
49,402,,,,,,
50,405,,,,,,
51,406,,,,,,
52,406,,,,,,
53,410,,,,,,
54,411,,,,,,
55,411,,,,,,
56,415,,,,,,
57,415,,,,,,
58,417,,,,,,
59,417,,,,,,
60,418,,,,,,`;

const pieces: Piece[] = csv.split("\n").map((line) => {
  const [id, bought, ...rest] = line.split(",");
  const turned = rest
    .slice(0, 4)
    .filter((day) => day !== "")
    .map(Number);
  const [discarded, defect] = rest.slice(4);
  const out = discarded ? {discarded: Number(discarded), defect: defect!} : {};
  return makePiece({square: id!, boughtOn: Number(bought), turned, ...out});
});

const yields = stageYields({settings, asOf}, pieces);
const stageNames = ["square", "rough-round", "second-round", "proud-round"];
const curves = stageNames.map((stage) => aalenJohansen(stageSpells(pieces, stage, asOf)));
const count = (fate: Piece["fate"]) => pieces.filter((piece) => piece.fate === fate).length;

/** Fraction times and over e^(z·se), se that of its logarithm. */
const logLimits = (fraction: number, se: number) => {
  const factor = Math.exp(normalFactor(0.95, "test") * se);
  return [fraction / factor, fraction * factor];
};

test("the sixty squares are 12 finished, 12 discarded, 36 in stock", () => {
  expect([pieces.length, count("finished"), count("discarded"), count("in stock")]).toEqual([60, 12, 12, 36]);
});

test("stageYields(the sixty squares) counts entered, passed, discarded and in stage as R does", () => {
  expect(yields.stages.map(({entered, passed, discarded, inStage}) => [entered, passed, discarded, inStage])).toEqual([
    [60, 40, 5, 15],
    [40, 27, 2, 11],
    [27, 17, 4, 6],
    [17, 12, 1, 4]
  ]);
});

test("stageYields(the sixty squares).yieldFraction and .undecidedFraction are R's, stage by stage", () => {
  expectClose(
    yields.stages.map(({yieldFraction}) => yieldFraction),
    [0.89688608156, 0.933586337761, 0.777109721554, 0.9375],
    relTol
  );
  expectClose(
    yields.stages.map(({undecidedFraction}) => undecidedFraction),
    [0, 0, 0.0528031639143, 0],
    relTol
  );
});

test("stageYields(the sixty squares).rolledFraction is R's product 0.610, and the delta limits 0.456 to 0.816", () => {
  expectClose(yields.rolledFraction, 0.610021849043, relTol);
  const se = curves.map((curve) => curve.incidence.passed!.se.at(-1)!);
  expectClose(se, [0.0438619175599, 0.0453873654547, 0.0888870392796, 0.0605153647845], relTol);
  const relative = Math.hypot(...se.map((one, i) => one / yields.stages[i]!.yieldFraction!));
  expectClose(logLimits(yields.rolledFraction!, relative), [0.456118226222, 0.815855703447], relTol);
});

test("aalenJohansen(purchaseSpells(the sixty squares)) is R's: finished 0.585, SE 0.099, 6 % undecided", () => {
  const curve = aalenJohansen(purchaseSpells(pieces, asOf));
  const last = (cause: string) => curve.incidence[cause]!.fraction.at(-1)!;
  expect(curve.times.at(-1)).toBe(200);
  expect(curve.atRisk.at(-1)).toBe(2);
  expectClose(last("finished"), 0.585133292965, relTol);
  expectClose(curve.incidence.finished!.se.at(-1), 0.0990987961943, relTol);
  expectClose(
    ["warp", "check", "knot"].map((defect) => last(`discarded: ${defect}`)),
    [0.0808557275871, 0.0742778392634, 0.19702046193],
    relTol
  );
  expectClose(curve.survival.at(-1), 0.0627126782543, relTol);
});

// Each of these is in use and each estimates something else; the right one is 0.610.
const naive = {
  "finished in the last 30 days ÷ bought in them":
    pieces.filter(({fate, fateOn}) => fate === "finished" && fateOn! > asOf - 30).length /
    pieces.filter(({boughtOn}) => boughtOn > asOf - 30).length,
  "finished ÷ bought": count("finished") / pieces.length,
  "finished ÷ decided": count("finished") / (count("finished") + count("discarded")),
  "1 − discarded ÷ bought": 1 - count("discarded") / pieces.length,
  "product of passed ÷ entered": yields.stages.reduce((product, row) => product * (row.passed / row.entered), 1),
  "product of passed ÷ decided": yields.stages.reduce(
    (product, row) => product * (row.passed / (row.passed + row.discarded)),
    1
  )
};

test.each([
  ["finished in the last 30 days ÷ bought in them", 0],
  ["finished ÷ bought", 0.2],
  ["finished ÷ decided", 0.5],
  ["1 − discarded ÷ bought", 0.8],
  ["product of passed ÷ entered", 0.2],
  ["product of passed ÷ decided", 0.618416066692]
] as const)("%s is %d, and is not the rolled yield", (name, want) => {
  expectClose(naive[name], want, relTol, name);
  expect(Math.abs(naive[name] - yields.rolledFraction!)).toBeGreaterThan(0.005);
});

test("passed ÷ decided has R's limits 0.460 to 0.832 by the delta method", () => {
  const variance = yields.stages.reduce((sum, {passed, discarded}) => {
    const decided = passed + discarded;
    return sum + discarded / (decided * passed);
  }, 0);
  expectClose(Math.sqrt(variance), 0.15148199364, relTol);
  expectClose(
    logLimits(naive["product of passed ÷ decided"], Math.sqrt(variance)),
    [0.459556652659, 0.832189958148],
    relTol
  );
});
