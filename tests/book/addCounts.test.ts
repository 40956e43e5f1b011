import {expect, test} from "vitest";
import {addCounts} from "../../lib/book/addCounts.ts";
import {bookCounts} from "../../lib/book/bookCounts.ts";
import {histories} from "../../lib/book/histories.ts";
import {countedYields} from "../../lib/yield/stageYields.ts";
import {bookOf, settingsOf} from "./smallBook.ts";

const countsOf = (json: object = {}, day = "2026-10-31") => {
  const events = ["2025-03-01,A1,turned,rough-round", "2025-03-02,A2,discarded,,,,knot"];
  return bookCounts(histories(bookOf({events}, settingsOf(json)), day));
};
const [north, south] = [countsOf({name: "North"}), countsOf({name: "South"})];

test("lots and orders stand under their workshop's name, in the order of the workshops", () => {
  const sum = addCounts([
    {name: "north", counts: north},
    {name: "south", counts: south}
  ]);
  if ("why" in sum) throw new Error(sum.why);
  const {lots, orders, spells, densities, settings} = sum.counts;
  expect(lots.map(({lot}) => lot)).toEqual(["north/A", "south/A"]);
  expect(orders.map(({order}) => order)).toEqual(["north/O1", "south/O1"]);
  expect(new Set(spells.map(({lot}) => lot))).toEqual(new Set(["north/A", "south/A"]));
  expect(densities.map(({lot, squares}) => [lot, squares])).toEqual([
    ["north/A", 2],
    ["south/A", 2]
  ]);
  expect(settings).toEqual(north.settings);
});

test("what is known of a book stays that of its workshop; of a workshop that does not tell it there is none", () => {
  const books = [{entered: "2026-10-01", files: [{file: "events.csv", rows: 9, setAside: 2}]}];
  const added = (one: typeof north, other: typeof north) => {
    const sum = addCounts([
      {name: "north", counts: one},
      {name: "south", counts: other}
    ]);
    if ("why" in sum) throw new Error(sum.why);
    return sum.counts;
  };
  const both = added({...north, books}, south);
  expect(both.books).toEqual([{...books[0], workshop: "north"}]);
  // A sum may be added up again.
  expect(added(both, {...south, books}).books!.map(({workshop}) => workshop)).toEqual(["north/north", "south"]);
});

test("what is counted of all is the sum of what is counted of each", () => {
  const sum = addCounts(["a", "b", "c"].map((name) => ({name, counts: north})));
  if ("why" in sum) throw new Error(sum.why);
  const stage = (counts: typeof north) => countedYields(counts, counts.spells).stages[0]!;
  const [one, three] = [stage(north), stage(sum.counts)];
  expect([three.entered, three.passed, three.discarded, three.lots]).toEqual(
    [one.entered, one.passed, one.discarded, one.lots].map((number) => 3 * number)
  );
  expect(three.yieldFraction).toBeCloseTo(one.yieldFraction!, 12);
});

test("species, defects and suppliers that only another workshop has are taken over; of common ones the first one's settings hold", () => {
  const window = {low: 640, high: 740};
  const ash = {wood: "european-ash", windowKgM3: window};
  const pine = {wood: "sycamore", windowKgM3: window};
  const one = countsOf({species: {ash}, suppliers: {A: {available: 1}}, defects: [{name: "knot", group: "fit"}]});
  const other = countsOf({
    species: {ash, pale: pine},
    suppliers: {A: {available: 2}, B: {available: 3}},
    defects: [
      {name: "worm", group: "growth"},
      {name: "knot", group: "growth"}
    ]
  });
  const sum = addCounts([
    {name: "one", counts: one},
    {name: "other", counts: other}
  ]);
  if ("why" in sum) throw new Error(sum.why);
  const {species, suppliers, defects} = sum.counts.settings;
  expect(Object.keys(species)).toEqual(["ash", "pale"]);
  expect([suppliers.A!.available, suppliers.B!.available]).toEqual([1, 3]);
  expect(defects).toEqual([
    {name: "knot", group: "fit"},
    {name: "worm", group: "growth"}
  ]);
});

test.each([
  ["days", countsOf({}, "2026-09-30"), "they speak for 2026-09-30 and 2026-10-31"],
  [
    "stages",
    countsOf({stages: [{name: "square"}, {name: "rough-round"}]}),
    "their stages are square, rough-round and square, rough-round, second-round"
  ],
  [
    "windows",
    countsOf({species: {ash: {wood: "european-ash", windowKgM3: {low: 650, high: 740}}}}),
    "ash is european-ash, 650 to 740 kg/m³ here and european-ash, 640 to 740 kg/m³ there"
  ],
  [
    "woods",
    countsOf({species: {ash: {wood: "white-ash", windowKgM3: {low: 640, high: 740}}}}),
    "ash is white-ash, 640 to 740 kg/m³ here"
  ]
])("workshops with other %s are not added up, and the sentence says why", (_, counts, why) => {
  const sum = addCounts([
    {name: "north", counts: north},
    {name: "south", counts}
  ]);
  expect(sum).toMatchObject({why: expect.stringContaining(`south and north cannot be added up: ${why}`)});
});
