import {check} from "../check.ts";
import {betaMoments} from "../stats/betaMoments.ts";
import {
  costEach,
  lowestUsableCost,
  type Need,
  type Offer,
  type Outcomes,
  offerShare,
  outcomes,
  type Split,
  splitOf
} from "./outcomes.ts";
import type {PlanOutcome} from "./planOutcome.ts";

/** All that a season's purchase is decided by: every species, and what binds them together. */
export interface SeasonInput {
  needs: readonly Need[];
  /** Carriage and fuel of one trip to a supplier, whatever is brought home; 0 where none is given. */
  tripCosts?: Readonly<Record<string, number>>;
  /** Most money for squares, their work and the trips. */
  budget?: number;
  /** Most suppliers visited. */
  trips?: number;
  /** Suppliers visited anyway: their trips cost nothing here and count for none. */
  visitedAnyway?: readonly string[];
}

/** A purchase for one need, and what to expect of it. */
export interface Purchase extends PlanOutcome {
  squares: number;
  /** Squares and the work on them, without the trips. */
  cost: number;
  orders: {supplier: string; squares: number}[];
}

/** A purchase for all needs in one. */
export interface SeasonPlan {
  /** In the order of the needs. Their profit is without the trips. */
  purchases: Purchase[];
  /** Suppliers to visit, by name. */
  visits: string[];
  tripCost: number;
  /** Squares, work and trips. */
  cost: number;
  profit: number;
  /** No purchase whatever within the limits can be expected to earn more than this. */
  profitAtMost: number;
  /** Whether every purchase within the limits was tried. */
  isProven: boolean;
}

/** What a season's plan is looked for with: the exact outcomes of each need, to be used again. */
export interface Planner {
  plan: () => SeasonPlan;
  /** The exact outcome of a purchase for one need. */
  purchase: (need: number, split: Split) => Purchase;
  /** Best known purchases of one need by number of squares, fewest first, from none to all that can be had. */
  path: (need: number, plan: SeasonPlan) => Split[];
  /** What a purchase for one need adds to the trips of the others in the plan, and whether it keeps to the limits beside them. */
  beside: (need: number, plan: SeasonPlan) => (split: Split) => {tripCost: number; isAllowed: boolean};
  models: readonly Outcomes[];
}

/** So many purchases or fewer are all tried. */
const fewEnough = 1000;

/**
 * How many squares of each species to buy, and of whom, all in one budget and with at most so many trips.
 *
 *   profit = Σ over needs of (p E min(D, S) + v E (S − D)⁺ − s E (D − S)⁺ − Σ c q) − Σ over suppliers visited of the trip's cost
 *
 * Where there are at most a thousand purchases all are tried, exactly. Else the purchase is searched: with the usable number of new squares
 * taken as normal from none, by steps of one offer and exchanges between two, and with suppliers left out, added and exchanged; under a budget
 * also from squares added one by one where each earns most for its money. What that finds is improved by the exact outcomes until no step and
 * no exchange helps. The search is not proven to find the best, but how far from it the answer can be is: `profitAtMost` is what could be
 * earned were each square to give its mean share for certain (Jensen: the profit is concave in the shafts there are), without least lots and
 * at the lowest price of each offer.
 *
 * Range: a leftover must be worth less than a usable square costs, else there is no best number (refused).
 * Checked: tests/buying/seasonPlan.test.ts (full enumeration), tests/reference/purchasePlan.test.ts (R)
 *
 * @throws RangeError when leftovers are worth more than a usable square costs, an offer is not sound, or none is given
 */
export function seasonPlan(input: SeasonInput): SeasonPlan {
  return planner(input).plan();
}

/**
 * The same with what it was looked for with, for curves about the answer.
 *
 * @param like the needs that those of the input are variants of, in the same order: what they have in common is worked out once
 */
