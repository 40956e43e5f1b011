import fc from "fast-check";
import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {discardChart} from "../../lib/defects/discardChart.ts";
import {anyPieces, frozen, lastMadeDay, makePiece} from "../pieces.ts";

const day = dayNumber;

// By hand: in January one of two handled is out, nothing in February, none of two in March, up to April: p̄ = 1/4.
test("discardChart: months without handling stay in, with no share; p̄ is all thrown out ÷ all handled", () => {
  const boughtOn = day("2025-01-01");
  const pieces = [
    makePiece({boughtOn, discarded: day("2025-01-20")}),
    makePiece({boughtOn, turned: [day("2025-01-31"), day("2025-03-01")]}),
    makePiece({boughtOn, turned: [day("2025-03-31")]})
  ];
  const chart = discardChart({asOf: day("2025-04-10")}, pieces);
  expect(chart.meanFraction).toBe(0.25);
  expect(chart.months.map(({month, decided, discarded, fraction}) => [month, decided, discarded, fraction])).toEqual([
    ["2025-01", 2, 1, 0.5],
    ["2025-02", 0, 0, undefined],
    ["2025-03", 2, 0, 0],
    ["2025-04", 0, 0, undefined]
  ]);
  expect(chart.months.every(({outside}) => !outside)).toBe(true);
});

// Ten calm months of 5 in 100, then one of 60 in 100: far beyond 3·√(p̄(1 − p̄)/100) whatever the factor of calm months.
test("discardChart finds the month that is out of line, and no other", () => {
  const month = (i: number, out: number) => {
    const on = day(`2025-${String(i).padStart(2, "0")}-15`);
    return Array.from({length: 100}, (_, k) =>
      k < out ? makePiece({boughtOn: 0, discarded: on}) : makePiece({boughtOn: 0, turned: [on]})
    );
  };
  const pieces = Array.from({length: 11}, (_, i) => month(i + 1, i === 10 ? 60 : 5)).flat();
  const {months, meanFraction} = discardChart({asOf: day("2025-11-30")}, pieces);
  expect(meanFraction).toBeCloseTo(110 / 1100, 12);
  expect(months.filter(({outside}) => outside).map((row) => row.month)).toEqual(["2025-11"]);
});

test("discardChart of pieces not yet handled has no months", () => {
  expect(discardChart({asOf: 100}, [makePiece()])).toEqual({months: []});
  expect(discardChart({asOf: 100}, [])).toEqual({months: []});
});

test("discardChart: counts add up to the handlings, shares lie in their limits unless outside, order does not matter", () => {
  fc.assert(
    fc.property(anyPieces, (pieces) => {
      const {months} = discardChart({asOf: lastMadeDay}, frozen(pieces));
      const handled = pieces.flatMap(({stays}) => stays).filter(({to}) => to !== undefined);
      expect(months.reduce((sum, {decided}) => sum + decided, 0)).toBe(handled.length);
      expect(months.reduce((sum, {discarded}) => sum + discarded, 0)).toBe(
        pieces.filter(({fate}) => fate === "discarded").length
      );
      for (const {fraction, low, high, outside} of months)
        if (fraction !== undefined) expect(fraction < low! || fraction > high!).toBe(outside);
      expect(discardChart({asOf: lastMadeDay}, pieces.toReversed()).months).toEqual(months);
    }),
    {numRuns: 60}
  );
});
