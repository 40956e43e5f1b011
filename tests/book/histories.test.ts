import fc from "fast-check";
import {expect, test} from "vitest";
import {balance} from "../../lib/book/balance.ts";
import {dayNumber, dayText} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {bookOf, brief, frozen, type Lines, read, settingsOf, smallest} from "./smallBook.ts";

const end = "2026-12-31";
const replayed = (events: readonly string[], asOf = end, lines: Lines = {}) =>
  histories(bookOf({...lines, events}), asOf);
const pieceOf = (events: readonly string[], asOf = end) => replayed(events, asOf).pieces[0]!;
const briefs = (events: readonly string[]) => replayed(events).problems.map(brief);

/** A1 turned stage by stage to a finished shaft. */
const finishing = [
  "2025-04-01,A1,turned,rough-round,1100,11.5,,",
  "2025-06-01,A1,turned,second-round,700,,,",
  "2025-08-01,A1,turned,proud-round,450,,,",
  "2025-10-01,A1,turned,finished,310,10,,"
];

test("histories takes a shaft delivered to an order, never allotted before, for one of that order", () => {
  const piece = pieceOf([...finishing, "2025-11-01,A1,delivered,,309,,,O1"]);
  expect(piece).toMatchObject({allottedTo: "O1", deliveredOn: dayNumber("2025-11-01")});
  expect(pieceOf([...finishing, "2025-11-01,A1,delivered,,309,,,"])).not.toHaveProperty("allottedTo");
});

test("histories replays a piece from the purchase to the rack, its rack and its order", () => {
  const piece = pieceOf([...finishing, "2025-10-02,A1,allotted,,,,,O1", "2025-11-01,A1,delivered,,309,,,O1"]);
  expect(piece).toMatchObject({
    square: "A1",
    lot: "A",
    supplier: "Quillmoor Sawpit",
    species: "ash",
    boughtOn: dayNumber("2025-01-10"),
    fate: "finished",
    fateOn: dayNumber("2025-10-01"),
    allottedTo: "O1",
    deliveredOn: dayNumber("2025-11-01")
  });
  expect(piece.densityAt12KgM3).toBeCloseTo(700, 9);
  const days = ["2025-01-10", "2025-04-01", "2025-06-01", "2025-08-01", "2025-10-01"].map(dayNumber);
  const stages = ["square", "rough-round", "second-round", "proud-round", "finished"];
  expect(piece.stays).toEqual(
    stages.map((stage, i) =>
      i === 4 ? {stage, from: days[i]} : {stage, from: days[i], to: days[i + 1], left: "turned"}
    )
  );
  expect(piece.measurements).toEqual([
    {day: days[0], stage: "square", turned: false, massG: 1680, moisturePct: 12},
    {day: days[1], stage: "rough-round", turned: true, massG: 1100, moisturePct: 11.5},
    {day: days[2], stage: "second-round", turned: true, massG: 700},
    {day: days[3], stage: "proud-round", turned: true, massG: 450},
    {day: days[4], stage: "finished", turned: true, massG: 310, moisturePct: 10},
    {day: dayNumber("2025-11-01"), stage: "finished", turned: false, massG: 309}
  ]);
});

test("histories leaves an untouched piece in stock", () => {
  const piece = pieceOf([]);
  expect(piece.fate).toBe("in stock");
  expect(piece).not.toHaveProperty("fateOn");
  expect(piece.stays).toEqual([{stage: "square", from: dayNumber("2025-01-10")}]);
});

test("histories ends a piece at its discard or diversion", () => {
  const discarded = pieceOf([finishing[0]!, "2025-05-01,A1,discarded,,,,warp,"]);
  expect(discarded).toMatchObject({fate: "discarded", fateOn: dayNumber("2025-05-01"), defect: "warp"});
  expect(discarded.stays.at(-1)).toEqual({
    stage: "rough-round",
    from: dayNumber("2025-04-01"),
    to: dayNumber("2025-05-01"),
    left: "discarded"
  });
  const diverted = pieceOf(["2025-05-01,A1,diverted,,,,,"]);
  expect(diverted).toMatchObject({fate: "diverted", fateOn: dayNumber("2025-05-01")});
  expect(diverted).not.toHaveProperty("defect");
});

