import {placesOf} from "./columnsOf.ts";
import type {Day} from "./day.ts";
import {Faults, type Said, type Sources} from "./faults.ts";
import {fold} from "./fold.ts";
import {didYouMean, didYouMeanAmong} from "./nearest.ts";
import {excerpt, type Problem, type ProblemCode} from "./problem.ts";
import type {Numbered} from "./readRecords.ts";
import type {Advice, Event, FileName, Lot, Order, Reading, Square} from "./records.ts";
import type {Settings} from "./settings.ts";
import type {SquareColumns} from "./squareColumns.ts";
import {isNotedApart, type SpeciesDensity, speciesDensity} from "./squareDensity.ts";
import {type Middles, type UnitJump, unitJumps} from "./unitJumps.ts";

/** The records of a book, each with the row it stands in. */
export interface BookRecords {
  lots: Numbered<Lot>[];
  squares: Numbered<Square>[];
  events: Numbered<Event>[];
  orders: Numbered<Order>[];
  climate: Numbered<Reading>[];
  advice: Numbered<Advice>[];
}

/**
 * The records that fit together: numbers are given once, lots, squares and orders exist, species, stages and defects are those of
 * the settings, sizes and densities are such as wood has, no day lies after today. The fault of each other record is added to
 * `problems`, and so is every doubt. Names are turned into the spelling of the settings, suppliers into their first.
 *
 * Checked: tests/book/soundRows.test.ts
 */
export function soundRows(
  records: BookRecords,
  {settings, today, sources, problems, columns}: SoundRowsOptions
): BookRecords {
  const faults = new Faults(sources, problems);
  const asked = {settings, today, faults};
  const lots = soundLots(records.lots, asked);
  const squareColumns = columns?.squares(lots, asked);
  const squares = squareColumns ? [] : soundSquares(records.squares, lots, asked);
  const orders = soundOrders(records.orders, asked);
  const known = {
    squares: squareColumns?.known ?? placesOf(squares.map(({square}) => square)),
    orders: placesOf(orders.map(({order}) => order))
  };
  const events = columns ? [] : soundEvents(records.events, known, asked);
  columns?.events(known, asked);
  const climate = records.climate.filter(
    (reading) => !faults.future("climate.csv", reading, reading.date, "date", today)
  );
  const advice = soundAdvice(records.advice, asked);
  const inLots = squareColumns ? Array.from(squareColumns.lots, (place) => lots[place]!) : squares;
  miscountedLots(lots, inLots, faults);
  return {lots, squares, events, orders, climate, advice};
}

interface SoundRowsOptions {
  settings: Settings;
  today: Day | undefined;
  sources: Sources;
  problems: Problem[];
  /** How the sound squares and events are found, where they are not given as records. */
  columns?: {
    squares: (lots: Numbered<Lot>[], asked: Asked) => SquareColumns;
    events: (known: KnownNumbers, asked: Asked) => void;
  };
}

/** The numbers of the sound squares and orders, with the place of each among them. */
export interface KnownNumbers {
  squares: ReadonlyMap<string, number>;
  orders: ReadonlyMap<string, number>;
}

export interface Asked {
  settings: Settings;
  today: Day | undefined;
  faults: Faults;
}

/** Says of the second and later rows with one number that the first row has it. */
function onlyOnce(file: FileName, heading: string, faults: Faults): (id: string, row: number) => boolean {
  const first = new Map<string, number>();
  return (id, row) => {
    const earlier = first.get(id);
    if (earlier === undefined) {
      first.set(id, row);
      return false;
    }
    const mend = `Row ${earlier} has this number. Take out the row entered twice, or correct its number.`;
    return faults.add(file, row, heading, {code: "number-twice", wanted: "a number of its own", mend});
  };
}

/** Finds a name whatever its case, accents, spaces and dashes. */
function finder(names: readonly string[]): (name: string) => string | undefined {
  const exact = new Set(names);
  const folded = new Map(names.map((name) => [fold(name), name]));
  return (name) => (exact.has(name) ? name : folded.get(fold(name)));
}

