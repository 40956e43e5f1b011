import {expect, test} from "vitest";
import {dayNumber} from "../../../lib/book/day.ts";
import {csvRows, mean, sd, truth} from "./csvRows.ts";

const lots = csvRows("lots.csv");
const squares = csvRows("squares.csv");
const events = csvRows("events.csv");
const lotOf = new Map(lots.map((lot) => [lot.lot, lot]));
const supplierOf = new Map(squares.map(({square, lot}) => [square, lotOf.get(lot)!.supplier]));
const of = (event: string) => events.filter((row) => row.event === event);

test("the events add up to the counts of truth.json", () => {
  const {all, shafts} = truth.counts;
  expect(of("turned").filter(({stage}) => stage === "finished").length).toBe(all.finished);
  expect(of("discarded").length).toBe(all.discarded);
  expect(of("diverted").length).toBe(all.diverted);
  expect(of("allotted").length).toBe(shafts.allotted);
  expect(of("delivered").length).toBe(shafts.delivered);
  expect(all.finished + all.discarded + all.diverted + all.inStock).toBe(all.squares);
});

test("buying grows year by year, and finished ÷ bought reads far below the true yield", () => {
  const years = [2021, 2022, 2023, 2024, 2025].map((year) => {
    const own = lots.filter(({bought_on}) => bought_on! >= `${year}-11-01` && bought_on! < `${year + 1}-11-01`);
    return own.reduce((sum, {squares_bought}) => sum + Number(squares_bought), 0);
  });
  expect(years).toEqual([...years].sort((a, b) => a - b));
  expect(years[4]! / years[0]!).toBeGreaterThan(1.8);
  const naive = truth.counts.all.finished / truth.counts.all.squares;
  expect(naive).toBeLessThan(truth.yield.realisedToTheEnd.finished - 0.07);
  expect(truth.yield.parameter.finished).toBeGreaterThan(0.6);
  expect(truth.yield.parameter.finished).toBeLessThan(0.72);
});

test("drying defects are seen earlier in the first rest than squares are passed", () => {
  const boughtOn = new Map(squares.map(({square, lot}) => [square, dayNumber(lotOf.get(lot)!.bought_on!)]));
  const days = (rows: typeof events) => rows.map(({date, square}) => dayNumber(date!) - boughtOn.get(square!)!);
  const thrown = of("discarded").filter(({stage, defect}) => stage === "square" && /check|split|warp/.test(defect!));
  const passed = of("turned").filter(({stage}) => stage === "rough-round");
  expect(mean(days(thrown))).toBeLessThan(0.7 * mean(days(passed)));
  expect(days(passed).filter((day) => day < 60).length / passed.length).toBeLessThan(0.1);
});

test("Haskerdene Mill is dearer and about half as wide as the other suppliers of ash", () => {
  const ash = (own: boolean) =>
    squares.filter(({square}) => square!.startsWith("A") && (supplierOf.get(square) === "Haskerdene Mill") === own);
  const spread = (rows: typeof squares) =>
    sd(rows.map((row) => Number(row.mass_g) / Number(row.length_mm) / Number(row.width_mm) / Number(row.thickness_mm)));
  expect(spread(ash(true)) / spread(ash(false))).toBeLessThan(0.6);
  const price = (own: boolean) =>
    mean(lots.filter((lot) => (lot.supplier === "Haskerdene Mill") === own).map(({price_each}) => Number(price_each)));
  expect(price(true)).toBeGreaterThan(price(false) + 3);
  expect(Math.min(...lots.map(({price_each}) => Number(price_each)))).toBeGreaterThan(8);
  expect(Math.max(...lots.map(({price_each}) => Number(price_each)))).toBeLessThan(18.5);
});

test("the supplier that got worse loses about twice as much in the first stage from that day on", () => {
  const {supplier, from} = truth.gotWorse;
  const share = (after: boolean) => {
    const own = squares.filter(({square, lot}) => {
      return supplierOf.get(square) === supplier && lotOf.get(lot)!.bought_on! >= from === after;
    });
    const ids = new Set(own.map(({square}) => square));
    const left = events.filter((row) => ids.has(row.square!));
    const thrown = left.filter(({event, stage}) => event === "discarded" && stage === "square").length;
    const passed = left.filter(({event, stage}) => event === "turned" && stage === "rough-round").length;
    return thrown / (thrown + passed);
  };
  expect(share(true) / share(false)).toBeGreaterThan(1.5);
  expect(share(true) / share(false)).toBeLessThan(3);
});

