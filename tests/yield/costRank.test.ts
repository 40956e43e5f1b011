import {expect, test} from "vitest";
import {supply} from "../../lib/buying/supply.ts";
import {randomStream} from "../../lib/stats/random.ts";
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
  latelySquareCost: squareCost,
  latelyCarriageEach: 2,
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
  // Variances 0.01 of five lots each: t of 8 degrees of freedom, printed table 2.306004, times √0.02.
  const half = 2.306004 * Math.sqrt(0.02);
  expect(ranks[0]!.worthLow).toBeCloseTo(12.5 * Math.exp(-half) - 2, 5);
  expect(ranks[0]!.worthHigh).toBeCloseTo(12.5 * Math.exp(half) - 2, 5);
  expect(ranks[0]!.chanceCheapest + ranks[1]!.chanceCheapest).toBeCloseTo(1, 12);
  expect(ranks[0]!.chanceCheapest).toBeGreaterThan(0.5);
});

test("costRank: like suppliers share the chance; one of few lots, or alone in its species, has no say", () => {
  const three = costRank([row("A", 12, 0.5), row("B", 12, 0.5), row("C", 12, 0.5)]);
  for (const {chanceCheapest} of three) expect(chanceCheapest).toBeCloseTo(1 / 3, 9);
  const {inWindowShareLog: _, ...young} = row("Young", 1, 0.9);
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

// By hand: of A's half, four fifths are left: 12/0.4 = 30 a shaft. To cost B's 25, its square may cost 0.4 · 25 − 2 = 8.
test("costRank: a supplier that has got worse is rated by what passes now", () => {
  const ranks = costRank([row("A", 12, 0.5), row("B", 10, 0.4)], 0, {A: 0.8});
  const a = ranks.find(({supplier}) => supplier === "A")!;
  expect(a.inWindowCost).toBeCloseTo(30, 10);
  expect(a.worthEach).toBeCloseTo(8, 10);
  // Half the fall is doubt: √(0.01 + (ln 0.8 / 2)²) of 30: ln 0.8 = −0.223144, √0.022448 = 0.149827, 4.49482.
  expect(a.costError).toBeCloseTo(4.49482, 4);
  expect(a.chanceCheapest).toBeLessThan(0.5);
  expect(ranks.find(({supplier}) => supplier === "B")!.worthEach).toBeCloseTo(0.4 * 30 - 2, 10);
  const [first, last] = costRank([row("A", 12, 0.5), row("B", 10, 0.4)], 0, {A: 0, B: 1.5});
  expect([first!.supplier, last!.supplier]).toEqual(["B", "A"]);
  expect(first!.inWindowCost).toBeCloseTo(25, 10);
});

// By hand: A was dear once, 30, and is 12 since three lots; half usable, 24 a shaft. B's two fifths are then worth 0.4 · 24 = 9.60.
test("costRank: costs, price and worth are at what is paid lately, not at the mean of all years", () => {
  const lot = (supplier: string, k: number, priceEach: number, shafts: number) => ({
    pieces: Array.from({length: 10}, (_, i) =>
      makePiece({
        lot: `${supplier}${k}`,
        supplier,
        boughtOn: k,
        ...(i < shafts ? {turned: [60, 90, 120, 150]} : {discarded: 20})
      })
    ),
    terms: [`${supplier}${k}`, {priceEach}] as const
  });
  const lots = [0, 1, 2, 3, 4, 5].flatMap((k) => [lot("A", k, k < 3 ? 30 : 12, 5), lot("B", k, 10, 4)]);
  const histories = makeHistories(
    lots.flatMap(({pieces}) => pieces),
    {asOf: 200, lots: Object.fromEntries(lots.map(({terms}) => terms))}
  );
  const ranks = costRank(shaftCost(histories));
  const [a, b] = [ranks.find(({supplier}) => supplier === "A")!, ranks.find(({supplier}) => supplier === "B")!];
  expect([a.priceEach, b.priceEach]).toEqual([12, 10]);
  expect(a.inWindowCost).toBeCloseTo(24, 9);
  expect(b.worthEach).toBeCloseTo(9.6, 9);
  expect(a.chanceCheapest).toBeCloseTo(1, 9);
});

test("costRank(sample book): what is paid is what the season's plan takes a square to cost", () => {
  const workEach = 14;
  let compared = 0;
  for (const {species, supplier, priceEach} of costRank(shaftCost(now, {workEach}), workEach)) {
    const offer = supply(now, species, () => 0.5).offers.find((one) => one.supplier === supplier);
    if (offer) expect(priceEach).toBeCloseTo(offer.priceEach, 9);
    compared += offer ? 1 : 0;
  }
  expect(compared).toBeGreaterThan(5);
});

// Drawn anew each time: shares of lots about 0.5 and 0.4, B at 10 a square; so A's square is worth 0.5 · 10/0.4 = 12.50 in truth, at whatever prices.
test("costRank: the interval of the worth holds the truth in 92 to 98 of 100 drawn books", () => {
  const random = randomStream(23);
  const tries = 200;
  let held = 0;
  for (let i = 0; i < tries; i++) {
    const lots = [0, 1, 2, 3, 4, 5, 6, 7].flatMap((k) =>
      (["A", "B"] as const).map((supplier) => {
        const share = (supplier === "A" ? 0.5 : 0.4) + 0.2 * (random() - 0.5);
        return {lot: `${supplier}${k}`, supplier, share, priceEach: supplier === "A" ? 6 + 12 * random() : 10};
      })
    );
    const pieces = lots.flatMap(({lot, supplier, share}) =>
      Array.from({length: 20}, () =>
        makePiece({lot, supplier, ...(random() < share ? {turned: [60, 90, 120, 150]} : {discarded: 20})})
      )
    );
    const prices = Object.fromEntries(lots.map(({lot, priceEach}) => [lot, {priceEach}]));
    const ranks = costRank(shaftCost(makeHistories(pieces, {asOf: 200, lots: prices})));
    const {worthLow, worthHigh} = ranks.find(({supplier}) => supplier === "A")!;
    if (worthLow <= 12.5 && worthHigh >= 12.5) held++;
  }
  expect(held / tries).toBeGreaterThan(0.92);
  expect(held / tries).toBeLessThan(0.98);
});
