import {expect, test} from "vitest";
import {Settings} from "../../lib/book/settings.ts";
import {orderedTaper} from "../../lib/rack/orderedTaper.ts";
import {pieceTaper} from "../../lib/rack/pieceTaper.ts";
import {
  chanceOfBend,
  type PieceModulus,
  type PredictedBend,
  pieceModulus,
  predictedBend,
  speciesModuli
} from "../../lib/rack/stiffness.ts";
import {makePiece} from "../pieces.ts";

const latheMm = 0.07;
const simple = {loadKg: 2, support: "simple", fromLargeMm: 100, spanMm: 1200} as const;
const withTest = (bendTest: object | undefined, more: object = {}) =>
  Settings.parse({...(bendTest && {bendTest}), ...more});
const bent = (deflectionMm: number, stage = "finished", turned = [1, 2, 3, 4]) =>
  makePiece({turned, measurements: [{day: turned.at(-1) ?? 0, stage, turned: true, deflectionMm, diameterMm: 29}]});

function ask(piece: ReturnType<typeof bent>, order: {lengthMm?: number; tipMm?: number}, settings: Settings) {
  const taperAt = (stage: string) => pieceTaper(piece, stage, {settings, latheMm});
  const cut = orderedTaper(taperAt("finished")!, order, settings.rack);
  const known = {settings, taperAt};
  return {modulus: pieceModulus(piece, known), bend: predictedBend(piece, cut, {...known, latheMm})};
}

// By hand: the free length runs from 100 to 1300 mm of a 29 to 9.5 mm shaft of 1470: D 27.673469, d 11.755102, m 19.714286; two supports:
// 4 · 1200³/(3π · m² · D · d) = 6.912e9/(9.424778 · 388.653061 · 325.304457) = 5800.77 1/mm; 2 kg are 19.6133 N: 113772 N/mm; 9.2 mm: 12366 MPa.
test("pieceModulus from a test of a part of the shaft, by hand", () => {
  const modulus = ask(bent(9.2), {}, withTest(simple)).modulus as PieceModulus;
  expect(modulus).toMatchObject({basis: "bent", bentAt: "finished", bentOn: 4, readMm: 9.2});
  expect(modulus.modulusMPa / 12366).toBeCloseTo(1, 4);
  // First order: the relative parts of reading, large and small end, from the logarithm of m²·D·d, added in squares.
  const [D, d, m] = [27.673469, 11.755102, 19.714286];
  const large = 0.1 * ((1 - 100 / 1470) * (1 / m + 1 / D) + (1 - 1300 / 1470) * (1 / m + 1 / d));
  const small = latheMm * ((100 / 1470) * (1 / m + 1 / D) + (1300 / 1470) * (1 / m + 1 / d));
  expect(modulus.sdMPa / modulus.modulusMPa).toBeCloseTo(Math.hypot(0.1 / 9.2, large, small), 4);
});

test("a shaft that is not cut bends as it was read; cut back, its taper is steeper and it bends more, by the shapes alone", () => {
  const as = ask(bent(9.2), {lengthMm: 1470, tipMm: 9.5}, withTest(simple)).bend as PredictedBend;
  expect(as.deflectionMm).toBeCloseTo(9.2, 9);
  expect(as.sdMm).toBeCloseTo(0.1, 9);
  const cut = ask(bent(9.2), {lengthMm: 1440, tipMm: 9.8}, withTest(simple)).bend as PredictedBend;
  // By hand as above: D 29 − 19.2 · 100/1440 = 27.666667, d 29 − 19.2 · 1300/1440 = 11.666667, m 19.666667: m²·D·d = 124843.27 against 126430.57.
  expect(cut.deflectionMm / 9.2).toBeCloseTo(126430.57 / 124843.27, 5);
  expect(cut.sdMm!).toBeGreaterThan(0.1);
});

// By hand: tested as a proud-round of 30.5 to 11.5 mm, 1475 mm, whose large end was read as 29: D 29 − 17.5 · 100/1475, d 29 − 17.5 · 1300/1475.
test("a piece bent at an earlier stage is reckoned from the taper it had there", () => {
  const {modulus, bend} = ask(bent(7, "proud-round", [1, 2, 3]), {lengthMm: 1470, tipMm: 9.5}, withTest(simple));
  expect(modulus).toMatchObject({basis: "bent", bentAt: "proud-round"});
  const shape = (D: number, d: number) => 1 / (((D + d) / 2) ** 2 * D * d);
  const [at100, at1300] = [29 - (17.5 * 100) / 1475, 29 - (17.5 * 1300) / 1475];
  const expected = (7 * shape(27.673469, 11.755102)) / shape(at100, at1300);
  expect((bend as PredictedBend).deflectionMm).toBeCloseTo(expected, 4);
});