function unknownName(
  file: FileName,
  row: number,
  heading: string,
  code: ProblemCode,
  name: string,
  names: readonly string[],
  faults: Faults,
  more = ""
): true {
  const mend = `${didYouMean(name, names)}Correct the spelling, or add it to workshop.json.${more}`;
  return faults.add(file, row, heading, {code, wanted: `one of ${names.join(", ")}`, mend});
}

/** So many names at most are held against mistyped ones, of a file: it takes time. */
const mostCompared = 400_000;

/** The nearest of many numbers to a mistyped one; looked for some times only. */
function nearestFinder(names: {size: number; keys(): Iterable<string>}): (name: string) => string {
  let left = Math.min(25, Math.floor(mostCompared / Math.max(1, names.size)));
  const among = didYouMeanAmong([...names.keys()]);
  return (name) => (left-- > 0 ? among(name) : "");
}

function soundLots(lots: Numbered<Lot>[], {settings, today, faults}: Asked): Numbered<Lot>[] {
  const file = "lots.csv";
  const species = Object.keys(settings.species);
  const find = finder(species);
  const twice = onlyOnce(file, "lot", faults);
  const spelt = new Map<string, {supplier: string; row: number}>();
  return lots.filter((lot) => {
    const {row} = lot;
    const known = find(lot.species);
    if (known === undefined) return !unknownName(file, row, "species", "species-unknown", lot.species, species, faults);
    lot.species = known;
    if (faults.future(file, lot, lot.boughtOn, "bought_on", today) || twice(lot.lot, row)) return false;
    if (lot.squaresLookedAt !== undefined && lot.squaresLookedAt < lot.squaresBought) {
      const wanted = `no fewer than the ${lot.squaresBought} bought`;
      const mend = "Correct one of the two numbers.";
      faults.add(file, row, "squares_looked_at", {code: "looked-fewer", severity: "doubt", wanted, mend});
    }
    const first = spelt.get(fold(lot.supplier));
    if (!first) spelt.set(fold(lot.supplier), {supplier: lot.supplier, row});
    else if (first.supplier !== lot.supplier) {
      const mend = `Row ${first.row} spells it so, and both are taken for one supplier. Spell it alike, or tell them apart by more than case, spaces and dashes.`;
      faults.add(file, row, "supplier", {
        code: "supplier-spelling",
        severity: "doubt",
        wanted: `spelt “${excerpt(first.supplier)}”`,
        mend
      });
      lot.supplier = first.supplier;
    }
    return true;
  });
}

/**
 * The squares that fit: see `soundRows`.
 *
 * @param middles the middles of the columns, where the squares are only some of a file's
 */
export function soundSquares(
  squares: Numbered<Square>[],
  lots: readonly Numbered<Lot>[],
  {settings, today, faults}: Asked,
  middles?: Middles<"lengthMm" | "widthMm" | "thicknessMm">
): Numbered<Square>[] {
  const file = "squares.csv";
  const densities = new Map(
    Object.keys(settings.species).map((species) => [species, speciesDensity(species, settings)])
  );
  const lotById = new Map(lots.map((lot) => [lot.lot, lot]));
  const refusedLot = faults.refusedRow("lots.csv", "lot");
  const near = nearestFinder(lotById);
  const twice = onlyOnce(file, "square", faults);
  const jumps = unitJumps(squares, ["lengthMm", "widthMm", "thicknessMm"], "mm", middles);
  return squares.filter((square) => {
    const {row} = square;
    const lot = lotById.get(square.lot);
    if (lot === undefined) {
      const fallen = refusedLot(square.lot);
      return !faults.add(
        file,
        row,
        "lot",
        fallen === undefined
          ? unknownLot(near(square.lot), faults)
          : followsFrom("lot", fallen, faults.name("lots.csv"))
      );
    }
    const jump = jumps.get(square);
    if (jump) return !faults.jump(file, row, jump);
    if (square.measuredOn !== undefined) {
      if (faults.future(file, square, square.measuredOn, "measured_on", today)) return false;
      if (square.measuredOn < lot.boughtOn) {
        const mend = "Correct one of the two dates; until then it counts as measured on the day noted.";
        faults.add(file, row, "measured_on", {
          code: "before-purchase",
          severity: "doubt",
          wanted: `on or after ${lot.boughtOn}, when lot ${excerpt(lot.lot)} was bought`,
          mend
        });
      }
    }
    return !strangeDensity(square, lot, densities.get(lot.species)!, faults) && !twice(square.square, row);
  });
}

