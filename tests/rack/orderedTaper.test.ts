import fc from "fast-check";
import {expect, test} from "vitest";
import {orderedTaper} from "../../lib/rack/orderedTaper.ts";
import {taperDiameter} from "../../lib/wood/taper.ts";

const shaft = {largeMm: 29, smallMm: 9.5, lengthMm: 1470};
const none = {spliceMarginMm: 0, tipMarginMm: 0};

// By hand: at 1440 mm a 29 to 9.5 mm shaft of 1470 mm is 29 − 19.5 · 1440/1470 = 9.897959 mm thick.
test("cut back from the small end a tip grows thicker, and is turned down to the ordered one", () => {
  const cut = orderedTaper(shaft, {lengthMm: 1440, tipMm: 9.8}, none);
  expect(cut).toMatchObject({largeMm: 29, smallMm: 9.8, lengthMm: 1440, cut: true, lengthFits: true, tipFits: true});
  expect(cut.thereMm).toBeCloseTo(9.897959, 6);
  expect(orderedTaper(shaft, {lengthMm: 1440, tipMm: 9.9}, none)).toMatchObject({tipFits: false});
});

test("a shaft as ordered is not cut; one without wishes is taken as it is", () => {
  for (const order of [{lengthMm: 1470, tipMm: 9.5}, {}, {lengthMm: 1470}, {tipMm: 9.5}])
    expect(orderedTaper(shaft, order, none)).toMatchObject({...shaft, cut: false, lengthFits: true, tipFits: true});
});

test("a shaft is never grown: neither longer nor thicker", () => {
  expect(orderedTaper(shaft, {lengthMm: 1480, tipMm: 9.5}, none)).toMatchObject({lengthMm: 1470, lengthFits: false});
  expect(orderedTaper(shaft, {lengthMm: 1470, tipMm: 9.6}, none)).toMatchObject({
    smallMm: 9.5,
    tipFits: false,
    cut: false
  });
});

test("margins ask for more than is ordered, and change nothing of what is cut", () => {
  const order = {lengthMm: 1460, tipMm: 9.6};
  expect(orderedTaper(shaft, order, {spliceMarginMm: 10, tipMarginMm: 0.03})).toMatchObject({
    lengthFits: true,
    tipFits: true,
    lengthMm: 1460,
    smallMm: 9.6
  });
  // By hand: 29 − 19.5 · 1460/1470 = 9.632653, 0.033 more than ordered.
  expect(orderedTaper(shaft, order, {spliceMarginMm: 11, tipMarginMm: 0.034})).toMatchObject({
    lengthFits: false,
    tipFits: false
  });
});

test("what is cut lies within the shaft all along", () => {
  const mm = (min: number, max: number) => fc.double({min, max, noNaN: true});
  fc.assert(
    fc.property(mm(20, 40), mm(5, 20), mm(900, 1600), mm(5, 25), mm(0, 1), (D, d, length, tipMm, at) => {
      const whole = {largeMm: D, smallMm: d, lengthMm: 1470};
      const cut = orderedTaper(whole, {lengthMm: length, tipMm}, none);
      const x = at * cut.lengthMm;
      expect(taperDiameter(cut, x)).toBeLessThanOrEqual(taperDiameter(whole, x) + 1e-9);
      if (cut.lengthFits && cut.tipFits) {
        expect(cut.lengthMm).toBe(length);
        expect(cut.smallMm).toBeCloseTo(tipMm, 6);
      }
    })
  );
});