export function planner(input: SeasonInput, like: readonly Need[] = input.needs): Planner {
  const {needs, visitedAnyway = [], budget = Number.POSITIVE_INFINITY, trips = Number.POSITIVE_INFINITY} = input;
  const tripCosts = {...input.tripCosts, ...Object.fromEntries(visitedAnyway.map((name) => [name, 0]))};
  const tripsTo = (names: Iterable<string>) => [...names].filter((name) => !visitedAnyway.includes(name)).length;
  check(needs.length > 0, "seasonPlan: needs", "at least one", "none");
  check(budget >= 0, "seasonPlan: budget", "0 or more", budget);
  check(trips >= 0, "seasonPlan: trips", "0 or more", trips);
  for (const [supplier, cost] of Object.entries(tripCosts))
    check(cost >= 0, `seasonPlan: trip to ${supplier}`, "0 or more", cost);
  for (const need of needs) checkNeed(need);

  const most = needs.map(({offers}) => offers.map(({available = 100}) => available));
  const models = needs.map((need, s) => outcomes(need, most[s]!, like[s]));
  const places = needs.flatMap(({offers}, need) =>
    offers.map((offer, i) => ({
      need,
      i,
      offer,
      share: offerShare(offer),
      least: Math.max(1, offer.minimum ?? 0),
      most: most[need]![i]!
    }))
  );
  const numbersOf = places.map(({least, offer}) => [least, ...(offer.priceBreaks ?? []).map((step) => step.from)]);
  const first = needs.map((_, s) => places.findIndex(({need}) => need === s));
  const partOf = (all: Split, s: number) => all.slice(first[s], first[s]! + needs[s]!.offers.length);
  const suppliers = [...new Set(places.map(({offer}) => offer.supplier))].sort();
  const whose = places.map(({offer}) => suppliers.indexOf(offer.supplier));
  const tripEach = suppliers.map((name) => tripCosts[name] ?? 0);
  const visitEach = suppliers.map((name) => tripsTo(new Set([name])));
  const visitsOf = (all: Split) => {
    const visited = new Set<string>();
    for (let k = 0; k < all.length; k++) if (all[k]! > 0) visited.add(places[k]!.offer.supplier);
    return visited;
  };
  const tripCostOf = (visited: Iterable<string>) => [...visited].reduce((sum, name) => sum + (tripCosts[name] ?? 0), 0);
  const costOf = (all: Split) =>
    all.reduce((sum, q, k) => sum + q * costEach(places[k]!.offer, q), tripCostOf(visitsOf(all)));
  const isAllowed = (all: Split) => tripsTo(visitsOf(all)) <= trips && costOf(all) <= budget + 1e-9;

  type Value = (s: number, part: Split) => number;
  const rough: Value = (s, part) => models[s]!.roughProfit(part);
  const exact: Value = (s, part) => models[s]!.exact(part).profit;
  const profitOf = (all: Split, value: Value) =>
    needs.reduce((sum, _, s) => sum + value(s, partOf(all, s)), -tripCostOf(visitsOf(all)));

  /** Steps of one offer and exchanges between two, from large to small, until none helps. Offers of suppliers not open stay. */
  function climb(
    from: Split,
    value: Value,
    {sizes, open}: {sizes: readonly number[]; open?: ReadonlySet<string>}
  ): Split {
    const all = [...from];
    // The same numbers need by need.
    const split = needs.map((_, s) => [...partOf(all, s)]);
    const put = (k: number, q: number) => {
      all[k] = q;
      split[places[k]!.need]![places[k]!.i] = q;
    };
    const parts = split.map((part, s) => value(s, part));
    let guess = profitOf(all, rough);
    const free = places.flatMap(({offer}, k) => (!open || open.has(offer.supplier) ? [k] : []));
    // What is spent and how often each supplier is bought from, kept up to date, as most looks change one number.
    const used = suppliers.map(() => 0);
    for (let k = 0; k < all.length; k++) if (all[k]! > 0) used[whose[k]!]!++;
    let visits = tripsTo(visitsOf(all));
    let spent = costOf(all);
    const roughParts = split.map((part, s) => rough(s, part));
    // Functions made once a climb, not once a look: a plan takes half the time.
    /** One visit more, one less or as many, when so many more of a supplier's offers are bought from. */
    const visitStep = (supplier: number, by: number) =>
      (used[supplier]! + by > 0 ? 1 : 0) - (used[supplier]! > 0 ? 1 : 0);
    /** Whether the numbers as they stand earn more for one need, or two, than those last kept; if so they are kept. */
    const isBetter = (one: number, two: number, tripCost: number): boolean => {
      const roughOne = rough(one, split[one]!);
      const roughTwo = two < 0 ? 0 : rough(two, split[two]!);
      const gainedRough = roughOne - roughParts[one]! + (two < 0 ? 0 : roughTwo - roughParts[two]!) - tripCost;
      // What the rough outcome finds clearly worse needs no exact one.
      if (gainedRough < -2e-5 * Math.abs(guess) - 1e-9) return false;
      const freshOne = value === rough ? roughOne : value(one, split[one]!);
      const freshTwo = two < 0 ? 0 : value === rough ? roughTwo : value(two, split[two]!);
      const gained = freshOne - parts[one]! + (two < 0 ? 0 : freshTwo - parts[two]!) - tripCost;
      if (gained <= 1e-9) return false;
      guess += gainedRough;
      parts[one] = freshOne;
      roughParts[one] = roughOne;
      if (two >= 0) {
        parts[two] = freshTwo;
        roughParts[two] = roughTwo;
      }
      return true;
    };
    /** Whether it helps to change the number of one place, or of two; if so it is changed. */
    const look = (k: number, q: number, j = -1, r = 0): boolean => {
      const was = all[k]!;
      const wasOther = j < 0 ? 0 : all[j]!;
      const [mine, theirs] = [whose[k]!, j < 0 ? -1 : whose[j]!];
      const used1 = (q > 0 ? 1 : 0) - (was > 0 ? 1 : 0);
      const used2 = j < 0 ? 0 : (r > 0 ? 1 : 0) - (wasOther > 0 ? 1 : 0);
      const step1 = visitStep(mine, mine === theirs ? used1 + used2 : used1);
      const step2 = j < 0 || mine === theirs ? 0 : visitStep(theirs, used2);
      const visited = step1 * visitEach[mine]! + (step2 === 0 ? 0 : step2 * visitEach[theirs]!);
      if (visits + visited > trips) return false;
      const tripCost = step1 * tripEach[mine]! + (step2 === 0 ? 0 : step2 * tripEach[theirs]!);
      let cost = tripCost + q * costEach(places[k]!.offer, q) - was * costEach(places[k]!.offer, was);
      if (j >= 0) cost += r * costEach(places[j]!.offer, r) - wasOther * costEach(places[j]!.offer, wasOther);
      if (spent + cost > budget + 1e-9) return false;
      put(k, q);
      if (j >= 0) put(j, r);
      const one = places[k]!.need;
      const two = j < 0 || places[j]!.need === one ? -1 : places[j]!.need;
      if (!isBetter(one, two, tripCost)) {
        put(k, was);
        if (j >= 0) put(j, wasOther);
        return false;
      }
      spent += cost;
      visits += visited;
      used[mine]! += used1;
      if (j >= 0) used[theirs]! += used2;
      return true;
    };
    const up = (k: number, by: number) => {
      const {least, most} = places[k]!;
      return Math.min(most, all[k] === 0 ? Math.max(least, by) : all[k]! + by);
    };
    const down = (k: number, by: number) => {
      const left = all[k]! - by;
      return left < places[k]!.least ? (by > 1 || all[k]! <= places[k]!.least ? 0 : places[k]!.least) : left;
    };
    /** Squares that stay of one offer for more of another: for as many usable ones, for as much money, to keep the budget, or none. */
    const exchanged = (k: number, to: number, j: number) => {
      const more = to - all[k]!;
      const paid = costEach(places[j]!.offer, all[j]!);
      const price = costEach(places[k]!.offer, to);
      const left: number[] = [];
      const giveUp = (n: number) => {
        const r = down(j, Math.min(n, all[j]!));
        if (n > 0 && !left.includes(r)) left.push(r);
      };
      const about = (n: number) => {
        giveUp(Math.ceil(n - 1e-9));
        giveUp(Math.ceil(n - 1e-9) - 1);
      };
      about((more * price) / paid);
      about(isTight ? (spent - all[k]! * costEach(places[k]!.offer, all[k]!) + to * price - budget) / paid : 0);
      if (places[j]!.need === places[k]!.need) about((more * places[k]!.share) / places[j]!.share);
      giveUp(all[j]!);
      return left;
    };
    const canGrow = (k: number, to: number) => to > all[k]! && to >= places[k]!.least;
    /** More, fewer or a number of its own of one offer. */
    const step = (k: number, size: number): boolean => {
      let helped = false;
      const more = up(k, size);
      while (canGrow(k, up(k, size)) && look(k, up(k, size))) helped = true;
      if (all[k]! > 0 && more !== all[k]) while (all[k]! > 0 && look(k, down(k, size))) helped = true;
      // Price breaks and least lots are worth a look of their own.
      for (const to of numbersOf[k]!)
        if (to !== all[k] && to <= places[k]!.most && to >= places[k]!.least && look(k, to)) helped = true;
      return helped;
    };
    /** More of one offer for less of another. */
    const exchange = (k: number, j: number, size: number): boolean => {
      if (j === k || all[j] === 0) return false;
      const same = places[j]!.need === places[k]!.need;
      if (!same && budget === Number.POSITIVE_INFINITY && trips === Number.POSITIVE_INFINITY) return false;
      const to = up(k, size);
      return canGrow(k, to) && exchanged(k, to, j).some((left) => look(k, to, j, left));
    };
    const anyHelps = (size: number): boolean => {
      let helped = false;
      for (const k of free) if (step(k, size)) helped = true;
      for (const k of free) for (const j of free) if (exchange(k, j, size)) helped = true;
      return helped;
    };
    for (const size of sizes) while (anyHelps(size));
    return all;
  }

  const none: Split = places.map(() => 0);
  const isTight = Number.isFinite(budget);
  const sizesTo = (largest: number) => {
    const sizes = [1];
    while (sizes[0]! * 2 <= largest) sizes.unshift(sizes[0]! * 2);
    return sizes;
  };
  // Whole squares and a budget make the profit jagged: at last every size up to sixteen is tried.
  const fine = Array.from({length: 16}, (_, k) => 16 - k);
  const coarse = sizesTo(Math.max(1, Math.max(0, ...places.map(({most}) => most)) / 4));

  /** From none: each further square, or a trip's first few, goes where it adds most for its money, as far as the money reaches. */
  function filled(): Split {
    let all = none;
    for (let value = profitOf(all, rough); ; value = profitOf(all, rough)) {
      const spent = costOf(all);
      let next: {all: Split; rate: number} | undefined;
      for (let k = 0; k < places.length; k++) {
        const {least, most} = places[k]!;
        for (const size of all[k] === 0 ? coarse : [1]) {
          const tried = all.with(k, Math.max(least, all[k]! + size));
          if (tried[k]! > most || !isAllowed(tried)) continue;
          const rate = (profitOf(tried, rough) - value) / (costOf(tried) - spent);
          if (rate > (next?.rate ?? 1e-9)) next = {all: tried, rate};
        }
      }
      if (!next) return all;
      all = next.all;
    }
  }

  /** Which suppliers to visit: from all, one left out, added or exchanged as long as it helps; the few best of these, by exact outcomes. */
  function searched(): Split {
    const found: {all: Split; value: number}[] = [{all: none, value: profitOf(none, rough)}];
    const best = () => found.reduce((a, b) => (b.value > a.value + 1e-9 ? b : a));
    const within = (open: ReadonlySet<string>) => {
      const kept = best().all.map((q, k) => (open.has(places[k]!.offer.supplier) ? q : 0));
      const before = best().value;
      for (const start of [kept, none]) {
        const all = climb(start, rough, {sizes: coarse, open});
        found.push({all, value: profitOf(all, rough)});
      }
      return best().value > before + 1e-9;
    };
    if (isTight) {
      const all = climb(filled(), rough, {sizes: coarse});
      found.push({all, value: profitOf(all, rough)});
    }
    within(new Set(suppliers));
    for (let helped = true; helped; ) {
      const visited = [...visitsOf(best().all)];
      const others = suppliers.filter((name) => !visited.includes(name));
      const without = visited.map((gone) => visited.filter((name) => name !== gone));
      const tries = [
        ...without,
        ...others.map((name) => [...visited, name]),
        ...without.flatMap((some) => others.map((name) => [...some, name]))
      ];
      helped = tries.some((open) => tripsTo(open) <= trips && within(new Set(open)));
    }
    const unlike = [...new Map(found.sort((a, b) => b.value - a.value).map(({all}) => [all.join(" "), all])).values()];
    // A budget that whole squares fill makes many plans nearly as good, and which of them is best only exact outcomes tell.
    const polished = [none, ...unlike.slice(0, isTight ? 12 : 2).map((all) => climb(all, exact, {sizes: fine}))];
    return polished.reduce((a, b) => (profitOf(b, exact) > profitOf(a, exact) + 1e-9 ? b : a));
  }

  /** Every purchase, if they are few. */
  function every(): Split | undefined {
    const counts = places.map(({least, most}) => Math.max(0, most - least + 1) + 1);
    if (counts.reduce((a, b) => a * b, 1) > fewEnough) return undefined;
    let best = {all: none, value: profitOf(none, exact)};
    const all = [...none];
    const visit = (k: number): void => {
      if (k === places.length) {
        if (!isAllowed(all)) return;
        const value = profitOf(all, exact);
        if (value > best.value + 1e-9) best = {all: [...all], value};
        return;
      }
      const {least, most} = places[k]!;
      for (const q of [0, ...Array.from({length: Math.max(0, most - least + 1)}, (_, n) => least + n)]) {
        all[k] = q;
        visit(k + 1);
      }
      all[k] = 0;
    };
    visit(0);
    return best.all;
  }

  /** What could be earned were each square to give its mean share for certain. */
  function bound(): number {
    const start = profitOf(none, exact);
    interface Step {
      gain: number;
      cost: number;
    }
    const stepsOf = (s: number, open: ReadonlySet<string>): Step[] => {
      const {money} = needs[s]!;
      const worth = money.price + money.shortageCost - money.leftoverValue;
      const own = places
        .filter(({need, offer}) => need === s && open.has(offer.supplier))
        .map(({offer, share, most}) => ({cost: lowestUsableCost(offer), usable: share * most}))
        .sort((a, b) => a.cost - b.cost);
      const steps: Step[] = [];
      let at = 0;
      // The slope falls, so that a wider step only makes the bound looser: of many thousand squares two thousand steps are enough.
      const wide = Math.max(1, Math.floor(own.reduce((total, {usable}) => total + usable, 0) / 2000));
      for (const {cost, usable} of own)
        for (let left = usable; left > 1e-9; left -= wide) {
          const size = Math.min(wide, left);
          const gain = (worth * models[s]!.mostServedSlope(at) + money.leftoverValue - cost) * size;
          if (gain <= 0) break;
          steps.push({gain, cost: cost * size});
          at += size;
        }
      return steps;
    };
    // The steps of a need hang only on which of its own suppliers are open.
    const kept = new Map<string, {steps: Step[]; gain: number; cost: number}>();
    const keptSteps = (s: number, open: ReadonlySet<string>) => {
      const key = `${s} ${needs[s]!.offers.map(({supplier}) => (open.has(supplier) ? 1 : 0)).join("")}`;
      const before = kept.get(key);
      if (before) return before;
      const steps = stepsOf(s, open);
      const made = {
        steps,
        gain: steps.reduce((sum, {gain}) => sum + gain, 0),
        cost: steps.reduce((sum, {cost}) => sum + cost, 0)
      };
      kept.set(key, made);
      return made;
    };
    const most = (open: readonly string[], tripCost: number) => {
      let left = budget - tripCost;
      if (left < 0) return Number.NEGATIVE_INFINITY;
      let total = start - tripCost;
      const parts = needs.map((_, s) => keptSteps(s, new Set(open)));
      if (parts.reduce((sum, {cost}) => sum + cost, 0) <= left)
        return total + parts.reduce((sum, {gain}) => sum + gain, 0);
      for (const step of parts.flatMap(({steps}) => steps).sort((a, b) => b.gain / b.cost - a.gain / a.cost)) {
        const part = Math.min(1, left / step.cost);
        total += step.gain * part;
        left -= step.cost * part;
        if (part < 1) break;
      }
      return total;
    };
    // Of more suppliers than can be looked at in all choices the trips are left out: a looser bound.
    if (suppliers.length > 10) return most(suppliers, 0);
    let highest = start;
    for (let mask = 1; mask < 2 ** suppliers.length; mask++) {
      const open = suppliers.filter((_, k) => (mask >> k) & 1);
      if (tripsTo(open) <= trips) highest = Math.max(highest, most(open, tripCostOf(open)));
    }
    return highest;
  }

  const purchase = (need: number, split: Split): Purchase => ({
    squares: split.reduce((a, b) => a + b, 0),
    orders: needs[need]!.offers.map(({supplier}, i) => ({supplier, squares: split[i]!})).filter(
      ({squares}) => squares > 0
    ),
    ...models[need]!.exact(split)
  });

  let planned: SeasonPlan | undefined;
  const plan = (): SeasonPlan => {
    if (planned) return planned;
    const all = every();
    const found = all ?? searched();
    const profit = profitOf(found, exact);
    const visits = [...visitsOf(found)].sort();
    planned = {
      purchases: needs.map((_, s) => purchase(s, partOf(found, s))),
      visits,
      tripCost: tripCostOf(visits),
      cost: costOf(found),
      profit,
      // Of the many plans made beside the season's own nobody asks it.
      get profitAtMost() {
        return all ? profit : Math.max(profit, bound());
      },
      isProven: all !== undefined
    };
    return planned;
  };

  return {
    models,
    purchase,
    plan,
    path: (need, plan) => {
      const {offers} = needs[need]!;
      const planned = splitOf(offers, plan.purchases[need]!.orders);
      const elsewhere = visitedElsewhere(plan, need);
      const left = Object.fromEntries(Object.entries(tripCosts).filter(([name]) => !elsewhere.has(name)));
      const isFull = tripsTo(plan.visits) >= trips;
      const limits = offers.map(({supplier}, i) => (isFull && !plan.visits.includes(supplier) ? 0 : most[need]![i]!));
      return growing(models[need]!, offers, limits, planned, left);
    },
    beside: (need, plan) => {
      const {offers} = needs[need]!;
      const elsewhere = visitedElsewhere(plan, need);
      const paid = plan.purchases.reduce((sum, {cost}, k) => (k === need ? sum : sum + cost), tripCostOf(elsewhere));
      return (split) => {
        const own = offers.filter(({supplier}, i) => split[i]! > 0 && !elsewhere.has(supplier));
        const tripCost = tripCostOf(own.map(({supplier}) => supplier));
        const cost = models[need]!.costOf(split) + tripCost + paid;
        return {
          tripCost,
          isAllowed: tripsTo([...elsewhere, ...own.map(({supplier}) => supplier)]) <= trips && cost <= budget + 1e-9
        };
      };
    }
  };
}

