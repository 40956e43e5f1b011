import {readdirSync, readFileSync} from "node:fs";
import {fileURLToPath} from "node:url";
import {expect, test} from "vitest";

// The checks of lib/stats and of buying against values from outside, by name: made in R 4.2.2 (survival 3.5-3, cmprsk
// 2.2-11, car 3.1-1, boot 1.3-28.1, MASS 7.3-58.2, VGAM 1.1-7, clue 0.3-64), many with a published value beside them.
// Each stands, with source, status (read, memory, R only), R call and tolerance, in one of the files beside this one.
const ids = `
  special.pbeta special.qbeta special.pgamma-lgamma special.tails special.noncentral-t special.tails-2
  binom.newcombe-81-263 binom.newcombe-0-20 binom.camis-36-154 binom.edge-20-20 binom.ninety-7-9
  binom.large-1184-1246 binom.eighty-3-47
  strd.lew strd.michelso strd.numacc1 strd.numacc2 strd.numacc4
  km.freireich-6mp km.freireich-logrank km.step-eval km.falls-to-zero km.median-flat
  delayed.simple1 delayed.simple2 delayed.early-risk-set
  aj.scrucca-35 aj.bmt-aml-low aj.workshop-48 aj.conditional-finish
  spread.gear spread.density-3-suppliers
  rates.fleiss-smokers rates.tea rates.defects-3-suppliers rates.sparse-2x4 rates.bh-1995
  quantile.t7-small quantile.t7-density quantile.t7-single
  kde.faithful kde.weights-23
  tol.nist-43 tol.nist-6 tol.n10 tol.density-14 tol.n4 tol.n60
  rty.four-stages rty.small
  boot.accel-spatial boot.enum-sd6 boot.enum-median6 boot.fixed-sd10
  eb.geissler eb.rats eb.suppliers-7 eb.boundary eb.pmf eb.pmf-large
  pchart.nist-wafer pchart.laney-sigmaz pchart.variable-n
  demand.nb-mites demand.monthly-24 demand.underdispersed
  assign.scipy-3 assign.6x6 assign.rect-3x5 assign.ties assign.forbidden assign.negative
  news.normal-ex4.3 news.poisson-ex4.7 news.discrete-p4.7b news.poisson-loss-table
  plan.single plan.two-suppliers plan.common-yield plan.window-share plan.moment-matched-beta plan.buy-nothing
  plan.thinned-betabinomial plan.window-two-suppliers plan.service-target-misjudged
  conv.binomials conv.poisson-binomial
  pipeline.sixty
`
  .trim()
  .split(/\s+/);

const folder = fileURLToPath(new URL(".", import.meta.url));
const files = readdirSync(folder)
  .filter((file) => file.endsWith(".test.ts") && file !== "checks.test.ts")
  .map((file) => ({file, text: readFileSync(`${folder}/${file}`, "utf8")}));

/** Whether the text has that name as a word: tol.n4 is not in tol.n43. */
const names = (text: string, id: string) =>
  new RegExp(`(?<![\\w.-])${id.replaceAll(".", "\\.")}(?![\\w-]|\\.\\w)`).test(text);

test("there are 88 checks, none twice", () => {
  expect(ids).toHaveLength(88);
  expect(new Set(ids).size).toBe(88);
});

test.each(ids)("check %s has its place in tests/reference", (id) => {
  const holders = files.filter(({text}) => names(text, id));
  expect(holders.map(({file}) => file)).not.toEqual([]);
  const bare = holders.filter(
    ({text}) => !(/R only|Published \((read|memory)/.test(text) && /Tolerance|relTol/.test(text))
  );
  expect(bare.map(({file}) => file)).toEqual([]);
});

test("a name inside a longer one does not count", () => {
  expect(names("// Check tol.n43: ", "tol.n4")).toBe(false);
  expect(names("// Check tol.n4.", "tol.n4")).toBe(true);
});
