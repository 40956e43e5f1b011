import {expect, test} from "vitest";
import {latheSdMm, pieceTaper} from "../../lib/rack/pieceTaper.ts";
import {makeHistories, makePiece, settings} from "../pieces.ts";

const finished = (diameterMm: number | undefined, turned = true) =>
  makePiece({
    turned: [1, 2, 3, 4],
    measurements: [{day: 4, stage: "finished", turned, ...(diameterMm !== undefined && {diameterMm})}]
  });

test("pieceTaper: targets, and the large end as it was measured", () => {
  const known = {settings, latheMm: 0.07};
  expect(pieceTaper(finished(28.8), "finished", known)).toEqual({
    largeMm: 28.8,
    smallMm: 9.5,
    lengthMm: 1470,
    measured: true,
    largeSdMm: 0.1,
    smallSdMm: 0.07
  });
  expect(pieceTaper(finished(undefined), "finished", known)).toMatchObject({
    largeMm: 29,
    measured: false,
    largeSdMm: 0.07
  });
  expect(pieceTaper(finished(2.9), "finished", known)).toMatchObject({largeMm: 29, measured: false});
  expect(pieceTaper(finished(28.8), "square", known)).toBeUndefined();
  expect(pieceTaper(finished(28.8), "no such stage", known)).toBeUndefined();
});

// By hand: five at 0.3 and five at −0.3 from the target of 29: mean square 0.09, less 0.1² is 0.08, root 0.282843.
test("latheSdMm is the scatter about the target without the calliper's share", () => {
  const pieces = Array.from({length: 10}, (_, i) => finished(29 + (i % 2 ? 0.3 : -0.3)));
  expect(latheSdMm(makeHistories(pieces, {asOf: 9}), "finished")).toBeCloseTo(0.282843, 6);
  // Nine are too few, a later reading is not fresh from the lathe, and less scatter than the calliper's is none.
  expect(latheSdMm(makeHistories(pieces.slice(1), {asOf: 9}), "finished")).toBe(0.1);
  expect(latheSdMm(makeHistories([...pieces.slice(1), finished(40, false)], {asOf: 9}), "finished")).toBe(0.1);
  expect(
    latheSdMm(
      makeHistories(
        pieces.map(() => finished(29.05)),
        {asOf: 9}
      ),
      "finished"
    )
  ).toBe(0);
  expect(latheSdMm(makeHistories(pieces, {asOf: 9}), "square")).toBe(0.1);
});