/** Suppliers that the plan visits for other needs. */
function visitedElsewhere({purchases}: SeasonPlan, need: number): Set<string> {
  return new Set(purchases.flatMap(({orders}, k) => (k === need ? [] : orders.map(({supplier}) => supplier))));
}

/**
 * From nothing through the plan's purchase to all that can be had: each further square goes where it adds most profit, trips counted; of many
 * thousand squares so many at once that some two thousand steps lead there.
 */
function growing(
  {roughProfit}: Outcomes,
  offers: readonly Offer[],
  most: Split,
  planned: Split,
  tripCosts: Readonly<Record<string, number>>
): Split[] {
  const value = (split: Split) =>
    roughProfit(split) - split.reduce((sum, q, i) => sum + (q > 0 ? (tripCosts[offers[i]!.supplier] ?? 0) : 0), 0);
  const step = Math.max(1, Math.floor(most.reduce((a, b) => a + b, 0) / 2000));
  const grow = (from: Split, limits: Split): Split[] => {
    const path: Split[] = [];
    for (let [split, before] = [from, value(from)]; ; ) {
      let next: {split: Split; value: number; gain: number} | undefined;
      for (let i = 0; i < offers.length; i++) {
        const least = split[i] === 0 ? Math.max(1, offers[i]!.minimum ?? 0) : split[i]! + 1;
        if (least > limits[i]!) continue;
        const to = Math.max(least, Math.min(split[i]! + step, limits[i]!));
        const tried = split.with(i, to);
        const then = value(tried);
        const gain = (then - before) / (to - split[i]!);
        if (!next || gain > next.gain + 1e-12) next = {split: tried, value: then, gain};
      }
      if (!next) return path;
      [split, before] = [next.split, next.value];
      path.push(split);
    }
  };
  const none = offers.map(() => 0);
  return [none, ...grow(none, planned), ...grow(planned, most)];
}

