import {expect, test} from "vitest";
import {benjaminiHochberg} from "../../lib/stats/benjaminiHochberg.ts";
import {chiSquareTest} from "../../lib/stats/chiSquareTest.ts";
import {fisherExact} from "../../lib/stats/fisherExact.ts";
import {bonferroni, holm} from "../../lib/stats/holm.ts";
import {expectClose} from "./close.ts";

// Check rates.fleiss-smokers: smokers among lung cancer patients in 4 hospitals (Fleiss 1981 p.139).
// Published (memory): R ?prop.test, Fleiss (1981) p.139: X-squared = 12.6, df = 3, p = 0.005585.
// R: chisq.test(m,correct=FALSE); fisher.test(m,workspace=2e8). Tolerance 1e-07 relative.
const smokers = {
  input: {x: [83, 90, 129, 70], n: [86, 93, 136, 82]},
  expected: {chisq: 12.6004112971, df: 3, p: 0.00558547666163, minExpected: 5.1637279597, fisherP: 0.0144719066472}
};

test("chiSquareTest and fisherExact of smokers in four hospitals agree with R and the printed χ²", () => {
  const {x, n} = smokers.input;
  const table = x.map((count, i) => [count, n[i]! - count]);
  const got = chiSquareTest(table)!;
  expectClose(got.chiSquare, smokers.expected.chisq, 1e-7);
  expect(got.df).toBe(smokers.expected.df);
  expectClose(got.p, smokers.expected.p, 1e-7);
  expectClose(got.smallestExpected, smokers.expected.minExpected, 1e-9);
  expectClose(fisherExact(table), smokers.expected.fisherP, 1e-7);
  expect(got.chiSquare).toBeCloseTo(12.6, 2);
  expect(got.p).toBeCloseTo(0.005585, 6);
});

// Check rates.tea: fisher's lady tasting tea, 2x2.
// Published (memory): Agresti (1990) p.61; R ?fisher.test: one-sided p = 0.2429; two-sided 0.4857 = 34/70.
// R: fisher.test(m); fisher.test(m,alternative='greater'). Tolerance 1e-08 relative.
// Exact by counting: 34/70 and 17/70.
test("fisherExact of the lady tasting tea is 34/70, one-sided 17/70", () => {
  const tea = [
    [3, 1],
    [1, 3]
  ];
  const expected = {fisherTwoSided: 0.485714285714, fisherGreater: 0.242857142857};
  expectClose(fisherExact(tea), expected.fisherTwoSided, 1e-8);
  expectClose(fisherExact(tea, {side: "greater"}), expected.fisherGreater, 1e-8);
  expectClose(fisherExact(tea), 34 / 70, 1e-12);
  expectClose(fisherExact(tea, {side: "greater"}), 17 / 70, 1e-12);
  expectClose(fisherExact(tea, {side: "less"}), 69 / 70, 1e-12);
});

// Check rates.defects-3-suppliers: discards/kept for three suppliers.
// Published: none; R only.
// R: chisq.test(m,correct=FALSE); fisher.test(m,workspace=2e8). Tolerance 1e-07 relative.
const defects = {
  input: {
    table: [
      [9, 4, 15],
      [71, 36, 45]
    ]
  },
  expected: {chisq: 6.14309210526, df: 2, p: 0.04634944076, minExpected: 6.22222222222, fisherP: 0.0563208750394}
};

// Check rates.sparse-2x4: sparse 2x4 (expected < 5: use Fisher).
// Published: none; R only.
// R: chisq.test(m,correct=FALSE); fisher.test(m,workspace=2e8). Tolerance 1e-07 relative.
const sparse = {
  input: {
    table: [
      [0, 1, 3, 0],
      [5, 12, 4, 7]
    ]
  },
  expected: {chisq: 7.88697017268, df: 3, p: 0.0484063726888, minExpected: 0.625, fisherP: 0.0822024471635}
};

for (const [name, {input, expected}] of Object.entries({defects, sparse})) {
  test(`chiSquareTest and fisherExact agree with R: ${name}`, () => {
    const got = chiSquareTest(input.table)!;
    expectClose(got.chiSquare, expected.chisq, 1e-7);
    expect(got.df).toBe(expected.df);
    expectClose(got.p, expected.p, 1e-7);
    expectClose(got.smallestExpected, expected.minExpected, 1e-7);
    expectClose(fisherExact(input.table), expected.fisherP, 1e-7);
  });
}

// Published: none; R only. R 4.2.2: fisher.test(rbind(c(3,1,2), c(0,4,1), c(2,2,5)))$p.value and chisq.test(…,
// correct = FALSE).
test("fisherExact of a 3 × 3 table agrees with R", () => {
  const table = [
    [3, 1, 2],
    [0, 4, 1],
    [2, 2, 5]
  ];
  expectClose(fisherExact(table), 0.179918378834785, 1e-9);
  expectClose(chiSquareTest(table)!.p, 0.100066147936825, 1e-9);
});

// Check rates.bh-1995: benjamini & Hochberg 1995, 15 p-values.
// Published (read): Benjamini & Hochberg (1995) JRSS B 57:289-300 section 3.2: BH rejects the 4 smallest (largest
// rejected p = 0.0095), Bonferroni 3; read in stored test files that quote the table.
// R: p.adjust(p, 'BH' | 'holm' | 'bonferroni'). Tolerance 1e-09 relative.
const fifteen = {
  input: {
    p: [
      0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344, 0.0459, 0.324, 0.4262, 0.5719, 0.6528, 0.759, 1
    ],
    q: 0.05
  },
  expected: {
    bh: [
      0.0015, 0.003, 0.0095, 0.035625, 0.0603, 0.0638571428571, 0.0638571428571, 0.0645, 0.0765, 0.486, 0.581181818182,
      0.714875, 0.753230769231, 0.813214285714, 1
    ],
    holm: [0.0015, 0.0056, 0.0247, 0.114, 0.2211, 0.278, 0.278, 0.278, 0.3213, 1, 1, 1, 1, 1, 1],
    bonferroni: [0.0015, 0.006, 0.0285, 0.1425, 0.3015, 0.417, 0.447, 0.516, 0.6885, 1, 1, 1, 1, 1, 1],
    rejectedBH: 4,
    rejectedBonferroni: 3
  }
};

test("benjaminiHochberg, holm and bonferroni agree with R, and reject four, three and three at 0.05", () => {
  const {input, expected} = fifteen;
  const adjusted = benjaminiHochberg(input.p);
  expectClose(adjusted, expected.bh, 1e-9);
  expectClose(holm(input.p), expected.holm, 1e-9);
  expectClose(bonferroni(input.p), expected.bonferroni, 1e-9);
  const rejected = (by: number[]) => input.p.filter((_, i) => by[i]! <= input.q);
  expect(rejected(adjusted)).toHaveLength(expected.rejectedBH);
  expect(Math.max(...rejected(adjusted))).toBe(0.0095);
  expect(rejected(bonferroni(input.p))).toHaveLength(expected.rejectedBonferroni);
});
