import fc from "fast-check";
import {expect, test} from "vitest";
import {densityAt12Iso13061} from "../../lib/wood/densityAt12Iso13061.ts";

// By hand: K = 0.85e-3 · 680 = 0.578; 680 · (1 − 0.422 · 4/100) = 668.5216.
test("densityAt12Iso13061 of 680 kg/m³ at 16 % is 668.52", () => {
  expect(densityAt12Iso13061({densityKgM3: 680, moisturePct: 16})).toBeCloseTo(668.5216, 10);
  expect(densityAt12Iso13061({densityKgM3: 680, moisturePct: 12})).toBe(680);
});

test("the wetter the reading, the lighter at 12 %; of two pieces the denser stays the denser", () => {
  fc.assert(
    fc.property(fc.double({min: 7, max: 16, noNaN: true}), fc.double({min: 200, max: 1090, noNaN: true}), (m, kgM3) => {
      const at12 = densityAt12Iso13061({densityKgM3: kgM3, moisturePct: m});
      expect(densityAt12Iso13061({densityKgM3: kgM3, moisturePct: m + 1})).toBeLessThan(at12);
      expect(densityAt12Iso13061({densityKgM3: kgM3 + 10, moisturePct: m})).toBeGreaterThan(at12);
    })
  );
});

const at = (densityKgM3: number, moisturePct: number) => () => densityAt12Iso13061({densityKgM3, moisturePct});
test.each<[string, () => unknown, string]>([
  ["g/cm³", at(0.68, 12), "densityAt12Iso13061: densityKgM3 must be from 200 to 1100, got 0.68."],
  ["denser than K allows", at(1200, 12), "densityAt12Iso13061: densityKgM3 must be from 200 to 1100, got 1200."],
  ["drier than 7", at(680, 6.9), "densityAt12Iso13061: moisturePct must be from 7 to 17, got 6.9."],
  ["wetter than 17", at(680, 18), "densityAt12Iso13061: moisturePct must be from 7 to 17, got 18."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
