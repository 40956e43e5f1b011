import {expect, test} from "vitest";
import {parseBook} from "../../lib/book/parseBook.ts";
import {adviceOutcomes, rangesHeld} from "../../lib/buying/adviceOutcome.ts";
import {bookOf, type Lines, settingsOf, texts} from "../book/smallBook.ts";

/** Columns: advised_on, species, season, squares with range, shafts wanted with range, usable % with range. */
const advice = (
  on: string,
  {
    species = "ash",
    from = "2025-06-01",
    to = "2026-05-31",
    squares = "4,3,5",
    wanted = "3,2,5",
    usable = "50,30,70"
  } = {}
) => `${on},${species},${from},${to},${squares},${wanted},${usable},500,1,2,80`;

const square = (name: string, lot: string, massG = 1680) => `${name},${lot},1500,40,40,${massG},12`;

/** 1680 g in 2.4 litres at 12 %: 700 kg/m³, inside ash's window of 640 to 740; 1900 g: 792 kg/m³, outside. */
const finished = (name: string, on: string) =>
  ["rough-round", "second-round", "proud-round", "finished"].map((stage) => `${on},${name},turned,${stage},,,,`);

const lines: Lines = {
  lots: [
    "A,2025-01-10,Quillmoor Sawpit,ash,2,10",
    "B,2025-04-01,Quillmoor Sawpit,ash,3,10",
    "C,2025-07-01,Low Fold Sawmill,ash,1,12",
    "D,2025-04-02,Low Fold Sawmill,maple,1,12",
    "E,2026-06-05,Low Fold Sawmill,ash,7,12"
  ],
  squares: [
    square("A1", "A"),
    square("A2", "A"),
    square("B1", "B"),
    square("B2", "B"),
    square("B3", "B", 1900),
    square("C1", "C"),
    square("D1", "D", 1700)
  ],
  orders: [
    "O1,2025-02-20,ash,1",
    "O2,2025-04-20,ash,2",
    "O3,2025-12-20,ash,2",
    "O4,2026-06-10,ash,9",
    "O5,2025-12-21,maple,9"
  ],
  events: [
    ...finished("A1", "2025-02-25"),
    "2025-02-26,A1,allotted,,,,,O1",
    ...finished("A2", "2025-08-01"),
    "2025-08-02,A2,allotted,,,,,O2",
    ...finished("B1", "2025-09-01"),
    "2025-09-02,B1,delivered,,,,,O2",
    "2025-10-01,B2,discarded,square,,,warp,",
    ...finished("B3", "2025-11-01"),
    ...finished("C1", "2026-06-20")
  ],
  advice: [advice("2025-03-01")]
};

test("adviceOutcomes: what was bought, ordered, owed and free, by hand", () => {
  const [one, ...others] = adviceOutcomes(bookOf(lines), "2026-06-30");
  expect(others).toEqual([]);
  // After 2025-03-01 until 2026-05-31: lots B and C; orders O2 and O3. O2 had both of its shafts, O3 none of two.
  expect(one).toMatchObject({
    hasEnded: true,
    until: "2026-05-31",
    bought: 4,
    boughtUntil: "2026-05-31",
    boughtFrom: [
      {supplier: "Quillmoor Sawpit", squares: 3},
      {supplier: "Low Fold Sawmill", squares: 1}
    ],
    squaresAgainst: "inside",
    ordered: 4,
    orderedAgainst: "inside",
    // B1 and C1 (finished after the season, but it became usable); B2 warped, B3 is too dense.
    usable: 2,
    notUsable: 2,
    undecided: 0,
    usableAgainst: "inside",
    owed: 2,
    lost: 0,
    // On 2026-05-31 C1 is no shaft yet, and B3 on the rack is outside the window.
    free: 0
  });
});

test("adviceOutcomes: money is the plan's sum with what came", () => {
  const settings = settingsOf({
    money: {shaftPrice: 100, shortageCost: 20, leftoverValue: 10, turningCostPerSquare: 5}
  });
  const [one] = adviceOutcomes(bookOf(lines, settings), "2026-06-30");
  // A2 and B1 went to O2, without a price: two at the setting. B: 3 at 10, C: 1 at 12. Two shafts owed, none free.
  expect(one).toMatchObject({takings: 200, spent: 42, reckoned: 200 + 0 - 20 * 2 - 42 - 5 * 4});
});

