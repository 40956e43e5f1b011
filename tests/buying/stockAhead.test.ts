import {expect, test} from "vitest";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import type {Piece} from "../../lib/book/histories.ts";
import {Settings} from "../../lib/book/settings.ts";
import {type PlanInput, purchaseOutcome} from "../../lib/buying/purchasePlan.ts";
import {
  demandPath,
  lastBuyDays,
  lotsAhead,
  monthEnds,
  readyShape,
  type StockInput,
  stockAhead
} from "../../lib/buying/stockAhead.ts";
import {betaMoments} from "../../lib/stats/betaMoments.ts";
import {type Random, randomStream} from "../../lib/stats/random.ts";

const today = "2026-10-31";
const until = "2027-05-31";

/** A lot of two pieces, each share equally likely: P(0, 1, 2 usable) = 1/3 each. Half is ready within 61 days, all within 151. */
const lot = {n: 2, alpha: 1, beta: 1, readyWithin: (days: number) => (days < 61 ? 0 : days < 151 ? 0.5 : 1)};
const offer = {supplier: "Near Yard", alpha: 3, beta: 2, unitCost: 20};
const input: StockInput = {
  today,
  until,
  finished: 1,
  pipeline: [lot],
  demandBy: (day) => ({mean: (dayNumber(day) - dayNumber(today)) / 60, known: 1}),
  offers: [offer],
  readyOf: (_, days) => (days < 120 ? 0 : 1)
};

const poisson = (mean: number, k: number): number => (k === 0 ? Math.exp(-mean) : (poisson(mean, k - 1) * mean) / k);

test("monthEnds: from the day after the question to the season's last day", () => {
  expect(monthEnds("2026-10-31", "2027-01-15")).toEqual(["2026-11-30", "2026-12-31", "2027-01-15"]);
  expect(monthEnds("2026-10-30", "2026-11-30")).toEqual(["2026-10-31", "2026-11-30"]);
  expect(() => monthEnds("2026-10-30", "2026-10-30")).toThrow("after 2026-10-30");
});

test("stockAhead by enumeration: rack, a lot half ready, then all of it, against Poisson orders", () => {
  const {months} = stockAhead(input);
  expect(months).toHaveLength(7);
  const served = (supply: readonly number[], mean: number) => {
    // P(1 known + Poisson ≤ 1 rack + s), and E min.
    let [service, sold] = [0, 0];
    supply.forEach((p, s) => {
      for (let d = 0; d < 60; d++) {
        const q = p * poisson(mean, d);
        if (1 + d <= 1 + s) service += q;
        sold += q * Math.min(1 + d, 1 + s);
      }
    });
    return {service, sold};
  };
  // Half ready, each piece on its own with chance 1/2: Σ over u usable of (1/3) Binomial(u, 1/2) = (1 + 1/2 + 1/4)/3, (1/2 + 1/2)/3, (1/4)/3;
  // a Beta of the same mean 1/4 and variance (1/12 + 1/4)/4 − 1/16 = 1/48 gives the same first two moments, and of two pieces the same law.
  const ways: [number, number[], number][] = [
    [0, [1], 30 / 60],
    [2, [7 / 12, 4 / 12, 1 / 12], 92 / 60],
    [6, [1 / 3, 1 / 3, 1 / 3], 212 / 60]
  ];
  for (const [k, supply, mean] of ways) {
    const want = served(supply, mean);
    expect(months[k]!.service, String(k)).toBeCloseTo(want.service, 10);
    expect(months[k]!.sold, String(k)).toBeCloseTo(want.sold, 10);
    expect(months[k]!.supplyMean).toBeCloseTo(1 + supply.reduce((sum, p, s) => sum + p * s, 0), 10);
    expect(months[k]!.demandMean).toBeCloseTo(1 + mean, 10);
    expect(months[k]!.netMean).toBeCloseTo(months[k]!.supplyMean - months[k]!.demandMean, 10);
  }
});

