import {expect, test} from "vitest";
import {Settings} from "../../lib/book/settings.ts";
import {orderedTaper} from "../../lib/rack/orderedTaper.ts";
import {pieceTaper} from "../../lib/rack/pieceTaper.ts";
import {predictedShaft} from "../../lib/rack/predictedShaft.ts";
import {makePiece, settings} from "../pieces.ts";

const latheMm = 0.07;
const weighed = makePiece({
  turned: [1, 2, 3, 4],
  measurements: [{day: 4, stage: "finished", turned: true, massG: 320, diameterMm: 29}]
});
const predict = (
  piece: typeof weighed,
  order: {lengthMm?: number; tipMm?: number},
  more: Partial<Parameters<typeof predictedShaft>[3]> = {}
) => {
  const all = {settings, latheMm, ...more};
  const shaft = pieceTaper(piece, "finished", all)!;
  return predictedShaft(piece, shaft, orderedTaper(shaft, order, all.settings.rack), all)!;
};

test("a shaft as ordered weighs what it weighs, as sure as the scale", () => {
  const mass = predict(weighed, {lengthMm: 1470, tipMm: 9.5});
  expect(mass).toMatchObject({massG: 320, sdG: 1, freedom: Infinity, basis: "weighed", weighedOn: 4});
  // Printed table of the normal law: 1.959964.
  expect(mass.highG).toBeCloseTo(321.959964, 5);
  expect(mass.lowG).toBeCloseTo(318.040036, 5);
});

// By hand: D² + D·d + d² is 1206.75 at 9.5 mm and 1221.24 at 9.8 mm with D 29; times 1470 and 1440: 320 · 1221.24 · 1440/(1206.75 · 1470) = 317.2334.
// GUM: relative parts. Scale 1/320. Tape twice: 1/1470 and 1/1440. Small end (D + 2d)/(…) · 0.07 = 48/1206.75 · 0.07 = 0.0027843; new tip
// 48.6/1221.24 · 0.07 = 0.0027857; large end ((2D + t)/1221.24 − (2D + d)/1206.75) · 0.1 = (67.8/1221.24 − 67.5/1206.75) · 0.1 = −0.0000418.
// √(0.003125² + 0.00068027² + 0.00069444² + 0.0027843² + 0.0027857² + 0.0000418²) = 0.0051210; · 317.2334 = 1.6246.
test("cut shorter and to a thicker tip it weighs as the volumes say", () => {
  const mass = predict(weighed, {lengthMm: 1440, tipMm: 9.8});
  expect(mass.massG).toBeCloseTo(317.2334, 3);
  expect(mass.sdG).toBeCloseTo(1.6246, 3);
});

// By hand: cut at 1440 the tip is 9.897959; D² + D·t + t² = 1226.0104; 320 · 1226.0104 · 1440/(1206.75 · 1470) = 318.4726.
test("cut shorter only, it keeps the tip it has there", () => {
  expect(predict(weighed, {lengthMm: 1440}).massG).toBeCloseTo(318.4726, 3);
});

test("handle and fittings are added, with their own doubt", () => {
  const rack = {...settings.rack, handleMassG: 45, handleMassSdG: 2};
  const mass = predict(weighed, {lengthMm: 1470, tipMm: 9.5}, {settings: {...settings, rack}});
  expect(mass.massG).toBe(365);
  expect(mass.sdG).toBeCloseTo(Math.sqrt(5), 9);
});

const coming = makePiece({density: 700, intake: {massG: 1680}});
const row = {species: "ash", stage: "finished", lots: 8, ratioCm3: 455, predictionFraction: 0.02, freedom: 10};

// By hand: 0.7 g/cm³ · 455 cm³ = 318.5 g for the standard taper, times the shares of volume above; t of 10 degrees of freedom 2.228139.
test("a piece that is no shaft yet goes by what shafts before it weighed for their density", () => {
  const mass = predict(coming, {lengthMm: 1470, tipMm: 9.5}, {masses: [row]});
  expect(mass).toMatchObject({basis: "shafts before it", freedom: 10});
  expect(mass.massG).toBeCloseTo(318.5, 9);
  expect(mass.highG - mass.massG).toBeCloseTo(318.5 * 0.02 * 2.228139, 4);
  const cut = predict(coming, {lengthMm: 1440, tipMm: 9.8}, {masses: [row]});
  expect(cut.massG).toBeCloseTo((318.5 * 317.2334) / 320, 3);
  // Shafts before it had 8 %, the store brings it to 10: 110/108. A piece on its way is finished in another air.
  const store = {masses: [{...row, moisturePct: 8}], storePct: 10};
  expect(predict({...coming, fate: "finished"}, {}, store).massG).toBeCloseTo((318.5 * 110) / 108, 9);
  expect(predict(coming, {}, store).massG).toBeCloseTo(318.5, 9);
});

// By hand: 464,412 mm³ (tests/reference/wood-taper.test.ts) at 700 kg/m³ and 12 % is 325.09 g. European ash, as stored, dries from 12 to 8 % by
// βv 13.2 and S 30: v(8) = 1 − 0.132 · 22/30 = 0.9032, v(12) = 0.9208; 700 · 1.08/1.12 · 0.9208/0.9032 = 688.153; 319.59 g.
test("without four lots before it, by density and volume alone, at the store's moisture", () => {
  const mass = predict(coming, {}, {masses: [{...row, lots: 3}]});
  expect(mass).toMatchObject({basis: "density", freedom: Infinity});
  expect(mass.massG).toBeCloseTo(325.09, 2);
  expect(predict(coming, {}, {storePct: 8}).massG).toBeCloseTo(319.59, 2);
  // The square's 40 mm faces, twice 0.1/40, its length 1/1500, its mass 1/1680, the meter about 0.0044 · 1.5: some 0.75 % in all, and more with the lathe.
  expect(mass.sdG / mass.massG).toBeGreaterThan(0.007);
  expect(mass.sdG / mass.massG).toBeLessThan(0.011);
});

test("without sizes in the settings a shaft can be had as it is, and nothing is said of a piece", () => {
  const bare = Settings.parse({stages: [{name: "square"}, {name: "finished"}]});
  const known = {settings: bare, latheMm};
  expect(predictedShaft(weighed, undefined, undefined, known)).toMatchObject({massG: 320, basis: "weighed"});
  expect(predictedShaft(coming, undefined, undefined, known)).toBeUndefined();
});
