import fc from "fast-check";
import {expect, test} from "vitest";
import {barVolume, density} from "../../lib/wood/density.ts";
import {densityAt12} from "../../lib/wood/densityAt12.ts";
import {densityUncertainty} from "../../lib/wood/densityUncertainty.ts";
import {woodNames} from "../../lib/wood/species.ts";

const exact = {scaleG: 0, calliperMm: 0, tapeMm: 0, meterPct: 0};
const square = {
  lengthMm: 1500,
  widthMm: 40,
  thicknessMm: 40,
  massG: 1680,
  moisturePct: 16,
  species: "white-ash"
} as const;

test("perfect instruments leave no uncertainty", () => {
  const {densityKgM3, asMeasuredKgM3, at12KgM3} = densityUncertainty({...square, ...exact});
  expect(densityKgM3).toBe(700);
  expect([asMeasuredKgM3, at12KgM3]).toEqual([0, 0]);
});

// By hand: 1/1680 of 700 is 0.4167; √2 · 0.1/40 of 700 is 2.4749; 1/1500 of 700 is 0.4667.
test("each instrument's part stands apart", () => {
  const {contributions} = densityUncertainty({...square, scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.5});
  expect(contributions.map(({instrument}) => instrument)).toEqual(["scale", "calliper", "tape", "meter"]);
  const [scale, calliper, tape, meter] = contributions.map(({asMeasuredKgM3}) => asMeasuredKgM3);
  expect(scale!).toBeCloseTo(0.4167, 4);
  expect(calliper!).toBeCloseTo(2.4749, 4);
  expect(tape!).toBeCloseTo(0.4667, 4);
  expect(meter).toBe(0);
});

test("the parts add up in squares", () => {
  const all = densityUncertainty({...square, scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.5});
  for (const column of ["asMeasuredKgM3", "at12KgM3"] as const) {
    const sum = all.contributions.reduce((total, part) => total + part[column] ** 2, 0);
    expect(all[column] ** 2).toBeCloseTo(sum, 9);
  }
});

// The independent way: change the reading by a hundredth and see what density and densityAt12 make of it.
test("each part is what a small change of that reading does", () => {
  const moisture = fc.double({min: 5, max: 28, noNaN: true});
  fc.assert(
    fc.property(fc.constantFrom(...woodNames), moisture, (species, moisturePct) => {
      const at12 = (change: {massG?: number; widthMm?: number; lengthMm?: number; moisturePct?: number}) => {
        const bar = {...square, moisturePct, ...change};
        const densityKgM3 = density({massG: bar.massG, volumeMm3: barVolume(bar)});
        return densityAt12({densityKgM3, moisturePct: bar.moisturePct, species});
      };
      const part = (uncertain: Partial<typeof exact>) =>
        densityUncertainty({...square, moisturePct, species, ...exact, ...uncertain}).at12KgM3;
      const step = 0.001;
      const slope = (up: number, down: number) => Math.abs(up - down) / 2;
      expect(part({scaleG: step})).toBeCloseTo(slope(at12({massG: 1680 + step}), at12({massG: 1680 - step})), 6);
      expect(part({tapeMm: step})).toBeCloseTo(slope(at12({lengthMm: 1500 + step}), at12({lengthMm: 1500 - step})), 6);
      const oneFace = slope(at12({widthMm: 40 + step}), at12({widthMm: 40 - step}));
      expect(part({calliperMm: step})).toBeCloseTo(Math.SQRT2 * oneFace, 6);
      const meter = slope(at12({moisturePct: moisturePct + step}), at12({moisturePct: moisturePct - step}));
      expect(part({meterPct: step})).toBeCloseTo(meter, 6);
    })
  );
});

test("above fibre saturation only the water counts", () => {
  const {densityAt12KgM3, at12KgM3} = densityUncertainty({...square, ...exact, moisturePct: 50, meterPct: 3});
  expect(at12KgM3 / densityAt12KgM3).toBeCloseTo(3 / 150, 12);
});

test.each<[string, () => unknown, string]>([
  [
    "a negative uncertainty",
    () => densityUncertainty({...square, ...exact, meterPct: -1}),
    "densityUncertainty: meterPct must be 0 or more, got -1."
  ],
  [
    "no uncertainty stated",
    () => densityUncertainty({...square, ...exact, scaleG: Number.NaN}),
    "densityUncertainty: scaleG must be 0 or more, got NaN."
  ],
  ["no mass", () => densityUncertainty({...square, ...exact, massG: 0}), "density: massG must be positive, got 0."]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