test("stockAhead by enumeration: the 95 % range of what is left", () => {
  const {months} = stockAhead(input);
  const {netLow, netHigh} = months[6]!;
  const mean = 212 / 60;
  const chances = new Map<number, number>();
  for (let s = 0; s <= 2; s++)
    for (let d = 0; d < 80; d++) chances.set(s - d, (chances.get(s - d) ?? 0) + poisson(mean, d) / 3);
  const below = (k: number) => [...chances].reduce((sum, [net, p]) => sum + (net <= k ? p : 0), 0);
  for (const [k, p] of [
    [netLow, 0.025],
    [netHigh, 0.975]
  ] as const) {
    expect(below(k)).toBeGreaterThanOrEqual(p);
    expect(below(k - 1)).toBeLessThan(p);
  }
});

test("stockAhead at the season's end is the plan's own outcome, doubts in common included", () => {
  const offers = [
    {supplier: "Near Yard", alpha: 9, beta: 6, lotSize: 20, doubt: 0.004, common: 0.1, unitCost: 25},
    {supplier: "Far Yard", alpha: 12, beta: 5, lotSize: 30, doubt: 0.002, common: 0.1, unitCost: 30}
  ];
  const orders = [
    {supplier: "Near Yard", squares: 45},
    {supplier: "Far Yard", squares: 20}
  ];
  const pipeline = [
    {n: 18, alpha: 8, beta: 4, common: 0.05},
    {n: 11, alpha: 3, beta: 9, common: 0.1}
  ];
  const demand = {mean: 60, size: 8, known: 3};
  const plan: PlanInput = {
    finished: 9,
    pipeline,
    offers,
    demand,
    money: {price: 140, shortageCost: 25, leftoverValue: 15}
  };
  const want = purchaseOutcome(plan, {orders});
  const {months} = stockAhead(
    {
      ...input,
      finished: 9,
      pipeline: pipeline.map((one) => ({...one, readyWithin: (days: number) => Math.min(1, days / 212)})),
      demandBy: (day) => ({...demand, mean: (demand.mean * (dayNumber(day) - dayNumber(today))) / 212}),
      offers,
      readyOf: (_, days) => Math.min(1, days / 200),
      timing: 0.3
    },
    {boughtOn: "2026-11-10", orders}
  );
  expect(months[6]!.service).toBeCloseTo(want.service, 10);
  expect(months[6]!.sold).toBeCloseTo(63 - want.expectedShort, 8);
  expect(months[6]!.supplyMean - months[6]!.sold).toBeCloseTo(want.expectedLeftover, 8);
});

test("stockAhead tells the month in which the stock runs dry by the goal, and by the mean", () => {
  const {months, dry, short} = stockAhead(input, undefined, {serviceGoal: 0.55});
  expect(dry!.month).toBe(months.find(({service}) => service < 0.55)!.month);
  expect(months.slice(0, months.indexOf(dry!)).every(({service}) => service >= 0.55)).toBe(true);
  expect(short!.netMean).toBeLessThan(0);
  const rich = stockAhead({...input, finished: 60}, undefined, {serviceGoal: 0.55});
  expect([rich.dry, rich.short]).toEqual([undefined, undefined]);
});

test("readyShape: mean and variance of the product of two shares; each on its own where timing is 0, all at once where it is 1", () => {
  const usable = {alpha: 3, beta: 2};
  const p = 0.6;
  const v = (0.6 * 0.4) / 6;
  expect(readyShape(usable, 0, 0.4)).toBeUndefined();
  expect(readyShape(usable, 1, 0.4)).toEqual(usable);
  const alone = betaMoments(readyShape(usable, 0.5, 0)!);
  expect(alone.mean).toBeCloseTo(0.3, 12);
  expect(alone.variance).toBeCloseTo(v / 4, 12);
  // All at once with chance 1/2: E X² = (v + p²)/2.
  expect(betaMoments(readyShape(usable, 0.5, 1)!).variance).toBeCloseTo((v + p ** 2) / 2 - 0.09, 12);
});

