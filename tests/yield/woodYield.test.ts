import fc from "fast-check";
import {expect, test} from "vitest";
import {woodYield} from "../../lib/yield/woodYield.ts";
import {frozen, makePiece, settings} from "../pieces.ts";

// By hand: square 1500 · 40 · 40 = 2 400 000 mm³; shaft π · 1470 · (29² + 29 · 9.5 + 9.5²) / 12 = 464 … mm³; half of the squares finish.
test("woodYield({settings}, one square of 40 × 40 × 1500 mm, 0.5)", () => {
  const shaft = (Math.PI * 1470 * (29 ** 2 + 29 * 9.5 + 9.5 ** 2)) / 12;
  const wood = woodYield({settings}, [makePiece()], 0.5)!;
  expect(wood.squares).toBe(1);
  expect(wood.squareVolumeMm3).toBe(2_400_000);
  expect(wood.shaftVolumeMm3).toBeCloseTo(shaft, 6);
  expect(wood.taperFraction).toBeCloseTo(shaft / 2_400_000, 12);
  expect(wood.woodFraction).toBeCloseTo(shaft / 4_800_000, 12);
  expect(wood.discardsFraction).toBe(0.5);
});

test("woodYield: wood, shavings and discards add up to 1", () => {
  const size = fc.double({min: 35, max: 60, noNaN: true});
  fc.assert(
    fc.property(fc.double({min: 0, max: 1, noNaN: true}), size, size, (share, widthMm, thicknessMm) => {
      const pieces = frozen([makePiece({intake: {widthMm, thicknessMm}}), makePiece()]);
      const {woodFraction, shavingsFraction, discardsFraction, taperFraction} = woodYield({settings}, pieces, share)!;
      expect(woodFraction + shavingsFraction + discardsFraction).toBeCloseTo(1, 12);
      expect(taperFraction).toBeLessThan(1);
    })
  );
});

test("woodYield without pieces, without a yield, or without the shaft's diameters is undefined", () => {
  const bare = {...settings, stages: settings.stages.map(({name, restDays}) => ({name, restDays}))};
  expect(woodYield({settings}, [], 0.7)).toBeUndefined();
  expect(woodYield({settings}, [makePiece()], undefined)).toBeUndefined();
  expect(woodYield({settings: bare}, [makePiece()], 0.7)).toBeUndefined();
});
