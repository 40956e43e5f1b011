import {expect, test} from "vitest";
import {costRank} from "../../lib/yield/costRank.ts";
import type {ShaftCost} from "../../lib/yield/shaftCost.ts";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {makeHistories, makePiece} from "../pieces.ts";
import {now} from "../recovery/sample.ts";

const row = (supplier: string, squareCost: number, share: number, more: Partial<ShaftCost> = {}): ShaftCost => ({
  species: "ash",
  supplier,
  lots: 5,
  squares: 100,
  squareCost,
  carriageEach: 2,
  undecidedFraction: 0,
  inWindowFraction: share,
  inWindowCost: squareCost / share,
  inWindowLog: {estimate: Math.log(squareCost / share), variance: 0.01, clusters: 5},
  inWindowShareLog: {estimate: Math.log(share), variance: 0.01, clusters: 5},
  ...more
});

// By hand: 12 a square and half usable is 24 a shaft; the other's is 10 at 0.4, 25. To cost 24, its square may cost 0.4 · 24 − 2 = 7.60; to
// cost 25, the first's may cost 0.5 · 25 − 2 = 10.50.
test("costRank(two suppliers): a square is worth what makes its usable shaft cost the other's, less carriage", () => {
  const ranks = costRank([row("A", 12, 0.5), row("B", 10, 0.4)]);
  expect(ranks.map(({supplier, against, priceEach}) => [supplier, against, priceEach])).toEqual([
    ["A", "B", 10],
    ["B", "A", 8]
  ]);
  expect(ranks[0]!.worthEach).toBeCloseTo(10.5, 10);
  expect(ranks[1]!.worthEach).toBeCloseTo(7.6, 10);
  expect(ranks[0]!.worthLow).toBeLessThan(10.5);
  expect(ranks[0]!.worthHigh).toBeGreaterThan(10.5);
  expect(ranks[0]!.chanceCheapest + ranks[1]!.chanceCheapest).toBeCloseTo(1, 12);
  expect(ranks[0]!.chanceCheapest).toBeGreaterThan(0.5);
});

test("costRank: like suppliers share the chance; one of few lots, or alone in its species, has no say", () => {
  const three = costRank([row("A", 12, 0.5), row("B", 12, 0.5), row("C", 12, 0.5)]);
  for (const {chanceCheapest} of three) expect(chanceCheapest).toBeCloseTo(1 / 3, 9);
  const {inWindowLog: _, ...young} = row("Young", 1, 0.9);
  expect(costRank([row("A", 12, 0.5), row("B", 12, 0.5), young]).map(({supplier}) => supplier)).toEqual(["A", "B"]);
  expect(costRank([row("A", 12, 0.5), row("B", 12, 0.5, {species: "maple"})])).toEqual([]);
});

test("costRank(sample book): the chances of a species add up to 1, and a square worth more than its price is one of the likelier", () => {
  const ranks = costRank(shaftCost(now));
  for (const species of ["ash", "maple"]) {
    const own = ranks.filter((one) => one.species === species);
    expect(own.reduce((sum, {chanceCheapest}) => sum + chanceCheapest, 0)).toBeCloseTo(1, 9);
    const cheapest = own.toSorted((a, b) => a.inWindowCost - b.inWindowCost)[0]!;
    expect(own.filter(({worthEach, priceEach}) => worthEach > priceEach).map(({supplier}) => supplier)).toEqual([
      cheapest.supplier
    ]);
  }
});

// By hand: with 8 of work a square, A comes to 20 and half usable, 40 a shaft, and B to 18 at 0.4, 45. To cost 45, A may cost 0.5 · 45 − 2 − 8 = 12.50.
test("costRank with the work on each square: timber that fails less is worth more", () => {
  const [first] = costRank([row("A", 20, 0.5), row("B", 18, 0.4)], 8);
  expect(first).toMatchObject({supplier: "A", against: "B"});
  expect(first!.worthEach).toBeCloseTo(12.5, 10);
  expect(first!.priceEach).toBeCloseTo(10, 10);
});

// Every lot of both exactly half usable, B's prices all 13: A's square is worth 0.5 · 26 = 13 for certain, whatever was paid for it.
test("costRank: how A's prices scattered says nothing of what a square of it is worth", () => {
  const certain = (supplier: string, prices: readonly number[]) =>
    prices.flatMap((priceEach, k) => ({lot: `${supplier}${k}`, supplier, priceEach}));
  const lots = [...certain("A", [8, 10, 12, 14, 16, 18]), ...certain("B", [13, 13, 13, 13, 13, 13])];
  const pieces = lots.flatMap(({lot, supplier}) => [
    makePiece({lot, supplier, turned: [60, 90, 120, 150]}),
    makePiece({lot, supplier, discarded: 20})
  ]);
  const prices = Object.fromEntries(lots.map(({lot, priceEach}) => [lot, {priceEach}]));
  for (const workEach of [0, 14]) {
    const ranks = costRank(shaftCost(makeHistories(pieces, {asOf: 200, lots: prices}), {workEach}), workEach);
    const a = ranks.find(({supplier}) => supplier === "A")!;
    expect(a.worthEach).toBeCloseTo(13, 9);
    expect(a.worthLow).toBeCloseTo(13, 6);
    expect(a.worthHigh).toBeCloseTo(13, 6);
  }
});