test("histories takes the day of the question in, and leaves out later events, lots and orders", () => {
  const lots = [...smallest.lots, "B,2025-03-01,Fennaby Yard,maple,1,9"];
  const squares = [...smallest.squares, "B1,B,1500,40,40,1680,12"];
  const orders = [...smallest.orders, "O2,2025-04-02,maple,1"];
  const at = (asOf: string) => {
    const {lots: bought, orders: ordered, pieces, problems} = replayed(finishing, asOf, {lots, squares, orders});
    return [bought.length, ordered.length, pieces.length, pieces[0]?.stays.at(-1)?.stage, problems.length];
  };
  expect(at("2025-01-09")).toEqual([0, 0, 0, undefined, 0]);
  expect(at("2025-01-10")).toEqual([1, 0, 2, "square", 0]);
  expect(at("2025-02-28")).toEqual([1, 1, 2, "square", 0]);
  expect(at("2025-03-31")).toEqual([2, 1, 3, "square", 0]);
  expect(at("2025-04-01")).toEqual([2, 1, 3, "rough-round", 0]);
  expect(at("2025-10-01")).toEqual([2, 2, 3, "finished", 0]);
});

test("histories takes events of one day in the order of their rows", () => {
  const turned = "2025-04-01,A1,turned,rough-round,,,,";
  const discarded = "2025-04-01,A1,discarded,,,,warp,";
  expect(briefs([turned, discarded])).toEqual([]);
  expect(pieceOf([turned, discarded]).stays.at(-1)).toMatchObject({stage: "rough-round", left: "discarded"});
  expect(briefs([discarded, turned])).toEqual(["after-end events.csv C3"]);
  expect(pieceOf([discarded, turned]).stays.at(-1)).toMatchObject({stage: "square", left: "discarded"});
});

test.each<[string, string[], string[]]>([
  ["an event before the purchase", ["2025-01-09,A1,weighed,,1680,,,"], ["before-purchase events.csv A2"]],
  [
    "an event after the discard",
    ["2025-04-01,A1,discarded,,,,split,", "2025-04-02,A1,weighed,,1600,,,"],
    ["after-end events.csv C3"]
  ],
  [
    "a second discard after a diversion",
    ["2025-04-01,A1,diverted,,,,,", "2025-04-02,A1,discarded,,,,split,"],
    ["after-end events.csv C3"]
  ],
  [
    "a weighing after the delivery",
    [...finishing, "2025-11-01,A1,delivered,,,,,O1", "2025-11-02,A1,weighed,,300,,,"],
    ["after-end events.csv C7"]
  ],
  ["a diversion of a finished shaft", [...finishing, "2025-11-01,A1,diverted,,,,,"], ["after-end events.csv C6"]],
  [
    "a stage gone backwards",
    [...finishing.slice(0, 2), "2025-07-01,A1,turned,rough-round,,,,"],
    ["stage-backwards events.csv D4"]
  ],
  [
    "a turning entered twice",
    [finishing[0]!, "2025-04-02,A1,turned,rough-round,,,,"],
    ["stage-backwards events.csv D3"]
  ],
  ["a turning to the first stage", ["2025-04-01,A1,turned,square,,,,"], ["stage-backwards events.csv D2"]],
  ["a mass that grew", [finishing[0]!, "2025-05-01,A1,weighed,,1134,,,"], ["mass-grew events.csv E3"]],
  ["an allotment of a square", ["2025-04-01,A1,allotted,,,,,O1"], ["not-finished events.csv C2"]],
  ["a delivery of a square", ["2025-04-01,A1,delivered,,,,,O1"], ["not-finished events.csv C2"]]
])("histories refuses %s, and goes on as if it had not been written", (_, events, expected) => {
  const {pieces, problems} = replayed(events);
  expect(problems.map(brief)).toEqual(expected);
  for (const {severity, value, wanted, mend} of problems) {
    expect(severity).toBe("refused");
    expect([value, wanted].every((text) => text !== undefined && text !== "")).toBe(true);
    expect(mend).toMatch(/\.$/);
  }
  const rows = problems.map(({row}) => row! - 2);
  expect(pieces).toEqual(replayed(events.filter((_, index) => !rows.includes(index))).pieces);
});