function unknownLot(near: string, faults: Faults): Said {
  const mend = `${near}Correct the lot's number here, or enter the lot.`;
  return {code: "lot-unknown", wanted: `the number of a lot in ${faults.name("lots.csv")}`, mend};
}

/** A row that fell because the one it names did. */
function followsFrom(what: "lot" | "square" | "order", row: number, file: string): Said {
  const wanted = `a sound ${what}; row ${row} of ${file}, where it stands, was refused`;
  return {code: `${what}-refused`, wanted, mend: "Mend that row, and this one is read with it."};
}

/** No timber yard sells squares wetter than this, % of oven-dry mass, for turning; common practice, no source. */
const wettest = 40;

/** Whether a square's density rules it out; a density that is only unusual is a doubt. */
function strangeDensity(
  square: Numbered<Square>,
  lot: Lot,
  {at12, usual: {low, high}}: SpeciesDensity,
  faults: Faults
): boolean {
  const add = (heading: string, said: Said) => faults.add("squares.csv", square.row, heading, said);
  const densityKgM3 = at12(square);
  const is = `(it is ${Math.round(densityKgM3)})`;
  const isUsual = (density: number) => density >= low && density <= high;
  // 131 for 13.1: of all that may be wrong the one that explains it by itself.
  const tenth = square.moisturePct / 10;
  const ifTenth = square.moisturePct > wettest ? at12({...square, moisturePct: tenth}) : Number.NaN;
  const isTenth = isUsual(ifTenth);
  const at = isTenth ? "mc_pct" : "mass_g";
  const look = isTenth
    ? `With a moisture of ${tenth} % it would be ${Math.round(ifTenth)}: a decimal point missing? If not, look at mass, length, width and thickness.`
    : "Look at mass, length, width, thickness and moisture: a digit missing or too many, or another unit?";
  if (densityKgM3 < 250 || densityKgM3 > 1250) {
    return add(at, {
      code: "density-impossible",
      wanted: `such that the density at 12 % is 250 to 1250 kg/m³ ${is}`,
      mend: look
    });
  }
  if (!isUsual(densityKgM3)) {
    const wanted = `such that the density at 12 % is that of ${lot.species}, ${Math.round(low)} to ${Math.round(high)} kg/m³ ${is}`;
    add(at, {code: "density-unlikely", severity: "doubt", wanted, mend: look});
  }
  const noted = square.densityKgM3;
  const measured = (square.massG * 1e6) / (square.lengthMm * square.widthMm * square.thicknessMm);
  if (noted !== undefined && isNotedApart(square, noted)) {
    const wanted = `mass over volume, ${Math.round(measured)} kg/m³, within 3 %`;
    add("density_kgm3", {
      code: "density-differs",
      severity: "doubt",
      wanted,
      mend: "Mass and size are what counts. Look which of the four is mistyped."
    });
  }
  return false;
}