test("orders peak from September to November and grow", () => {
  const orders = csvRows("orders.csv");
  const shafts = (pattern: RegExp) =>
    orders.filter((row) => pattern.test(row.ordered_on!)).reduce((sum, {quantity}) => sum + Number(quantity), 0);
  expect(shafts(/^202[2345]-(09|10|11)/) / shafts(/^202[3456]-0[456]/)).toBeGreaterThan(1.5);
  expect(shafts(/^2025/)).toBeGreaterThan(shafts(/^2023/));
  expect(truth.counts.shafts.onRack).toBeGreaterThanOrEqual(30);
  expect(truth.counts.shafts.onRack).toBeLessThanOrEqual(120);
  expect(truth.counts.orders.shaftsOwed).toBeGreaterThan(0);
});

test("every allotted shaft was finished by then, fits the wishes of its order and is of its species", () => {
  const orders = new Map(csvRows("orders.csv").map((order) => [order.order, order]));
  const squares = new Map(csvRows("squares.csv").map((row) => [row.square, row]));
  const finished = new Map(
    of("turned")
      .filter(({stage}) => stage === "finished")
      .map((row) => [row.square, row])
  );
  for (const {date, square, order} of of("allotted")) {
    const shaft = finished.get(square)!;
    const wanted = orders.get(order)!;
    expect(shaft.date! <= date! && wanted.ordered_on! <= date!).toBe(true);
    expect(square!.startsWith(wanted.species === "ash" ? "A" : "M")).toBe(true);
    // The wanted cut differs from the standard shaft by less than 2 % of its mass.
    if (wanted.mass_min_g) expect(Number(shaft.mass_g)).toBeGreaterThan(0.98 * Number(wanted.mass_min_g));
    if (wanted.mass_max_g) expect(Number(shaft.mass_g)).toBeLessThan(1.02 * Number(wanted.mass_max_g));
    const {grain_one_in: grain, colour} = squares.get(square)!;
    if (wanted.grain_one_in) expect(Number(grain)).toBeGreaterThanOrEqual(Number(wanted.grain_one_in));
    if (wanted.colour) expect(colour).toBe(wanted.colour);
    // A shorter shaft with a thicker tip bends up to a tenth less.
    if (wanted.deflection_min_mm)
      expect(Number(shaft.deflection_mm)).toBeGreaterThanOrEqual(Number(wanted.deflection_min_mm));
    if (wanted.deflection_max_mm)
      expect(0.9 * Number(shaft.deflection_mm)).toBeLessThanOrEqual(Number(wanted.deflection_max_mm));
  }
});

test("bends, grains and colours are written from May 2025 on, and shafts' moduli spread as was meant", () => {
  const bent = of("turned").filter(({deflection_mm}) => deflection_mm);
  expect(bent.every(({stage, date}) => stage === "finished" && date! >= truth.feel.from)).toBe(true);
  expect(bent.length).toBeGreaterThan(300);
  const readings = bent.map(({deflection_mm}) => Number(deflection_mm));
  // Stiffness goes with 1/modulus: about its relative spread, √(0.12² + 0.05²) = 0.13, and the lathe's and the reading's on top.
  expect(sd(readings) / mean(readings)).toBeGreaterThan(0.11);
  expect(sd(readings) / mean(readings)).toBeLessThan(0.16);
  const seen = csvRows("squares.csv").filter(({measured_on}) => measured_on! >= truth.feel.from);
  expect(seen.filter(({grain_one_in: grain, colour}) => grain && colour).length / seen.length).toBeGreaterThan(0.85);
  const late = csvRows("orders.csv").filter(({ordered_on}) => ordered_on! >= truth.feel.wishes.from);
  const share = (heading: string) => late.filter((row) => row[heading]).length / late.length;
  for (const [heading, wanted] of [
    ["deflection_min_mm", 0.12],
    ["grain_one_in", 0.12],
    ["colour", 0.15]
  ] as const)
    expect(Math.abs(share(heading) - wanted)).toBeLessThan(3 * Math.sqrt((wanted * (1 - wanted)) / late.length));
});