test("histories refuses a delivery to another order than the one it was allotted to", () => {
  const events = [...finishing, "2025-10-02,A1,allotted,,,,,O1", "2025-11-01,A1,delivered,,,,,O2"];
  const {pieces, problems} = replayed(events, end, {orders: [...smallest.orders, "O2,2025-02-01,ash,1"]});
  expect(problems).toMatchObject([
    {
      code: "allotted-elsewhere",
      severity: "refused",
      cell: "H7",
      value: "O2",
      wanted: "O1, the order it was allotted to"
    }
  ]);
  expect(pieces[0]).not.toHaveProperty("deliveredOn");
});

test("histories allows 3 % of mass for damp air, and no more", () => {
  expect(briefs(["2025-04-01,A1,weighed,,1730.4,,,"])).toEqual([]);
  expect(briefs(["2025-04-01,A1,weighed,,1730.5,,,"])).toEqual(["mass-grew events.csv E2"]);
});

test("histories compares a mass with the last sound one, not with a refused one", () => {
  expect(
    briefs(["2025-04-01,A1,weighed,,2000,,,", "2025-04-02,A1,weighed,,1900,,,", "2025-04-03,A1,weighed,,1650,,,"])
  ).toEqual(["mass-grew events.csv E2", "mass-grew events.csv E3"]);
});

test("histories doubts a skipped stage, and counts it as passed on that day", () => {
  const {pieces, problems} = replayed(["2025-04-01,A1,turned,proud-round,450,,,"]);
  expect(problems).toMatchObject([
    {
      code: "stage-skipped",
      severity: "doubt",
      cell: "D2",
      value: "proud-round",
      wanted: "the next stage",
      mend: "It is counted as having passed rough-round and second-round on that day. Enter the missing turning if there was one."
    }
  ]);
  const day = dayNumber("2025-04-01");
  expect(pieces[0]?.stays).toEqual([
    {stage: "square", from: dayNumber("2025-01-10"), to: day, left: "turned"},
    {stage: "rough-round", from: day, to: day, left: "turned"},
    {stage: "second-round", from: day, to: day, left: "turned"},
    {stage: "proud-round", from: day}
  ]);
});

test("histories takes a discard of a finished shaft: the rack can damage it", () => {
  const {pieces, problems} = replayed([...finishing, "2025-11-01,A1,discarded,,,,split,"]);
  expect(problems).toEqual([]);
  expect(pieces[0]).toMatchObject({fate: "discarded", fateOn: dayNumber("2025-11-01"), defect: "split"});
  expect(pieces[0]?.stays.at(-1)).toMatchObject({stage: "finished", left: "discarded"});
});

test("histories says of an event on a square bought later that it is too early, when it happened before the question", () => {
  const book = bookOf({events: ["2025-01-05,A1,weighed,,1680,,,"]});
  expect(histories(book, "2025-01-06").problems.map(brief)).toEqual(["before-purchase events.csv A2"]);
});

test("histories uses the stages of the workshop, however many", () => {
  const settings = settingsOf({stages: [{name: "blank"}, {name: "done"}]});
  const {pieces, problems} = histories(bookOf({events: ["2025-04-01,A1,turned,done,,,,"]}, settings), end);
  expect(problems).toEqual([]);
  expect(pieces[0]?.fate).toBe("finished");
});

test("histories changes nothing of the book", () => {
  const book = bookOf({events: finishing});
  expect(histories(frozen(book), end)).toEqual(replayed(finishing));
});