test("adviceOutcomes: while the season lasts nothing is told that can still change", () => {
  const [one] = adviceOutcomes(bookOf(lines), "2025-09-30");
  // Then 4 squares were bought, B1 is usable, B3 is not, B2 and C1 are on their way: 25 to 75 % of four.
  expect(one).toMatchObject({
    hasEnded: false,
    until: "2025-09-30",
    bought: 4,
    squaresAgainst: "open",
    ordered: 2,
    orderedAgainst: "open",
    usable: 1,
    notUsable: 1,
    undecided: 2,
    usableAgainst: "open"
  });
  expect(one).not.toHaveProperty("reckoned");
  // With a range that holds whatever becomes of the two, or that cannot hold any more, it is told.
  const told = (usable: string) =>
    adviceOutcomes(bookOf({...lines, advice: [advice("2025-03-01", {usable})]}), "2025-09-30")[0]!.usableAgainst;
  expect(["50,25,75", "50,26,75", "90,80,95", "10,5,20"].map(told)).toEqual(["inside", "open", "below", "above"]);
  // More orders than the range has are more for good.
  const many = adviceOutcomes(bookOf({...lines, advice: [advice("2025-03-01", {wanted: "0.5,0,1"})]}), "2025-09-30");
  expect(many[0]!.orderedAgainst).toBe("above");
});

test("adviceOutcomes: a season that has not begun is not told of; the next advice ends what was bought on this", () => {
  expect(adviceOutcomes(bookOf(lines), "2025-05-31")).toEqual([]);
  const both = {
    ...lines,
    advice: [advice("2025-06-15"), advice("2025-03-01"), advice("2025-05-01", {species: "maple"})]
  };
  const outcomes = adviceOutcomes(bookOf(both), "2026-06-30");
  expect(
    outcomes.map(({said, bought, boughtUntil, squaresAgainst}) => [said.advisedOn, bought, boughtUntil, squaresAgainst])
  ).toEqual([
    ["2025-03-01", 3, "2025-06-15", "inside"],
    ["2025-05-01", 0, "2026-05-31", "below"],
    ["2025-06-15", 1, "2026-05-31", "below"]
  ]);
  const later = {...lines, advice: [advice("2025-03-01"), advice("2025-03-15")]};
  expect(adviceOutcomes(bookOf(later), "2026-06-30")[0]).toMatchObject({bought: 0, squaresAgainst: "replaced"});
});

test("adviceOutcomes: a shaft lost for want of one is wanted and not owed, and costs as one short", () => {
  const files = texts(lines);
  const orders = files["orders.csv"].replace("quantity", "quantity,lost").replace("ash,2\nO4", "ash,2,1\nO4");
  const {book} = parseBook({...files, "orders.csv": orders}, settingsOf());
  const [one] = adviceOutcomes(book!, "2026-06-30");
  const [before] = adviceOutcomes(bookOf(lines), "2026-06-30");
  expect(one).toMatchObject({ordered: 4, owed: 1, lost: 1});
  expect(one!.reckoned).toBe(before!.reckoned);
});

test("adviceOutcomes: nothing bought, or no range said, leaves the share open", () => {
  const none = adviceOutcomes(bookOf({...lines, advice: [advice("2025-05-01", {species: "maple"})]}), "2026-06-30");
  expect(none[0]).toMatchObject({bought: 0, usable: 0, notUsable: 0, undecided: 0, usableAgainst: "open"});
  const unsaid = adviceOutcomes(bookOf({...lines, advice: [advice("2025-03-01", {usable: ",,"})]}), "2026-06-30");
  expect(unsaid[0]!.usableAgainst).toBe("open");
});

test("rangesHeld counts the first advice on a species and season, of seasons that are over", () => {
  const from = (year: number) => ({from: `${year}-06-01`, to: `${year + 1}-05-31`});
  const some = [
    advice("2025-03-01"), // inside
    advice("2025-04-01", {wanted: "9,8,10"}), // the same season again
    advice("2025-03-02", {species: "maple", wanted: "2,1,3"}), // above: 9
    advice("2026-03-01", {...from(2026), wanted: "1,0,2"}) // above already, but its season lasts
  ];
  const outcomes = adviceOutcomes(bookOf({...lines, advice: some}), "2026-06-30");
  expect(outcomes.map(({orderedAgainst}) => orderedAgainst)).toEqual(["inside", "above", "below", "above"]);
  // Wilson's limits of 1 in 2, by hand with z = 1.96: (0.5 + w/2 ∓ z √((0.25 + w/4)/2)) / (1 + w), w = z²/2 = 1.9207.
  const {held, of, low, high} = rangesHeld(outcomes, "orderedAgainst")!;
  expect([held, of]).toEqual([1, 2]);
  expect(low).toBeCloseTo(0.0945, 4);
  expect(high).toBeCloseTo(0.9055, 4);
  expect(rangesHeld([], "orderedAgainst")).toBeUndefined();
  expect(() => rangesHeld([], "said" as never)).toThrow("rangesHeld: range must be");
});