/** A gamma number of whole shape, and so a Beta share: as in the tests of `withinCorrelation`. */
const gamma = (random: Random, shape: number) => {
  let total = 0;
  for (let i = 0; i < shape; i++) total -= Math.log(1 - random());
  return total;
};
const share = (random: Random, alpha: number, beta: number) => {
  const x = gamma(random, alpha);
  return x / (x + gamma(random, beta));
};

test("stockAhead agrees with drawing: lots of luck, taken up together, against negative binomial orders", () => {
  const random = randomStream(21);
  const drawn = 40_000;
  // Ready share of a lot ~ Beta(2, 2) in month 3: mean 1/2, correlation 1/(2 + 2 + 1). Demand: Poisson about a gamma of shape 4, mean 12.
  const two: StockInput = {
    ...input,
    until: "2027-01-31",
    finished: 4,
    pipeline: [
      {n: 12, alpha: 6, beta: 3, readyWithin: () => 0.5},
      {n: 8, alpha: 2, beta: 2, readyWithin: () => 0.5}
    ],
    demandBy: () => ({mean: 12, size: 4}),
    timing: 1 / 5
  };
  const row = stockAhead(two).months[2]!;
  const nets = Array.from({length: drawn}, () => {
    let supply = 4;
    for (const [n, a, b] of [
      [12, 6, 3],
      [8, 2, 2]
    ] as const) {
      const chance = share(random, a, b) * share(random, 2, 2);
      for (let i = 0; i < n; i++) if (random() < chance) supply++;
    }
    const mean = (12 * gamma(random, 4)) / 4;
    let [demand, time] = [0, -Math.log(1 - random())];
    while (time < mean) {
      demand++;
      time -= Math.log(1 - random());
    }
    return supply - demand;
  });
  const average = nets.reduce((a, b) => a + b, 0) / drawn;
  const sd = Math.sqrt(nets.reduce((a, b) => a + (b - average) ** 2, 0) / drawn);
  expect(Math.abs(row.netMean - average)).toBeLessThan((4 * sd) / Math.sqrt(drawn));
  const served = nets.filter((net) => net >= 0).length / drawn;
  // The Beta law stands for a product of two of them, with its mean and variance: 0.002 are left for that.
  expect(Math.abs(row.service - served)).toBeLessThan(4 * Math.sqrt((served * (1 - served)) / drawn) + 0.002);
  nets.sort((a, b) => a - b);
  expect(Math.abs(row.netLow - nets[Math.floor(0.025 * drawn)]!)).toBeLessThanOrEqual(1);
  expect(Math.abs(row.netHigh - nets[Math.floor(0.975 * drawn)]!)).toBeLessThanOrEqual(1);
});