const stages = settingsOf().stages.map(({name}) => name);
/** Any event of either square, possible or not. */
const anyEvent = fc
  .record({
    day: fc.integer({min: dayNumber("2025-01-01"), max: dayNumber("2025-06-30")}),
    square: fc.constantFrom("A1", "A2", "A9"),
    event: fc.constantFrom(
      "turned",
      "turned",
      "turned",
      "weighed",
      "discarded",
      "diverted",
      "allotted",
      "delivered",
      "x"
    ),
    stage: fc.constantFrom(...stages, "", "no stage"),
    massG: fc.constantFrom("", "", "1500", "900", "300", "-5"),
    defect: fc.constantFrom("warp", "knot", ""),
    order: fc.constantFrom("O1", "")
  })
  .map(({day, square, event, stage, massG, defect, order}) =>
    [dayText(day), square, event, stage, massG, "", defect, order].join(",")
  );

test("histories: whatever the events, each row is used or named, and the balance closes", () => {
  let used = 0;
  let named = 0;
  fc.assert(
    fc.property(fc.array(anyEvent, {minLength: 1, maxLength: 15}), (events) => {
      const {book, problems} = read({events});
      const {pieces, problems: impossible, ...rest} = histories(book!, end);
      const refused = [...problems, ...impossible].filter(
        ({file, severity}) => file === "events.csv" && severity === "refused"
      );
      const refusedRows = new Set(refused.map(({row}) => row));
      const happened = book!.events.filter(({row}) => !refusedRows.has(row));
      used += happened.length;
      named += refusedRows.size;
      expect(happened.length + refusedRows.size).toBe(events.length);

      const many = (event: string) => happened.filter((one) => one.event === event).length;
      const turnings = pieces.flatMap(({stays}) => stays).filter(({left}) => left === "turned").length;
      const passedOver = impossible
        .filter(({code}) => code === "stage-skipped")
        .map(({mend}) => mend.split(" on that day")[0]!.split(" and ").length);
      expect(turnings).toBe(many("turned") + passedOver.reduce((sum, stages) => sum + stages, 0));
      expect(pieces.filter(({fate}) => fate === "discarded").length).toBe(many("discarded"));
      expect(pieces.filter(({fate}) => fate === "diverted").length).toBe(many("diverted"));
      expect(pieces.filter(({deliveredOn}) => deliveredOn !== undefined).length).toBe(many("delivered"));
      const measured = happened.filter(({massG}) => massG !== undefined).length;
      expect(pieces.reduce((sum, {measurements}) => sum + measurements.length, 0)).toBe(2 + measured);

      const rows = balance({...rest, pieces});
      expect(rows.map(({species, bought, closes}) => [species, bought, closes])).toEqual([["ash", 2, true]]);
    })
  );
  expect(Math.min(used, named)).toBeGreaterThan(50);
});

test("histories gives the same pieces in whatever order the rows of different days stand", () => {
  const distinct = fc
    .uniqueArray(anyEvent, {minLength: 2, maxLength: 12, selector: (line) => line.slice(0, 10)})
    .chain((events) => fc.tuple(fc.constant(events), fc.shuffledSubarray(events, {minLength: events.length})));
  fc.assert(
    fc.property(distinct, ([events, shuffled]) => {
      expect(replayed(shuffled).pieces).toEqual(replayed(events).pieces);
    })
  );
});

test("histories' faults stay short however long a number is", () => {
  const square = "S".repeat(100_000);
  const order = "O".repeat(100_000);
  const of = (text: string) => text.replaceAll("A1", square).replaceAll("O1", order);
  const lines = {squares: smallest.squares.map(of), orders: [...smallest.orders.map(of), "O2,2025-02-01,ash,1"]};
  const events = [...finishing, "2025-10-02,A1,allotted,,,,,O2", "2025-11-01,A1,delivered,,,,,O1"].map(of);
  const {problems} = replayed(
    [...events, of("2025-11-02,A1,delivered,,,,,O2"), of("2025-11-03,A1,discarded,,,,knot,")],
    end,
    lines
  );
  expect(problems.map(brief)).toEqual(["allotted-elsewhere events.csv H7", "after-end events.csv C9"]);
  expect(Math.max(...problems.map((problem) => JSON.stringify(problem).length))).toBeLessThan(700);
});