function checkNeed({offers, money, finished}: Need): void {
  check(offers.length > 0, "seasonPlan: offers", "at least one supplier", "none");
  const names = offers.map(({supplier}) => supplier);
  check(new Set(names).size === names.length, "seasonPlan: offers", "of each supplier once", names.join(", "));
  check(Number.isInteger(finished) && finished >= 0, "seasonPlan: finished", "a count", finished);
  for (const offer of offers) {
    const {supplier, windowShare = 1, lotSize = 1, doubt = 0, priceBreaks = []} = offer;
    const {variance} = betaMoments(offer);
    check(lotSize > 0, "seasonPlan: lotSize", "positive", lotSize);
    check(
      doubt >= 0 && doubt <= variance * (1 + 1e-9),
      "seasonPlan: doubt",
      `0 to the lot's variance (${variance})`,
      doubt
    );
    check(windowShare > 0 && windowShare <= 1, "seasonPlan: windowShare", "above 0 and at most 1", windowShare);
    check(
      priceBreaks.every(({from}, i) => from > (priceBreaks[i - 1]?.from ?? 0)),
      `seasonPlan: price breaks of ${supplier}`,
      "numbers of squares, fewest first",
      priceBreaks.map(({from}) => from).join(", ")
    );
    const cost = lowestUsableCost(offer);
    const rule = `less than the ${cost.toFixed(2)} a usable shaft from ${supplier} costs`;
    check(money.leftoverValue < cost, "seasonPlan: leftoverValue", rule, money.leftoverValue);
  }
}
