import fc from "fast-check";
import {expect, test} from "vitest";
import {strengthAtMoisture} from "../../lib/wood/strengthAtMoisture.ts";

const ash = {at12MPa: 103, greenMPa: 66, intersectionPct: 24};

test("strengthAtMoisture gives the published values at 12 % and from the intersection up", () => {
  expect(strengthAtMoisture({...ash, moisturePct: 12})).toBe(103);
  expect(strengthAtMoisture({...ash, moisturePct: 24})).toBe(66);
  expect(strengthAtMoisture({...ash, moisturePct: 60})).toBe(66);
});

// By hand: half way from 12 to 24 % it is the geometric mean, √(103 · 66) = 82.450.
test("strengthAtMoisture at 18 % is the geometric mean", () => {
  expect(strengthAtMoisture({...ash, moisturePct: 18})).toBeCloseTo(Math.sqrt(103 * 66), 10);
});

test("strengthAtMoisture takes 25 % where the wood's own is not tabulated", () => {
  const {at12MPa, greenMPa} = ash;
  expect(strengthAtMoisture({at12MPa, greenMPa, moisturePct: 18.5})).toBeCloseTo(Math.sqrt(103 * 66), 10);
});

test("wetter is never stronger, and there is no jump at the intersection", () => {
  fc.assert(
    fc.property(fc.double({min: 8, max: 60, noNaN: true}), (moisturePct) => {
      const here = strengthAtMoisture({...ash, moisturePct});
      expect(strengthAtMoisture({...ash, moisturePct: moisturePct + 0.5})).toBeLessThanOrEqual(here);
    })
  );
  expect(strengthAtMoisture({...ash, moisturePct: 24 - 1e-9})).toBeCloseTo(66, 6);
});

test("a strength that drying leaves alone may be given: the same at every moisture", () => {
  expect(strengthAtMoisture({at12MPa: 66, greenMPa: 66, moisturePct: 8})).toBe(66);
});

const wet = {...ash, moisturePct: 12};
test.each<[string, () => unknown, string]>([
  [
    "no strength",
    () => strengthAtMoisture({...wet, at12MPa: 0}),
    "strengthAtMoisture: at12MPa must be at least greenMPa (66), got 0."
  ],
  [
    "what drying makes smaller, as toughness",
    () => strengthAtMoisture({...wet, at12MPa: 66 - 1e-9}),
    `strengthAtMoisture: at12MPa must be at least greenMPa (66), got ${66 - 1e-9}.`
  ],
  [
    "none green",
    () => strengthAtMoisture({...wet, greenMPa: -1}),
    "strengthAtMoisture: greenMPa must be positive, got -1."
  ],
  [
    "drier than 8",
    () => strengthAtMoisture({...wet, moisturePct: 7}),
    "strengthAtMoisture: moisturePct must be from 8 to 200, got 7."
  ],
  [
    "an intersection at 12",
    () => strengthAtMoisture({...wet, intersectionPct: 12}),
    "strengthAtMoisture: intersectionPct must be from 15 to 35, got 12."
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
