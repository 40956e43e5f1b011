import {expect, test} from "vitest";
import {dayText} from "../../lib/book/day.ts";
import {Settings} from "../../lib/book/settings.ts";
import {comingForOrder} from "../../lib/rack/comingForOrder.ts";
import {shaftKnown} from "../../lib/rack/shaftFit.ts";
import {makePiece} from "../pieces.ts";

const order = {order: "O1", orderedOn: "2026-01-01", species: "ash", quantity: 1};
const masses = [{species: "ash", stage: "finished", lots: 9, ratioCm3: 460, predictionFraction: 0.02, freedom: 200}];
/** Two in stock, one of another species, one finished, one out. */
const pieces = [
  makePiece({square: "light", density: 650, intake: {colour: "white"}}),
  makePiece({square: "heavy", density: 760, turned: [60], intake: {colour: "brown"}}),
  makePiece({square: "unseen", density: 650, turned: [60]}),
  makePiece({square: "maple", species: "maple", density: 650}),
  makePiece({square: "shaft", density: 650, turned: [1, 2, 3, 4]}),
  makePiece({square: "out", density: 650, discarded: 9})
];
const coming = (wishes: object, share: (day: number) => number = () => 1, only = pieces) =>
  comingForOrder(
    {...order, ...wishes},
    {pieces: only},
    {
      known: shaftKnown({settings: Settings.parse({}), pieces: only}, {masses}),
      finishChance: ({stays}) => (stays.length === 1 ? 0.6 : 0.8),
      finishDay: () => ({quantile: (p) => 100 + 100 * p, shareBy: share})
    }
  );

test("comingForOrder(an order without wishes): pieces in stock of its species, each with its chance to finish", () => {
  const {pieces: some, expected, chanceFraction} = coming({});
  expect(some.map(({square, chanceFraction: p}) => [square, p])).toEqual([
    ["heavy", 0.8],
    ["unseen", 0.8],
    ["light", 0.6]
  ]);
  expect(expected).toBeCloseTo(2.2, 12);
  // 1 − 0.2 · 0.2 · 0.4
  expect(chanceFraction).toBeCloseTo(0.984, 12);
  expect(some[0]).toMatchObject({expectedOn: dayText(150), earliestOn: dayText(105), latestOn: dayText(195)});
});

test("comingForOrder: mass by density, with its spread; a colour not written down counts by how often it is met", () => {
  // 460 cm³ · 650 kg/m³ = 299 g with a standard deviation of 6; 760 is 350 g, far above.
  const light = coming({massMaxG: 299}, undefined, pieces.slice(0, 2));
  expect(light.pieces.map(({square}) => square)).toEqual(["light"]);
  expect(light.pieces[0]!.massG).toBeCloseTo(299, 9);
  expect(light.pieces[0]!.fitFraction).toBeCloseTo(0.5, 9);
  // Of the four ash pieces two have a colour, one of them white.
  const white = coming({colour: "white"});
  expect(white.pieces.map(({square, fitFraction, unsure}) => [square, fitFraction, unsure])).toEqual([
    ["light", 1, []],
    ["unseen", 0.5, ["colour"]]
  ]);
});

test("comingForOrder(a promised day): chance times the share of such pieces finished by then", () => {
  const {byPromiseFraction, pieces: some} = coming({wantedBy: dayText(150)}, (day) => (day >= 150 ? 0.25 : 0));
  expect(some.map(({byPromiseFraction: p}) => p)).toEqual([0.2, 0.2, 0.15].map((p) => expect.closeTo(p, 12)));
  expect(byPromiseFraction).toBeCloseTo(1 - 0.8 * 0.8 * 0.85, 12);
  expect(coming({}).byPromiseFraction).toBeUndefined();
});

test("comingForOrder without anything on the way", () => {
  expect(coming({species: "maple"}, undefined, pieces.slice(0, 2))).toEqual({
    order: "O1",
    pieces: [],
    expected: 0,
    chanceFraction: 0
  });
});

test("comingForOrder promises nothing of what cannot be worked out: a bend without a test, a weight without sizes", () => {
  expect(coming({deflectionMaxMm: 9}).pieces).toEqual([]);
  expect(coming({deflectionMaxMm: 9}).chanceFraction).toBe(0);
});
