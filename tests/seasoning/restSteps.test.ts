import {expect, test} from "vitest";
import {restSteps} from "../../lib/seasoning/restSteps.ts";
import {makePiece, settings} from "../pieces.ts";

// Least rest of a square 60 days. Rests of 40, 60, 70, 80, 100 days: one hurried; of 60, 70, 80, 100 the median is 75 and nine tenths 94.
test("restSteps sorts rests against the least and against the middle of those served, worked by hand", () => {
  const rests = [40, 60, 70, 80, 100];
  const pieces = rests.map((day) => makePiece({turned: [day]}));
  const [square, rough, ...more] = restSteps({settings, pieces});
  expect(square).toMatchObject({stage: "square", next: "rough-round", leastDays: 60, turned: 5, hurried: 1});
  expect(square!.middleDays).toBeCloseTo(75, 12);
  expect(square!.longDays).toBeCloseTo(94, 12);
  expect(pieces.map(square!.kindOf)).toEqual(["hurried", "shorter half", "shorter half", "longer half", "longer half"]);
  expect(pieces.map(square!.daysOf)).toEqual(rests);
  expect(rough).toMatchObject({stage: "rough-round", next: "second-round", turned: 0, hurried: 0});
  expect(rough).not.toHaveProperty("middleDays");
  expect(more.map(({stage}) => stage)).toEqual(["second-round"]);
});

test("restSteps: thrown out, still resting, or passed over in a day, a rest is of no kind", () => {
  const pieces = [makePiece({discarded: 30}), makePiece(), makePiece({turned: [0]}), makePiece({turned: [90, 90]})];
  const [square, rough] = restSteps({settings, pieces});
  expect(pieces.map(square!.kindOf)).toEqual([undefined, undefined, undefined, "shorter half"]);
  expect(pieces.map(rough!.kindOf)).toEqual([undefined, undefined, undefined, undefined]);
  expect(square!.turned).toBe(1);
});
