import {expect, test} from "vitest";
import {randomStream} from "../../lib/stats/random.ts";
import {sortingEffect} from "../../lib/yield/sortingEffect.ts";
import {makeHistories, makePiece} from "../pieces.ts";

const shaft = {turned: [60, 90, 120, 150]};
/** A lot of ten squares of which so many become shafts, so many looked at. */
const lot = (name: string, finished: number, supplier = "Low Fold Sawmill") =>
  Array.from({length: 10}, (_, i) =>
    makePiece({lot: name, supplier, density: 690 + i, ...(i < finished ? shaft : {discarded: 20})})
  );
const looked = (counts: Record<string, number>) =>
  Object.fromEntries(Object.entries(counts).map(([name, squaresLookedAt]) => [name, {squaresLookedAt}]));

// By hand: looks 2, 4, 8 a square, so 1, 2, 3 doublings; 5, 7, 9 of ten finish: 20 of 100 more a doubling. Another yard that looks hard and is poor
// does not count against it: 1 and 2 doublings there, 1 and 3 of ten.
test("sortingEffect is the slope of lot against lot of the same supplier and species", () => {
  const pieces = [
    ...lot("A", 5),
    ...lot("B", 7),
    ...lot("C", 9),
    ...lot("D", 1, "Poor Yard"),
    ...lot("E", 3, "Poor Yard"),
    ...lot("F", 2, "Alone")
  ];
  const histories = makeHistories(pieces, {asOf: 200, lots: looked({A: 20, B: 40, C: 80, D: 20, E: 40, F: 900})});
  const effects = sortingEffect(histories);
  expect(effects.map(({measure}) => measure)).toEqual(["usable", "finished", "inside", "spread"]);
  expect(effects[1]).toMatchObject({measure: "finished", unit: "per 100", lots: 5});
  expect(effects[1]!.change).toBeCloseTo(20, 9);
  expect(effects[0]!.change).toBeCloseTo(20, 9);
  expect(effects[2]!.change).toBeCloseTo(0, 9);
  expect(effects[3]!.change).toBeCloseTo(0, 9);
});

test("sortingEffect of lots looked at alike, of one lot a supplier, or of lots still resting is nothing", () => {
  const alike = makeHistories([...lot("A", 5), ...lot("B", 7)], {asOf: 200, lots: looked({A: 20, B: 20})});
  expect(sortingEffect(alike)).toEqual([]);
  expect(sortingEffect(makeHistories(lot("A", 5), {asOf: 200, lots: looked({A: 20})}))).toEqual([]);
  const young = ["A", "B"].flatMap((name) => Array.from({length: 10}, () => makePiece({lot: name})));
  expect(sortingEffect(makeHistories(young, {asOf: 50, lots: looked({A: 20, B: 40})}))).toEqual([]);
});

// Drawn anew each time: what is looked at has nothing to do with what finishes, so no change is the truth.
test("sortingEffect: its 95 % interval holds the truth in 92 to 98 of 100 drawn books", () => {
  const random = randomStream(17);
  const tries = 300;
  let held = 0;
  for (let i = 0; i < tries; i++) {
    const names = ["A", "B", "C", "D", "E", "F", "G", "H"];
    const counts = Object.fromEntries(names.map((name) => [name, Math.round(20 * 2 ** (2 * random()))]));
    const pieces = names.flatMap((name, k) => {
      const share = 0.5 + 0.3 * random();
      return Array.from({length: 20}, () =>
        makePiece({
          lot: name,
          supplier: k < 4 ? "Near Yard" : "Far Yard",
          ...(random() < share ? {turned: [60, 90, 120, 150]} : {discarded: 20})
        })
      );
    });
    const effect = sortingEffect(makeHistories(pieces, {asOf: 200, lots: looked(counts)}))[1]!;
    expect(effect.measure).toBe("finished");
    if (effect.changeLow! <= 0 && effect.changeHigh! >= 0) held++;
  }
  expect(held / tries).toBeGreaterThan(0.92);
  expect(held / tries).toBeLessThan(0.98);
});
