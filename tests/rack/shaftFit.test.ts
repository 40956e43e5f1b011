import {describe, expect, test} from "vitest";
import {Settings} from "../../lib/book/settings.ts";
import {shaftFit, shaftKnown} from "../../lib/rack/shaftFit.ts";
import {makePiece, type PieceMade} from "../pieces.ts";

const bendTest = {loadKg: 2, support: "simple", fromLargeMm: 100, spanMm: 1200} as const;
const made = (more: PieceMade = {}, measured: object = {}) =>
  makePiece({
    turned: [1, 2, 3, 4],
    measurements: [{day: 4, stage: "finished", turned: true, massG: 320, diameterMm: 29, deflectionMm: 9, ...measured}],
    intake: {grainOneIn: 20, colour: "white"},
    ...more
  });
const order = {order: "O1", orderedOn: "2026-01-01", species: "ash", quantity: 1};
const known = (piece: ReturnType<typeof made>, more: object = {}) =>
  shaftKnown({settings: Settings.parse({bendTest, ...more}), pieces: [piece]});
const fitOf = (wishes: object, piece = made(), more: object = {}) =>
  shaftFit({...order, ...wishes}, piece, known(piece, more));

describe("shaftFit", () => {
  test("of an order without wishes is a fit of 1", () => {
    expect(fitOf({})).toMatchObject({
      state: "fits",
      fit: 1,
      chance: 1,
      wishes: [],
      square: "S1",
      order: "O1",
      finishedOn: 4
    });
  });

  test("of another species names that and nothing else", () => {
    expect(fitOf({species: "maple", massMinG: 300})).toMatchObject({
      state: "does not fit",
      fit: 0,
      chance: 0,
      wishes: [{wish: "species", state: "does not fit", value: "ash", wanted: "maple"}]
    });
  });

  // By hand: 320 g in 310 to 340 lies 5 of 15 from the middle of 325: 1 − 5/15. The scale's 1 g leaves no doubt: ten and twenty standard deviations.
  test("scores a mass by how near the middle it lies, times the chance", () => {
    const {wishes, state, fit: score} = fitOf({massMinG: 310, massMaxG: 340});
    expect(state).toBe("fits");
    expect(wishes[0]).toMatchObject({wish: "mass", low: 310, high: 340, value: 320, chance: 1});
    expect(score).toBeCloseTo(2 / 3, 9);
  });

  // Printed table of the normal law: at the very edge half, one standard deviation inside 0.841345.
  test("counts the edge as inside, half sure; a side that is open has no middle", () => {
    expect(fitOf({massMinG: 320, massMaxG: 340})).toMatchObject({state: "fits", fit: 0, chance: 0.5});
    expect(fitOf({massMinG: 319}).fit).toBeCloseTo(0.841345, 6);
    expect(fitOf({massMaxG: 319})).toMatchObject({state: "does not fit", fit: 0});
  });

  // By hand: not cut, so as read, 9 mm in 8.2 to 9.8 is the middle; the reading's 0.1 mm is eight standard deviations.
  test("scores stiffness by its own test", () => {
    const {wishes, fit: score} = fitOf({deflectionMinMm: 8.2, deflectionMaxMm: 9.8, lengthMm: 1470, tipMm: 9.5});
    expect(wishes.map(({wish, state}) => [wish, state])).toEqual([
      ["length", "fits"],
      ["tip", "fits"],
      ["stiffness", "fits"]
    ]);
    expect(score).toBeCloseTo(1, 9);
    expect(fitOf({deflectionMaxMm: 8.9})).toMatchObject({state: "does not fit", fit: 0});
  });

  test("knows nothing for sure of a shaft never bent: the chance is that of its species", () => {
    const piece = made({}, {deflectionMm: undefined});
    const {state, wishes, chance, fit: score} = fitOf({deflectionMaxMm: 113_772 / 14_190}, piece);
    expect(state).toBe("not known");
    expect(wishes[0]).toMatchObject({wish: "stiffness", state: "not known", why: "not recorded"});
    expect(chance).toBeCloseTo(0.5, 4);
    expect(score).toBeCloseTo(0.5, 4);
    expect(fitOf({deflectionMaxMm: 9}, made(), {bendTest: undefined}).wishes[0]).toMatchObject({
      state: "not known",
      why: "no test in the settings",
      score: 0
    });
  });

  test("holds grain and colour against what was recorded, colour in the same words", () => {
    expect(fitOf({grainOneIn: 20, colour: " White"})).toMatchObject({state: "fits", fit: 1});
    expect(fitOf({grainOneIn: 21})).toMatchObject({state: "does not fit", fit: 0});
    expect(fitOf({colour: "cream"})).toMatchObject({state: "does not fit", fit: 0});
    const bare = made({intake: {}});
    expect(fitOf({grainOneIn: 20}, bare)).toMatchObject({state: "not known", fit: 0});
    expect(fitOf({colour: "white"}, bare).wishes[0]).toMatchObject({state: "not known", why: "not recorded"});
  });

  test("one misfit outweighs what is not known", () => {
    expect(fitOf({colour: "white", grainOneIn: 20}, made({intake: {colour: "brown"}})).state).toBe("does not fit");
    expect(fitOf({colour: "white", lengthMm: 1500}, made({intake: {}})).state).toBe("does not fit");
  });

  // By hand: mass 2/3 weighs 1, grain 1 weighs 0.5: (2/3 + 0.5)/1.5 = 7/9; with mass at 0 it is grain alone; all at 0, nothing to compare.
  test("weighs the wishes that the order has by the settings", () => {
    const wishes = {massMinG: 310, massMaxG: 340, grainOneIn: 15};
    expect(fitOf(wishes).fit).toBeCloseTo(7 / 9, 9);
    expect(fitOf(wishes, made(), {rack: {weights: {mass: 0}}}).fit).toBeCloseTo(1, 9);
    expect(fitOf(wishes, made(), {rack: {weights: {mass: 0, grain: 0}}}).fit).toBe(1);
  });

  test("length and tip say what the shaft has and what is asked, margins in it", () => {
    const {wishes, state} = fitOf({lengthMm: 1465, tipMm: 9.5}, made(), {
      rack: {spliceMarginMm: 10, tipMarginMm: 0.05}
    });
    expect(state).toBe("does not fit");
    expect(wishes[0]).toEqual({wish: "length", state: "does not fit", low: 1475, value: 1470});
    expect(wishes[1]).toMatchObject({wish: "tip", state: "fits", low: 9.55});
    expect(wishes[1]!.value).toBeCloseTo(29 - (19.5 * 1465) / 1470, 9);
  });

  test("without sizes in the settings only a shaft as it is can be judged", () => {
    const stages = {
      stages: [
        {name: "square"},
        {name: "rough-round"},
        {name: "second-round"},
        {name: "proud-round"},
        {name: "finished"}
      ]
    };
    expect(fitOf({massMinG: 310}, made(), stages)).toMatchObject({state: "fits"});
    const {wishes} = fitOf({massMinG: 310, lengthMm: 1470}, made(), stages);
    expect(wishes.map(({wish, state}) => [wish, state])).toEqual([
      ["length", "not known"],
      ["mass", "not known"]
    ]);
  });

  test("a piece in stock is judged by the shaft it would become", () => {
    const coming = makePiece({density: 700});
    const row = {species: "ash", stage: "finished", lots: 8, ratioCm3: 455, predictionFraction: 0.02, freedom: 10};
    const all = shaftKnown({settings: Settings.parse({bendTest}), pieces: [coming]}, {masses: [row]});
    const got = shaftFit({...order, massMinG: 318.5, lengthMm: 1470, tipMm: 9.5}, coming, all);
    expect(got).toMatchObject({state: "fits", mass: {basis: "shafts before it"}, bend: {modulus: {basis: "species"}}});
    expect(got.chance).toBeCloseTo(0.5, 6);
    expect(got).not.toHaveProperty("finishedOn");
  });
});

test("shaftFit: a shaft never bent that fits in fewer than one case of twenty is taken not to fit", () => {
  const piece = made({}, {deflectionMm: undefined});
  // By the published mean it bends 8 mm (113,772 N/mm ÷ 14,190 MPa), and 22 % of the modulus is the spread: a window far below.
  expect(fitOf({deflectionMaxMm: 5}, piece)).toMatchObject({state: "does not fit", fit: expect.any(Number)});
  expect(fitOf({deflectionMaxMm: 7}, piece).state).toBe("not known");
});