test("lastBuyDays: the last day that keeps every month, against every day tried", () => {
  const many: StockInput = {
    ...input,
    finished: 6,
    pipeline: [],
    demandBy: (day) => ({mean: (dayNumber(day) - dayNumber(today)) / 20}),
    offers: [{supplier: "Near Yard", alpha: 60, beta: 20, unitCost: 20}],
    readyOf: (_, days) => Math.min(1, Math.max(0, (days - 90) / 40))
  };
  const orders = [{supplier: "Near Yard", squares: 16}];
  const goals = [0.5, 0.8, 0.99];
  const rows = lastBuyDays(many, orders, goals);
  const bare = stockAhead(many).months;
  rows.forEach(({serviceGoal, tooSoon, tooFew, kept, buyBy, daysLeft}, k) => {
    expect(serviceGoal).toBe(goals[k]);
    const withAt = (days: number) => stockAhead(many, {boughtOn: dayText(dayNumber(today) + days), orders}).months;
    const now = withAt(0);
    const needing = bare.filter(({service}) => service < serviceGoal).map(({month}) => month);
    const reached = now.filter(({month, service}) => needing.includes(month) && service >= serviceGoal);
    expect(kept).toEqual(reached.map(({month}) => month));
    const ready = stockAhead({...many, readyOf: () => 1}, {boughtOn: today, orders}).months;
    const enough = ready.filter(({service}) => service >= serviceGoal).map(({month}) => month);
    const lost = needing.filter((month) => !kept.includes(month));
    expect(tooSoon).toEqual(lost.filter((month) => enough.includes(month)));
    expect(tooFew).toEqual(lost.filter((month) => !enough.includes(month)));
    if (kept.length === 0) {
      expect(buyBy).toBeUndefined();
      return;
    }
    const good = Array.from({length: 150}, (_, days) => days).filter((days) =>
      withAt(days).every(({month, service}) => !kept.includes(month) || service >= serviceGoal)
    );
    expect(daysLeft).toBe(good.at(-1));
    expect(buyBy).toBe(dayText(dayNumber(today) + good.at(-1)!));
  });
  expect(rows.some(({kept}) => kept.length > 0)).toBe(true);
  expect(rows.some(({tooSoon}) => tooSoon.length > 0)).toBe(true);
  expect(rows.some(({tooFew}) => tooFew.length > 0)).toBe(true);
});

test("lastBuyDays: no day where the stock serves all by itself", () => {
  expect(lastBuyDays({...input, finished: 99}, [{supplier: "Near Yard", squares: 5}], [0.9])).toEqual([
    {serviceGoal: 0.9, tooSoon: [], tooFew: [], kept: []}
  ]);
});

test("stockAhead refuses a purchase of nobody known", () => {
  expect(() => stockAhead(input, {boughtOn: today, orders: [{supplier: "No Yard", squares: 3}]})).toThrow(
    "one of Near Yard"
  );
});

test("lotsAhead: the part of a lot that is ready, from its pieces that fit; the lots must be those of the plan", () => {
  const settings = Settings.parse({});
  const piece = (name: string, square: string, densityAt12KgM3: number) =>
    ({lot: name, square, species: "ash", fate: "in stock", densityAt12KgM3}) as Piece;
  const pieces = [piece("A", "1", 700), piece("A", "2", 700), piece("A", "3", 900), piece("B", "4", 700)];
  const chanceWithin = (days: number) => (one: Piece) =>
    one.square === "1" ? (days >= 30 ? 0.8 : 0) : one.square === "2" ? (days >= 60 ? 0.4 : 0.2) : 0;
  const lots = lotsAhead({settings, pieces}, "ash", [{n: 2, alpha: 6, beta: 4}], {chanceWithin, daysToEnd: 100});
  expect(lots).toHaveLength(1);
  expect([0, 10, 30, 60, 100, 500].map(lots[0]!.readyWithin)).toEqual(
    [0, 0.2 / 1.2, 1 / 1.2, 1, 1, 1].map((x) => expect.closeTo(x, 12))
  );
  expect(lots[0]).toMatchObject({n: 2, alpha: 6, beta: 4});
  expect(() =>
    lotsAhead({settings, pieces}, "ash", [{n: 3, alpha: 6, beta: 4}], {chanceWithin, daysToEnd: 100})
  ).toThrow("lotsAhead: pipeline");
});

test("demandPath comes to the plan's number at the end, along the book's curve or evenly", () => {
  const curve = (day: string) => (day < "2027-01-01" ? {mean: 10, size: 4} : {mean: 40, size: 16});
  const path = demandPath({mean: 80, size: 8, known: 5}, {today, until, curve});
  expect(path("2026-12-31")).toEqual({mean: 20, size: 2, known: 5});
  expect(path(until)).toEqual({mean: 80, size: 8, known: 5});
  const even = demandPath({mean: 80}, {today, until, curve: () => undefined});
  expect(even("2026-12-31").mean).toBeCloseTo((80 * 61) / 212, 12);
  expect(even(until)).toEqual({mean: 80, known: 0});
});
