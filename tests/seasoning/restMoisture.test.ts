import {expect, test} from "vitest";
import {dayText} from "../../lib/book/day.ts";
import {restMoisture} from "../../lib/seasoning/restMoisture.ts";
import {frozen, makePiece, settings} from "../pieces.ts";

const store = {...settings, store: {...settings.store, moisturePct: 9}};
/** A square of 1000 g dry, weighed at 14 % and 70 days later at so much. */
const piece = (lot: string, endPct: number) =>
  makePiece({
    lot,
    turned: [70],
    measurements: [
      {day: 0, stage: "square", turned: false, massG: 1140, moisturePct: 14},
      {day: 70, stage: "square", turned: false, massG: 1000 + 10 * endPct},
      {day: 70, stage: "rough-round", turned: true, massG: 700}
    ]
  });

// By hand: 14 to 10 and to 11 %, mean loss 3.5; the store at 9 %, the meter 0.5 too high: 4.5 above it at the beginning, 1 at the end.
test("restMoisture: points lost, and how far above the store the rest began and ended, by hand", () => {
  const pieces = frozen([piece("A", 10), piece("B", 11)]);
  const offsets = [{species: "ash", offsetPct: 0.5, offsetLow: 0, offsetHigh: 1}];
  const [row, ...more] = restMoisture({settings: store, asOf: 100, pieces}, [], {offsets});
  expect(more).toEqual([]);
  expect(row).toMatchObject({species: "ash", stage: "square", lots: 2, pieces: 2});
  expect(row!.lossPct).toBeCloseTo(3.5, 10);
  expect(row!.startGapPct).toBeCloseTo(4.5, 10);
  expect(row!.endGapPct).toBeCloseTo(1, 10);
  expect(row).not.toHaveProperty("lossLow");
  expect(row).not.toHaveProperty("endGapLow");
});

// Four lots of one piece each: the limits of a mean are those of R's t.test on 3, 3.5, 4.5, 5: mean 4, s = √(2.5/3), t(3) = 3.182446, ± t·s/2 = 1.452581.
test("restMoisture: from four lots on the mean has Student's limits, whatever the order; without a store no gap", () => {
  const pieces = [11, 10.5, 9.5, 9].map((end, i) => piece(`L${i}`, end));
  const ask = (some: typeof pieces) => restMoisture({settings, asOf: 100, pieces: some}, [], {offsets: []})[0]!;
  const row = ask(pieces);
  expect(row.lossPct).toBeCloseTo(4, 10);
  expect(row.lossLow).toBeCloseTo(4 - 1.452581, 5);
  expect(row.lossHigh).toBeCloseTo(4 + 1.452581, 5);
  expect(ask(pieces.toReversed()).lossLow).toBeCloseTo(row.lossLow!, 10);
  for (const key of ["startGapPct", "endGapPct", "endGapLow"]) expect(row).not.toHaveProperty(key);
});

test("restMoisture: the gap is to what the store tended to on the day, not today", () => {
  const climate = Array.from({length: 40}, (_, i) => ({
    row: i + 2,
    date: dayText(7 * i),
    temperatureC: 20,
    humidityPct: 7 * i < 100 ? 50 : 70
  }));
  const [row] = restMoisture({settings, asOf: 270, pieces: [piece("A", 10)]}, climate, {offsets: []});
  // 20 °C and 50 % take wood to 9.2 %, 70 % to 13.1 % (Wood Handbook, table 4-2): the gap at day 70 is near 0.8, not −3.
  expect(row!.endGapPct).toBeGreaterThan(0.2);
  expect(row!.endGapPct).toBeLessThan(1.4);
});
