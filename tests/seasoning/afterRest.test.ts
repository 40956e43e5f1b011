import {expect, test} from "vitest";
import {afterRest} from "../../lib/seasoning/afterRest.ts";
import {restSteps} from "../../lib/seasoning/restSteps.ts";
import {settings} from "../pieces.ts";
import {restLot} from "./restLots.ts";

const warp = (defect: string): boolean => defect === "warp";
const of = (pieces: ReturnType<typeof restLot>, kinds: Parameters<typeof afterRest>[1]["kinds"], counts = warp) =>
  afterRest({asOf: 400, pieces}, {kinds, counts, steps: restSteps({settings, pieces}).slice(0, 1)});

test("afterRest: of 4 hurried squares one warped at the next stage, of 10 served ones one; knots do not count; by hand", () => {
  const pieces = restLot("A", {hurried: 4, served: 10, hurriedWarped: 1, servedWarped: 1, servedKnots: 2});
  expect(of(pieces, ["hurried"])).toEqual({pieces: 4, discarded: 1, per100: 25});
  const served = of(pieces, ["shorter half", "longer half"]);
  expect(served).toMatchObject({pieces: 10, discarded: 1});
  expect(served.per100).toBeCloseTo(10, 12);
  expect(of(pieces, ["shorter half", "longer half"], (defect) => defect === "knot").per100).toBeCloseTo(20, 12);
});

test("afterRest has an interval from four lots on, the same whatever their order, and none without steps or pieces", () => {
  const lots = [1, 0, 2, 1].map((hurriedWarped, i) => restLot(`L${i}`, {hurried: 10, served: 2, hurriedWarped}));
  const got = of(lots.flat(), ["hurried"]);
  expect(got.per100).toBeCloseTo(10, 12);
  expect(got.per100Low).toBeGreaterThan(0);
  expect(got.per100Low).toBeLessThan(10);
  expect(got.per100High).toBeGreaterThan(10);
  expect(of(lots.toReversed().flat(), ["hurried"])).toEqual(got);
  expect(of(lots.slice(0, 3).flat(), ["hurried"])).not.toHaveProperty("per100Low");
  expect(afterRest({asOf: 400, pieces: []}, {kinds: ["hurried"], counts: warp, steps: []})).toEqual({
    pieces: 0,
    discarded: 0
  });
});

test("afterRest: pieces still at the next stage are neither lost nor through", () => {
  const pieces = restLot("A", {hurried: 0, served: 10, servedWarped: 2, open: 4});
  const got = of(pieces, ["shorter half", "longer half"]);
  // Day 30 of the stage: 2 of 10 are out. Day 40: 4 of 8 pass. Four are there still on day 400: none of them is counted as lost.
  expect(got).toEqual({pieces: 10, discarded: 2, per100: expect.closeTo(20, 10)});
});
