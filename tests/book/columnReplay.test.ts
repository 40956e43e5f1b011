import {expect, test} from "vitest";
import {columnReplay} from "../../lib/book/columnReplay.ts";
import {noPlace} from "../../lib/book/columnsOf.ts";
import {type EventColumns, kindAt} from "../../lib/book/eventColumns.ts";
import type {Event} from "../../lib/book/records.ts";

interface Row {
  square?: number;
  day: number;
  kind: Event["event"];
  stage?: number;
  massG?: number;
  order?: number;
  isApart?: boolean;
}

/** The courses of squares of 1600 g, bought on day 10, in three stages. */
function courses(...rows: Row[]) {
  const events: EventColumns = {
    sound: Int32Array.from(rows.keys()),
    days: Int32Array.from(rows, ({day}) => day),
    squares: Int32Array.from(rows, ({square = 0}) => square),
    isApart: Uint8Array.from(rows, ({isApart}) => (isApart ? 1 : 0)),
    kinds: Int32Array.from(rows, ({kind}) => kindAt(kind)),
    stages: Int32Array.from(rows, ({stage = noPlace}) => stage),
    defects: new Int32Array(rows.length).fill(noPlace),
    orders: Int32Array.from(rows, ({order = noPlace}) => order),
    massG: Float64Array.from(rows, ({massG = Number.NaN}) => massG),
    event: () => expect.fail("no event is to be made")
  };
  const squares = {
    size: 2,
    known: new Map(),
    measuredOn: new Int32Array(2),
    lots: Int32Array.of(0, 0),
    massG: Float64Array.of(1600, 1600),
    densityAt12KgM3: Float64Array.of(690, 690),
    square: () => expect.fail("no square is to be made")
  };
  const found = columnReplay(events, events.sound, squares, Int32Array.of(10), 2);
  return Object.fromEntries(Object.entries(found).map(([key, values]) => [key, [...values]]));
}

test("columnReplay: the stages, days, orders and ends of squares about which nothing is to be told", () => {
  const rows: Row[] = [
    {day: 12, kind: "turned", stage: 1, massG: 1100},
    {day: 14, kind: "weighed", stage: 1, massG: 1100},
    {day: 15, square: 1, kind: "discarded"},
    {day: 20, kind: "turned", stage: 2, massG: 400},
    {day: 21, kind: "allotted", order: 3},
    {day: 30, kind: "delivered"}
  ];
  expect(courses(...rows)).toEqual({
    isDoubtful: [0, 0],
    stages: [2, 0],
    reachedOn: [10, 12, 20, 10, 0, 0],
    promisedAt: [4, noPlace],
    endedAt: [5, 2]
  });
});

const turned: Row[] = [
  {day: 12, kind: "turned", stage: 1},
  {day: 13, kind: "turned", stage: 2}
];

// Each is told of by `histories`; see tests/book/histories.test.ts.
test.each<[string, Row[]]>([
  ["before the purchase", [{day: 9, kind: "weighed"}]],
  [
    "after its end",
    [
      {day: 12, kind: "diverted"},
      {day: 13, kind: "weighed"}
    ]
  ],
  ["after it was delivered", [...turned, {day: 14, kind: "delivered"}, {day: 15, kind: "weighed"}]],
  ["a stage passed over", [{day: 12, kind: "turned", stage: 2}]],
  ["a stage that it had reached", [turned[0]!, {day: 13, kind: "turned", stage: 1}]],
  ["a finished shaft diverted", [...turned, {day: 14, kind: "diverted"}]],
  ["an order for what is not finished", [turned[0]!, {day: 14, kind: "allotted", order: 0}]],
  ["delivered and not finished", [{day: 14, kind: "delivered"}]],
  ["another order", [...turned, {day: 14, kind: "allotted", order: 0}, {day: 15, kind: "delivered", order: 1}]],
  ["heavier than before", [{day: 12, kind: "weighed", massG: 1649}]],
  ["an eighth of the mass", [{day: 12, kind: "weighed", massG: 199}]],
  ["another stage beside a weighing", [{day: 12, kind: "weighed", stage: 1}]],
  ["a row that is not what its columns say", [{day: 12, kind: "weighed", isApart: true}]]
])("columnReplay leaves to Replay: %s", (_, rows) => expect(courses(...rows).isDoubtful).toEqual([1, 0]));

test.each<[string, Row[]]>([
  ["on the day of the purchase", [{day: 10, kind: "weighed"}]],
  [
    "3 % heavier, an eighth of the mass",
    [
      {day: 12, kind: "weighed", massG: 1648},
      {day: 13, kind: "weighed", massG: 206}
    ]
  ],
  [
    "the order that has it already, again",
    [...turned, ...[14, 15].map((day): Row => ({day, kind: "allotted", order: 0}))]
  ],
  ["a finished shaft thrown out", [...turned, {day: 14, kind: "discarded"}]]
])("columnReplay takes: %s", (_, rows) => expect(courses(...rows).isDoubtful).toEqual([0, 0]));
