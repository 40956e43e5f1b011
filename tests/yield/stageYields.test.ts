import fc from "fast-check";
import {expect, test} from "vitest";
import {stageYields} from "../../lib/yield/stageYields.ts";
import {anyPieces, frozen, lastMadeDay, makePiece, settings} from "../pieces.ts";

const at = (asOf: number) => ({settings, asOf});

// By hand: at day 100 three squares passed (20, 30, 40), one was thrown out at 10, one was put to other use at 30, one rests since day 65.
// Clock of the stage: 10 out of 6 at risk; 20 pass of 5; 30 pass and divert of 4; the resting one is censored at 35; 40 pass of 1.
// passed = 5/6·1/5 + 4/6·1/4 + 2/6·1/1 = 1/6 + 1/6 + 1/3 = 2/3.
test("stageYields(book, six squares) of the first stage is 2/3, worked by hand", () => {
  const pieces = [
    makePiece({turned: [20]}),
    makePiece({turned: [30]}),
    makePiece({turned: [40]}),
    makePiece({discarded: 10}),
    makePiece({diverted: 30}),
    makePiece({boughtOn: 65})
  ];
  const [first, second] = stageYields(at(100), pieces).stages;
  expect(first).toMatchObject({stage: "square", lots: 1, entered: 6, passed: 3, discarded: 1, diverted: 1, inStage: 1});
  expect(first!.yieldFraction).toBeCloseTo(2 / 3, 12);
  expect(first!.undecidedFraction).toBe(0);
  expect(first!.method).toBe("Wilson, lots taken as alike");
  expect(second).toMatchObject({entered: 3, passed: 0, inStage: 3, method: "too few to say"});
  expect(second!.yieldFraction).toBeUndefined();
});

test("stageYields(book, all finished) rolls to 1, one lot gives the rolled yield no interval", () => {
  const pieces = [1, 2, 3].map(() => makePiece({turned: [60, 90, 120, 150]}));
  const yields = stageYields(at(200), pieces);
  expect(yields.rolledFraction).toBe(1);
  expect(yields.rolledLow).toBeUndefined();
  // Wilson of 3 of 3 is n/(n + z²) = 3/(3 + 1.959964²) at its lower end.
  expect(yields.stages[0]!.yieldLow).toBeCloseTo(3 / (3 + 1.959964 ** 2), 6);
  expect(yields.stages[0]!.yieldHigh).toBe(1);
});

test("stageYields(book, a stage that nobody has left) says nothing of it and gives no rolled yield", () => {
  const yields = stageYields(at(100), [makePiece({turned: [60, 90]}), makePiece({discarded: 5})]);
  expect(yields.stages.map(({method}) => method === "too few to say")).toEqual([false, false, true, true]);
  expect(yields.rolledFraction).toBeUndefined();
  expect(yields.rolledHigh).toBeUndefined();
});

test("stageYields(book, []) has four stages with nothing in them", () => {
  const yields = stageYields(at(100), []);
  expect(yields.stages.map(({entered, method}) => [entered, method])).toEqual(
    Array.from({length: 4}, () => [0, "too few to say"])
  );
  expect(yields.rolledFraction).toBeUndefined();
});

// Each lot passes three of four, so the lots do not differ: the interval is Wilson's of all pieces, written out here, whether they are enough
// to look at or not. Wilson for 18 of 24 and 9 of 12 (R: prop.test(…, correct = FALSE), from memory).
test("stageYields(book, like lots) has Wilson's interval of all pieces; of three lots none for the rolled yield", () => {
  const lots = (count: number) =>
    Array.from({length: count}, (_, i) => [
      ...[1, 2, 3].map(() => makePiece({lot: `L${i}`, turned: [60, 90, 120, 150]})),
      makePiece({lot: `L${i}`, discarded: 60})
    ]).flat();
  const wilsonOf = (p: number, n: number) => {
    const w = 1.959963985 ** 2 / n;
    const half = 1.959963985 * Math.sqrt((p * (1 - p) + w / 4) / n);
    return [(p + w / 2 - half) / (1 + w), (p + w / 2 + half) / (1 + w)] as const;
  };
  const six = stageYields(at(200), lots(6));
  expect(six.stages[0]).toMatchObject({method: "from lots", yieldFraction: 0.75});
  expect(six.stages[0]!.yieldLow).toBeCloseTo(wilsonOf(0.75, 24)[0], 8);
  expect(six.stages[0]!.yieldHigh).toBeCloseTo(wilsonOf(0.75, 24)[1], 8);
  expect(six.rolledFraction).toBe(0.75);
  // Of the product as much is known as of some 24 squares, the later stages, where nothing failed, being taken for (passed + ½)/(decided + 1).
  expect(Math.abs(six.rolledLow! - wilsonOf(0.75, 24)[0])).toBeLessThan(0.002);
  expect(Math.abs(six.rolledHigh! - wilsonOf(0.75, 24)[1])).toBeLessThan(0.002);
  const three = stageYields(at(200), lots(3));
  expect(three.stages[0]!.method).toBe("Wilson, lots taken as alike");
  expect(three.stages[0]!.yieldLow).toBeCloseTo(wilsonOf(0.75, 12)[0], 8);
  expect(three.rolledLow).toBeUndefined();
});