function soundOrders(orders: Numbered<Order>[], {settings, today, faults}: Asked): Numbered<Order>[] {
  const file = "orders.csv";
  const species = Object.keys(settings.species);
  const find = finder(species);
  const twice = onlyOnce(file, "order", faults);
  const jumps = new Map<Order, UnitJump<string>>([
    ...unitJumps(orders, ["lengthMm", "tipMm"]),
    ...unitJumps(orders, ["massMinG", "massMaxG"], "g")
  ]);
  return orders.filter((order) => {
    const {row} = order;
    const known = find(order.species);
    if (known === undefined)
      return !unknownName(file, row, "species", "species-unknown", order.species, species, faults);
    order.species = known;
    const jump = jumps.get(order);
    if (jump) return !faults.jump(file, row, jump);
    const {massMinG, massMaxG} = order;
    if (massMinG !== undefined && massMaxG !== undefined && massMinG > massMaxG) {
      const mend = "Exchange the two, or correct one of them.";
      return !faults.add(file, row, "mass_min_g", {
        code: "mass-window",
        wanted: `no more than the heaviest, ${Number(massMaxG.toPrecision(6))} g`,
        mend
      });
    }
    const {deflectionMinMm, deflectionMaxMm} = order;
    if (deflectionMinMm !== undefined && deflectionMaxMm !== undefined && deflectionMinMm > deflectionMaxMm) {
      const mend = "Exchange the two, or correct one of them.";
      return !faults.add(file, row, "deflection_min_mm", {
        code: "deflection-window",
        wanted: `no more than that of the most pliant, ${Number(deflectionMaxMm.toPrecision(6))} mm`,
        mend
      });
    }
    if (order.lost !== undefined && order.lost > order.quantity) {
      const mend = "quantity counts the shafts lost too. Correct one of them.";
      return !faults.add(file, row, "lost", {
        code: "lost-more",
        wanted: `no more than the ${order.quantity} ordered`,
        mend
      });
    }
    if (faults.future(file, order, order.orderedOn, "ordered_on", today) || twice(order.order, row)) return false;
    if (order.wantedBy !== undefined && order.wantedBy < order.orderedOn) {
      const mend = "Correct one of the two dates.";
      faults.add(file, row, "wanted_by", {
        code: "before-order",
        severity: "doubt",
        wanted: `on or after ${order.orderedOn}, when it was ordered`,
        mend
      });
    }
    return true;
  });
}

/**
 * The events that fit: see `soundRows`.
 *
 * @param middles the middles of the columns, where the events are only some of a file's
 */
export function soundEvents(
  events: Numbered<Event>[],
  {squares: squareIds, orders: orderIds}: KnownNumbers,
  {settings, today, faults}: Asked,
  middles?: Middles<"diameterMm">
): Numbered<Event>[] {
  const file = "events.csv";
  const stages = settings.stages.map(({name}) => name);
  const defects = settings.defects.map(({name}) => name);
  const findStage = finder(stages);
  const findDefect = finder(defects);
  const refusedSquare = faults.refusedRow("squares.csv", "square");
  const refusedOrder = faults.refusedRow("orders.csv", "order");
  const nearSquare = nearestFinder(squareIds);
  const nearOrder = nearestFinder(orderIds);
  const seen = new Map<string, number>();
  const jumps = unitJumps(events, ["diameterMm"], "mm", middles);
  return events.filter((event) => {
    const {row, square, order} = event;
    const refuse = (heading: string, said: Said) => !faults.add(file, row, heading, said);
    const stays = ["discarded", "diverted", "delivered"].includes(event.event)
      ? ` Until then ${excerpt(square)} counts as still there.`
      : "";
    if (!squareIds.has(square)) {
      const fallen = refusedSquare(square);
      if (fallen !== undefined) return refuse("square", followsFrom("square", fallen, faults.name("squares.csv")));
      const mend = `${nearSquare(square)}Correct the number here, or enter the square.`;
      return refuse("square", {
        code: "square-unknown",
        wanted: `the number of a square in ${faults.name("squares.csv")}`,
        mend
      });
    }
    if (event.stage !== undefined) {
      const stage = findStage(event.stage);
      if (stage === undefined) return !unknownName(file, row, "stage", "stage-unknown", event.stage, stages, faults);
      event.stage = stage;
    }
    if (event.defect !== undefined) {
      const defect = findDefect(event.defect);
      if (defect === undefined)
        return !unknownName(file, row, "defect", "defect-unknown", event.defect, defects, faults, stays);
      event.defect = defect;
    }
    if (order !== undefined && !orderIds.has(order)) {
      const fallen = refusedOrder(order);
      if (fallen !== undefined) return refuse("order", followsFrom("order", fallen, faults.name("orders.csv")));
      const mend = `${nearOrder(order)}Correct the number, or enter the order.${stays}`;
      return refuse("order", {
        code: "order-unknown",
        wanted: `the number of an order in ${faults.name("orders.csv")}`,
        mend
      });
    }
    const jump = jumps.get(event);
    if (jump) return !faults.jump(file, row, jump);
    if (event.event === "turned" && event.stage === undefined) {
      const mend = `Enter one of ${stages.slice(1).join(", ")}.`;
      return refuse("stage", {code: "stage-missing", wanted: "the stage that was reached", mend});
    }
    if (event.event === "discarded" && event.defect === undefined) {
      const mend = `Enter one of ${defects.join(", ")}.${stays}`;
      return refuse("defect", {code: "defect-missing", wanted: "the defect it was discarded for", mend});
    }
    if (event.event === "allotted" && order === undefined) {
      return refuse("order", {
        code: "order-missing",
        wanted: "the order it is allotted to",
        mend: "Enter the order's number."
      });
    }
    if (faults.future(file, event, event.date, "date", today)) return false;
    const {row: _, ...rest} = event;
    const same = JSON.stringify(rest);
    const earlier = seen.get(same);
    if (earlier === undefined) {
      seen.set(same, row);
      return true;
    }
    return refuse("event", {
      code: "row-twice",
      wanted: `written once; row ${earlier} says the same`,
      mend: "Take out the row entered twice."
    });
  });
}

