import {expect, test} from "vitest";
import {spreadSources} from "../../lib/density/spreadSources.ts";
import {frozen, makePiece, settings} from "../pieces.ts";

// By hand: lots 690, 710 and 730, 750: within MS = (200 + 200)/2 = 200; between MS = 2·(20² + 20²)/1 = 1600; (1600 − 200)/2 = 700.
test("spreadSources(two lots of two): √200 within, √700 between", () => {
  const piece = (lot: string, density: number) => makePiece({lot, density});
  const pieces = frozen([piece("A", 690), piece("A", 710), piece("B", 730), piece("B", 750)]);
  const [row] = spreadSources({settings, pieces});
  expect(row).toMatchObject({species: "ash", supplier: "Low Fold Sawmill", squares: 4, lots: 2});
  expect(row!.withinLotKgM3).toBeCloseTo(Math.sqrt(200), 10);
  expect(row!.betweenLotsKgM3).toBeCloseTo(Math.sqrt(700), 10);
  expect(row!.measuringFraction).toBeCloseTo(row!.measuringKgM3 ** 2 / 200, 10);
});

test("spreadSources(perfect instruments) leaves nothing to measuring; one square has no parts; no pieces no rows", () => {
  const accuracy = {scaleG: 0, calliperMm: 0, tapeMm: 0, meterPct: 0};
  const [row] = spreadSources({settings: {...settings, accuracy}, pieces: [makePiece()]});
  expect(row!.measuringKgM3).toBe(0);
  expect(row).not.toHaveProperty("withinLotKgM3");
  expect(spreadSources({settings, pieces: []})).toEqual([]);
});