// An eighth of 1680 g is 210 g.
test("histories refuses a mass below an eighth of the one before, and none above", () => {
  expect(briefs(["2025-03-01,A1,turned,rough-round,209,,,"])).toEqual(["mass-fell events.csv E2"]);
  expect(briefs(["2025-03-01,A1,turned,rough-round,210,,,"])).toEqual([]);
  expect(pieceOf(["2025-03-01,A1,turned,rough-round,209,,,"]).stays).toHaveLength(1);
});

test("histories doubts a stage written beside a weighing or a discard that is not the piece's, and takes the event", () => {
  const events = ["2025-04-01,A1,weighed,rough-round,1600,,,", "2025-05-01,A1,discarded,second-round,,,warp,"];
  expect(briefs(events)).toEqual(["stage-differs events.csv D2", "stage-differs events.csv D3"]);
  expect(pieceOf(events)).toMatchObject({fate: "discarded", stays: [{stage: "square"}]});
  expect(briefs(["2025-04-01,A1,weighed,square,1600,,,"])).toEqual([]);
});

test("histories doubts a shaft beyond what its order asked for, once allotted or delivered, and lets it go", () => {
  const second = finishing.map((line) => line.replace("A1", "A2"));
  const both = [...finishing, ...second, "2025-11-01,A1,allotted,,,,,O1", "2025-11-02,A1,delivered,,,,,O1"];
  expect(briefs(both)).toEqual([]);
  const over = [...both, "2025-11-03,A2,delivered,,,,,O1"];
  expect(briefs(over)).toEqual(["order-overfilled events.csv H12"]);
  expect(replayed(over).pieces[1]?.deliveredOn).toBe(dayNumber("2025-11-03"));
  expect(replayed(over, end, {orders: ["O1,2025-02-01,ash,2"]}).problems).toEqual([]);
});

test("histories takes events of one day from the bottom up in a file kept newest first", () => {
  const down = [
    "2025-04-01,A1,weighed,,1650,,,",
    "2025-04-01,A1,turned,rough-round,1100,,,",
    "2025-06-01,A1,weighed,,1080,,,"
  ];
  expect(briefs(down)).toEqual([]);
  expect(briefs(down.toReversed())).toEqual([]);
  expect(pieceOf(down.toReversed()).measurements).toEqual(pieceOf(down).measurements);
});

test("histories: of an order that came in after the day of the question nobody says that it had enough, though a shaft of it was thrown out", () => {
  const events = ["A1", "A2", "A3"].flatMap((square, i) => [
    ...finishing.map((line) => line.replace("A1", square)),
    `2025-10-0${2 + i},${square},allotted,,,,,O1`
  ]);
  events.splice(5, 0, "2025-10-02,A1,discarded,,,,warp,");
  const lines = {
    squares: [...smallest.squares, "A3,A,1500,40,40,1680,12"],
    lots: ["A,2025-01-10,Quillmoor Sawpit,ash,3,10"]
  };
  expect(replayed(events, "2025-12-31", {...lines, orders: ["O1,2026-02-01,ash,1"]}).problems).toEqual([]);
  const known = replayed(events, "2025-12-31", {...lines, orders: ["O1,2025-02-01,ash,1"]});
  expect(known.problems.map(({code, row}) => [code, row])).toEqual([["order-overfilled", 17]]);
});

test("histories: a shaft thrown out after it was allotted is allotted no more, and its order may have another", () => {
  const second = finishing.map((line) => line.replace("A1", "A2"));
  const events = [...finishing, ...second, "2025-10-02,A1,allotted,,,,,O1", "2025-10-05,A1,discarded,,,,warp,"];
  const {pieces, problems} = replayed([...events, "2025-10-06,A2,allotted,,,,,O1"]);
  expect(problems).toEqual([]);
  expect(pieces[0]).toMatchObject({fate: "discarded", defect: "warp"});
  expect(pieces[0]).not.toHaveProperty("allottedTo");
  expect(pieces[1]).toMatchObject({fate: "finished", allottedTo: "O1"});
});