// Held at the large end, from 250 mm on: D 25.683673, d 29 − 19.5 · 1450/1470 = 9.765306: 64 · 1200³/(3π · D³ · d) · 4.903325 N/(12366 MPa).
test("a cantilever is reckoned with its own shape", () => {
  const settings = withTest({loadKg: 0.5, support: "cantilever", fromLargeMm: 250, spanMm: 1200});
  const {modulus} = ask(bent(28), {}, settings);
  const shape = (64 * 1200 ** 3) / (3 * Math.PI * 25.683673 ** 3 * 9.765306);
  expect((modulus as PieceModulus).modulusMPa).toBeCloseTo((0.5 * 9.80665 * shape) / 28, 0);
});

// European ash as stored: 12900 MPa; shear taken out 14190, and 22 % of it 3121.8.
test("a shaft never bent has the mean of its species, with the spread of single sticks", () => {
  const {modulus, bend} = ask(makePiece({turned: [1, 2, 3, 4]}), {}, withTest(simple));
  expect(modulus).toMatchObject({basis: "species"});
  expect((modulus as PieceModulus).modulusMPa).toBeCloseTo(14190, 6);
  expect((modulus as PieceModulus).sdMPa).toBeCloseTo(3121.8, 6);
  const known = bend as PredictedBend;
  expect(known.deflectionMm).toBeCloseTo(113772 / 14190, 3);
  expect(known.sdMm).toBeUndefined();
  // 95 of 100 by the modulus, the stiffest bending least: 113772/(14190 ± 1.959964 · 3121.8).
  expect(known.lowMm).toBeCloseTo(113772 / 20308.6, 3);
  expect(known.highMm).toBeCloseTo(113772 / 8071.4, 3);
  expect(chanceOfBend(known, {low: known.lowMm, high: known.highMm})).toBeCloseTo(0.95, 9);
  expect(chanceOfBend(known, {high: known.deflectionMm})).toBeCloseTo(0.5, 9);
  expect(chanceOfBend(known, {low: known.highMm})).toBeCloseTo(0.025, 9);
});

test("chanceOfBend of a shaft that was bent is that of its deflection", () => {
  const bend = ask(bent(9.2), {}, withTest(simple)).bend as PredictedBend;
  expect(chanceOfBend(bend, {low: 9.2 - 1.959964 * 0.1, high: 9.2 + 1.959964 * 0.1})).toBeCloseTo(0.95, 6);
  expect(chanceOfBend(bend, {})).toBe(1);
});

test.each([
  ["no test in the settings", bent(9), undefined, {}],
  ["the test reaches beyond the shaft", bent(9), {...simple, spanMm: 1400}, {}],
  ["the span is shorter than 14 diameters", bent(9), {...simple, spanMm: 380}, {}],
  ["the bend is more than a tenth of the span", bent(121), simple, {}]
] as const)("says why there is no number: %s", (why, piece, bendTest, order) => {
  expect(ask(piece, order, withTest(bendTest))).toEqual({modulus: why, bend: why});
});

test("says so where only the cut shaft is too short for the test, or would bend too far", () => {
  const short = ask(bent(9.2), {lengthMm: 1250}, withTest(simple));
  expect(short.modulus).toMatchObject({basis: "bent"});
  expect(short.bend).toBe("the test reaches beyond the shaft");
  expect(ask(bent(115), {tipMm: 5}, withTest(simple)).bend).toBe("the bend is more than a tenth of the span");
});

test("a reading as a square says nothing, as its taper is not known", () => {
  expect(ask(bent(3, "square", [1, 2, 3, 4]), {}, withTest(simple)).modulus).toMatchObject({basis: "species"});
});

// By hand: 10, 11 … 19 GPa have the mean 14.5 and the standard deviation 3.02765; a further one of ten 3.02765 · √1.1 = 3.17543, with 9 degrees of
// freedom, of which the printed t is 2.262157.
test("speciesModuli: mean and spread of the shafts that were bent, for species with ten of them", () => {
  const ten = Array.from({length: 10}, (_, i) => ({species: "ash", modulusMPa: 10_000 + 1000 * i}));
  const moduli = speciesModuli([...ten, {species: "maple", modulusMPa: 12_000}]);
  expect([...moduli.keys()]).toEqual(["ash"]);
  const {modulusMPa, sdMPa, freedom} = moduli.get("ash")!;
  expect([modulusMPa, freedom]).toEqual([14_500, 9]);
  expect(sdMPa).toBeCloseTo(3175.43, 1);
  const piece = makePiece({turned: [1, 2, 3, 4]});
  const found = pieceModulus(piece, {
    settings: Settings.parse({bendTest: {loadKg: 2, support: "simple", spanMm: 1200}}),
    taperAt: () => undefined,
    moduli
  });
  expect(found).toMatchObject({basis: "species", modulusMPa: 14_500});
  expect((found as {highMPa: number}).highMPa).toBeCloseTo(14_500 + 2.262157 * 3175.43, 0);
});