/** Advice of a known species and a past day, one row a species and day, whose ranges end after they begin. */
function soundAdvice(advice: Numbered<Advice>[], {settings, today, faults}: Asked): Numbered<Advice>[] {
  const file = "advice.csv";
  const species = Object.keys(settings.species);
  const find = finder(species);
  const seen = new Map<string, number>();
  return advice.filter((one) => {
    const {row} = one;
    const known = find(one.species);
    if (known === undefined) return !unknownName(file, row, "species", "species-unknown", one.species, species, faults);
    one.species = known;
    if (faults.future(file, one, one.advisedOn, "advised_on", today)) return false;
    const ranges = [
      ["season_from", one.seasonFrom, "season_to", one.seasonTo],
      ["squares_low", one.squaresLow, "squares_high", one.squaresHigh],
      ["shafts_wanted_low", one.shaftsWantedLow, "shafts_wanted_high", one.shaftsWantedHigh],
      ["usable_low_pct", one.usableLowPct ?? 0, "usable_high_pct", one.usableHighPct ?? 100]
    ] as const;
    const turned = ranges.find(([, low, , high]) => low > high);
    if (turned) {
      const [heading, , other, high] = turned;
      const wanted = `no more than ${other}, ${high}`;
      return !faults.add(file, row, heading, {code: "range-turned", wanted, mend: "Exchange the two, or correct one."});
    }
    const earlier = seen.get(`${one.advisedOn} ${known}`);
    if (earlier === undefined) {
      seen.set(`${one.advisedOn} ${known}`, row);
      return true;
    }
    const wanted = `the only advice of its day on ${known}; row ${earlier} has one`;
    return !faults.add(file, row, "advised_on", {code: "row-twice", wanted, mend: "Take out the row entered twice."});
  });
}

/** Lots whose squares do not add up: listed are the sound rows that name the lot. */
function miscountedLots(lots: readonly Numbered<Lot>[], squares: readonly Pick<Square, "lot">[], faults: Faults): void {
  const listed = new Map<string, number>();
  for (const {lot} of squares) listed.set(lot, (listed.get(lot) ?? 0) + 1);
  const file = faults.name("squares.csv");
  for (const {lot, squaresBought, row} of lots) {
    const found = listed.get(lot) ?? 0;
    if (found === squaresBought) continue;
    const mend = `Compare the lot with ${file} and the rows refused there; the difference is shown as unaccounted.`;
    faults.add("lots.csv", row, "squares_bought", {
      code: found < squaresBought ? "lot-short" : "lot-over",
      severity: "doubt",
      value: `${squaresBought} bought, ${found} listed`,
      wanted: `what ${file} lists of lot ${excerpt(lot)}`,
      mend
    });
  }
}