// Days on which 1 − Σ S·d/n does not come to 0 exactly; the interval must still be Wilson's of 12 of 12.
test("stageYields(book, four lots that all pass on unlike days) has Wilson's interval", () => {
  const days = [
    [45, 35, 34],
    [34, 38, 57],
    [30, 56, 34],
    [36, 38, 53]
  ];
  const pieces = days.flatMap((lot, i) => lot.map((day) => makePiece({lot: `L${i}`, turned: [day]})));
  const [first] = stageYields(at(200), pieces).stages;
  expect(first!.method).toBe("from lots");
  expect(first!.yieldLow).toBeCloseTo(12 / (12 + 1.959964 ** 2), 6);
  expect(first!.yieldHigh).toBeCloseTo(1, 12);
});

// By hand: four lots of ten, of which 4, 6, 8 and 10 pass: Y = 0.7; leaving each out 0.8, 0.7333, 0.6667, 0.6, so v = ¾ · Σ(θᵢ − 0.7)² = ¾ · 0.0222222
// = 1/60, n* = 0.21 · 60 · (1.959964/3.182446)² = 4.779 with t of 3 degrees of freedom from the printed table.
test("stageYields(book, four lots that differ) is as wide as the lots are apart, worked by hand", () => {
  const pieces = [4, 6, 8, 10].flatMap((passed, lot) =>
    Array.from({length: 10}, (_, i) => makePiece({lot: `L${lot}`, ...(i < passed ? {turned: [60]} : {discarded: 60})}))
  );
  const [first] = stageYields(at(200), pieces).stages;
  const n = 0.21 * 60 * (1.959963985 / 3.182446305) ** 2;
  const w = 1.959963985 ** 2 / n;
  const half = 1.959963985 * Math.sqrt((0.21 + w / 4) / n);
  expect(first!.yieldLow).toBeCloseTo((0.7 + w / 2 - half) / (1 + w), 6);
  expect(first!.yieldHigh).toBeCloseTo((0.7 + w / 2 + half) / (1 + w), 6);
});

// Eight lots, of which two have reached the last stage.
test("stageYields(book, eight lots, two of them far on) does not read lots that are not there yet as a yield of 0", () => {
  const pieces = Array.from({length: 8}, (_, i) =>
    [1, 2, 3, 4].map(() => makePiece({lot: `L${i}`, turned: i < 2 ? [60, 90, 120, 150] : [60]}))
  ).flat();
  const yields = stageYields(at(200), pieces);
  expect(yields.stages[3]).toMatchObject({
    lots: 2,
    method: "Wilson, lots taken as alike",
    yieldFraction: 1,
    yieldHigh: 1
  });
  expect(yields.stages[3]!.yieldLow).toBeCloseTo(8 / (8 + 1.959964 ** 2), 6);
  expect(yields.stages[0]!.method).toBe("from lots");
});

// One early discard of 40 squares that all rest: 0 have passed, 39 may still.
test("stageYields(book, young squares) leaves room for the undecided to pass", () => {
  const pieces = [makePiece({discarded: 5}), ...Array.from({length: 39}, () => makePiece())];
  const [first] = stageYields(at(20), pieces).stages;
  expect(first!.yieldFraction).toBe(0);
  expect(first!.undecidedFraction).toBeCloseTo(39 / 40, 12);
  expect(first!.yieldHigh).toBeCloseTo(39 / 40, 12);
});

// Half the squares bought before day 100 pass, none of those after it: the window sees only the second.
test("stageYields(book, pieces, {since}) looks only at what happened from that day on", () => {
  const before = [1, 2].map(() => makePiece({turned: [50]}));
  const after = [1, 2].map(() => makePiece({boughtOn: 120, discarded: 170}));
  const across = makePiece({boughtOn: 80, turned: [160]});
  const [first] = stageYields(at(200), [...before, ...after, across], {since: 100}).stages;
  expect(first).toMatchObject({entered: 3, passed: 1, discarded: 2});
  // The late entrant is at risk from day 20 of its rest: out at 50 are 2 of 3, it passes at 80 alone: 1/3.
  expect(first!.yieldFraction).toBeCloseTo(1 / 3, 12);
});

test("stageYields: shares lie in 0…1 and in their intervals; order of pieces does not matter; nothing is changed", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const yields = stageYields(at(lastMadeDay), frozen(pieces));
      const reversed = stageYields(at(lastMadeDay), pieces.toReversed());
      yields.stages.forEach((row, i) => {
        expect(row.entered).toBe(row.passed + row.discarded + row.diverted + row.inStage);
        if (row.yieldFraction === undefined) expect(row.passed + row.discarded + row.diverted).toBe(0);
        else {
          expect(row.yieldFraction).toBeCloseTo(reversed.stages[i]!.yieldFraction!, 12);
          expect(row.yieldFraction).toBeGreaterThanOrEqual(0);
          expect(row.yieldFraction + row.undecidedFraction!).toBeLessThanOrEqual(1 + 1e-12);
        }
        if (row.yieldLow !== undefined) {
          expect(row.yieldLow!).toBeLessThanOrEqual(row.yieldFraction! + 1e-12);
          expect(row.yieldHigh!).toBeGreaterThanOrEqual(row.yieldFraction! - 1e-12);
        }
      });
    }),
    {numRuns: 60}
  );
});

test("stageYields without pieces in stock is passed ÷ decided at every stage", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const decided = pieces.filter(({fate}) => fate !== "in stock");
      for (const row of stageYields(at(lastMadeDay), decided).stages)
        if (row.entered > 0) expect(row.yieldFraction).toBeCloseTo(row.passed / row.entered, 10);
    }),
    {numRuns: 60}
  );
});

test("stageYields refuses a level of 95", () => {
  expect(() => stageYields(at(100), [makePiece({turned: [60]})], {level: 95})).toThrow(RangeError);
});
