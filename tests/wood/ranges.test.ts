import {describe, expect, test} from "vitest";
import {basicDensity, volumeShare} from "../../lib/wood/basicDensity.ts";
import {basicDensityFromAt12} from "../../lib/wood/basicDensityFromAt12.ts";
import {changeInUse} from "../../lib/wood/changeInUse.ts";
import {constantMass} from "../../lib/wood/constantMass.ts";
import {barVolume, density} from "../../lib/wood/density.ts";
import {densityAt12, densityAtMoisture} from "../../lib/wood/densityAt12.ts";
import {densityAt12En384} from "../../lib/wood/densityAt12En384.ts";
import {densityAt12Iso13061} from "../../lib/wood/densityAt12Iso13061.ts";
import {densityUncertainty} from "../../lib/wood/densityUncertainty.ts";
import {dryingTimeRatio} from "../../lib/wood/dryingTimeRatio.ts";
import {equilibriumHumidity} from "../../lib/wood/equilibriumHumidity.ts";
import {equilibriumMoisture} from "../../lib/wood/equilibriumMoisture.ts";
import {grainStrength, hankinson} from "../../lib/wood/grainStrength.ts";
import {basicGravity, gravityAtMoisture} from "../../lib/wood/gravityAtMoisture.ts";
import {meterCorrection} from "../../lib/wood/meterCorrection.ts";
import {modulusFromDeflection} from "../../lib/wood/modulusFromDeflection.ts";
import {moistureByMass, ovenDryMass} from "../../lib/wood/moisture.ts";
import {shrinkage} from "../../lib/wood/shrinkage.ts";
import {combinedSlope, runOutLength, slopeAngle, slopeOfGrain} from "../../lib/wood/slopeOfGrain.ts";
import {type WoodProperty, woodConstants} from "../../lib/wood/species.ts";
import {specificGravity} from "../../lib/wood/specificGravity.ts";
import {strengthAtMoisture} from "../../lib/wood/strengthAtMoisture.ts";
import {taperDeflection, taperVolume} from "../../lib/wood/taper.ts";

const species = "white-ash" as const;
const bar = {lengthMm: 1500, widthMm: 40, thicknessMm: 40};
const measured = {...bar, massG: 1680, moisturePct: 12, species, scaleG: 1, calliperMm: 0.1, tapeMm: 1, meterPct: 1.5};
const face = {sizeMm: 40, fromPct: 12, toPct: 8, species, direction: "radial"} as const;
const shaft = {loadN: 1, lengthMm: 1000, largeMm: 29, smallMm: 10, modulusMPa: 12_000, support: "cantilever"} as const;
const bend = {loadN: 1, deflectionMm: 20, lengthMm: 1000, largeMm: 29, smallMm: 10, support: "cantilever"} as const;
const weighings = {earlierMassG: 1680, laterMassG: 1680, hoursApart: 168, scaleG: 1};
const strength = {at12MPa: 103, greenMPa: 66, moisturePct: 12};
const wet = {densityKgM3: 700, moisturePct: 12};
const fit = {slope: 0.1, acrossOverAlong: 0.1, exponent: 1.5};

/** A function of one reading, the others held at what a workshop would have. */
type Reading = [label: string, of: (value: number) => unknown];

const within: [...Reading, low: number, high: number][] = [
  ["basicDensity: moisturePct", (moisturePct) => basicDensity({...wet, moisturePct, species}), 0, 200],
  ["basicDensityFromAt12: densityAt12KgM3", (densityAt12KgM3) => basicDensityFromAt12({densityAt12KgM3}), 100, 1300],
  ["basicGravity: moisturePct", (moisturePct) => basicGravity({...wet, moisturePct}), 0, 200],
  ["changeInUse: fromPct", (fromPct) => changeInUse({...face, fromPct}), 6, 14],
  ["changeInUse: toPct", (toPct) => changeInUse({...face, toPct}), 6, 14],
  ["densityAt12: moisturePct", (moisturePct) => densityAt12({...wet, moisturePct, species}), 0, 200],
  [
    "densityAtMoisture: moisturePct",
    (moisturePct) => densityAtMoisture({densityAt12KgM3: 700, moisturePct, species}),
    0,
    200
  ],
  ["densityAt12En384: moisturePct", (moisturePct) => densityAt12En384({...wet, moisturePct}), 8, 18],
  ["densityAt12Iso13061: moisturePct", (moisturePct) => densityAt12Iso13061({...wet, moisturePct}), 7, 17],
  ["densityAt12Iso13061: densityKgM3", (densityKgM3) => densityAt12Iso13061({...wet, densityKgM3}), 200, 1100],
  ["dryingTimeRatio: thicknessMm", (thicknessMm) => dryingTimeRatio({thicknessMm, referenceMm: 25}), 10, 150],
  ["dryingTimeRatio: referenceMm", (referenceMm) => dryingTimeRatio({thicknessMm: 40, referenceMm}), 10, 150],
  ["dryingTimeRatio: exponent", (exponent) => dryingTimeRatio({thicknessMm: 40, referenceMm: 25, exponent}), 1.3, 2],
  [
    "equilibriumHumidity: temperatureC",
    (temperatureC) => equilibriumHumidity({temperatureC, moisturePct: 8}),
    -1.2,
    99
  ],
  [
    "equilibriumHumidity: moisturePct",
    (moisturePct) => equilibriumHumidity({temperatureC: 20, moisturePct}),
    0,
    equilibriumMoisture({temperatureC: 20, humidityPct: 100})
  ],
  [
    "equilibriumMoisture: temperatureC",
    (temperatureC) => equilibriumMoisture({temperatureC, humidityPct: 50}),
    -1.2,
    99
  ],
  ["equilibriumMoisture: humidityPct", (humidityPct) => equilibriumMoisture({temperatureC: 20, humidityPct}), 0, 100],
  ["grainStrength: slope", (slope) => grainStrength({slope, property: "impact"}), 0, 0.2],
  [
    "gravityAtMoisture: moisturePct",
    (moisturePct) => gravityAtMoisture({basicSpecificGravity: 0.5, moisturePct}),
    0,
    200
  ],
  [
    "gravityAtMoisture: basicSpecificGravity",
    (basicSpecificGravity) => gravityAtMoisture({basicSpecificGravity, moisturePct: 12}),
    0.1,
    1.2
  ],
  ["hankinson: exponent", (exponent) => hankinson({...fit, exponent}), 1.5, 2.5],
  ["meterCorrection: readingPct", (readingPct) => meterCorrection({readingPct, temperatureC: 20}), 6, 28],
  ["meterCorrection: temperatureC", (temperatureC) => meterCorrection({readingPct: 12, temperatureC}), 0, 40],
  [
    "meterCorrection: perDegreePct",
    (perDegreePct) => meterCorrection({readingPct: 12, temperatureC: 10, perDegreePct}),
    0.1,
    0.15
  ],
  ["ovenDryMass: moisturePct", (moisturePct) => ovenDryMass({massG: 1680, moisturePct}), 0, 200],
  ["shrinkage: fromPct", (fromPct) => shrinkage({...face, fromPct}), 0, 200],
  ["shrinkage: toPct", (toPct) => shrinkage({...face, toPct}), 0, 200],
  ["specificGravity: moisturePct", (moisturePct) => specificGravity({...wet, moisturePct}), 0, 200],
  [
    "volumeShare: moisturePct",
    (moisturePct) => volumeShare({moisturePct, wood: woodConstants(species), needing: "volumeShare"}),
    0,
    200
  ],
  ["strengthAtMoisture: moisturePct", (moisturePct) => strengthAtMoisture({...strength, moisturePct}), 8, 200],
  [
    "strengthAtMoisture: intersectionPct",
    (intersectionPct) => strengthAtMoisture({...strength, intersectionPct}),
    15,
    35
  ]
];
describe("takes its range to the ends and nothing beyond", () => {
  test.each(within)("%s", (_, of, low, high) => {
    const step = Math.max(1e-9, (high - low) * 1e-9);
    for (const value of [low, (low + high) / 2, high]) expect(of(value)).toSatisfy(Number.isFinite);
    for (const value of [low - step, high + step, Number.NaN, Infinity]) expect(() => of(value)).toThrow(RangeError);
  });
});

const positive: Reading[] = [
  ["barVolume: lengthMm", (lengthMm) => barVolume({...bar, lengthMm})],
  ["barVolume: widthMm", (widthMm) => barVolume({...bar, widthMm})],
  ["barVolume: thicknessMm", (thicknessMm) => barVolume({...bar, thicknessMm})],
  ["basicDensity: densityKgM3", (densityKgM3) => basicDensity({...wet, densityKgM3, species})],
  ["changeInUse: sizeMm", (sizeMm) => changeInUse({...face, sizeMm})],
  ["constantMass: earlierMassG", (earlierMassG) => constantMass({...weighings, earlierMassG}).limitG],
  ["constantMass: laterMassG", (laterMassG) => constantMass({...weighings, laterMassG}).lostG],
  ["constantMass: scaleG", (scaleG) => constantMass({...weighings, scaleG}).limitG],
  ["density: massG", (massG) => density({massG, volumeMm3: 1})],
  ["density: volumeMm3", (volumeMm3) => density({massG: 1, volumeMm3})],
  ["densityAt12: densityKgM3", (densityKgM3) => densityAt12({...wet, densityKgM3, species})],
  ["densityAtMoisture: densityAt12KgM3", (k) => densityAtMoisture({densityAt12KgM3: k, moisturePct: 16, species})],
  ["densityAt12En384: densityKgM3", (densityKgM3) => densityAt12En384({...wet, densityKgM3})],
  ["modulusFromDeflection: loadN", (loadN) => modulusFromDeflection({...bend, loadN})],
  ["moistureByMass: ovenDryMassG", (ovenDryMassG) => moistureByMass({massG: 2 * ovenDryMassG, ovenDryMassG})],
  ["ovenDryMass: massG", (massG) => ovenDryMass({massG, moisturePct: 12})],
  ["runOutLength: diameterMm", (diameterMm) => runOutLength({diameterMm, slope: 0.1})],
  ["shrinkage: sizeMm", (sizeMm) => shrinkage({...face, sizeMm})],
  ["slopeOfGrain: lengthMm", (lengthMm) => slopeOfGrain({runMm: 1, lengthMm})],
  ["specificGravity: densityKgM3", (densityKgM3) => specificGravity({...wet, densityKgM3})],
  ["strengthAtMoisture: at12MPa", (at12MPa) => strengthAtMoisture({...strength, greenMPa: 1e-9, at12MPa})],
  ["strengthAtMoisture: greenMPa", (greenMPa) => strengthAtMoisture({...strength, greenMPa})],
  ["taperDeflection: loadN", (loadN) => taperDeflection({...shaft, loadN})],
  ["taperVolume: lengthMm", (lengthMm) => taperVolume({...shaft, lengthMm})],
  ["taperVolume: smallMm", (smallMm) => taperVolume({...shaft, smallMm})]
];
describe("takes what is positive and nothing else", () => {
  test.each(positive)("%s", (_, of) => {
    expect(of(1e-6)).toSatisfy(Number.isFinite);
    for (const value of [0, -1, Number.NaN, Infinity]) expect(() => of(value)).toThrow(RangeError);
  });
});

const notNegative: Reading[] = [
  ["combinedSlope: first", (first) => combinedSlope(first, 0.1)],
  ["combinedSlope: second", (second) => combinedSlope(0.1, second)],
  ["constantMass: hoursApart", (hoursApart) => constantMass({...weighings, hoursApart}).lostG],
  ["densityUncertainty: scaleG", (scaleG) => densityUncertainty({...measured, scaleG}).at12KgM3],
  ["densityUncertainty: calliperMm", (calliperMm) => densityUncertainty({...measured, calliperMm}).at12KgM3],
  ["densityUncertainty: tapeMm", (tapeMm) => densityUncertainty({...measured, tapeMm}).at12KgM3],
  ["densityUncertainty: meterPct", (meterPct) => densityUncertainty({...measured, meterPct}).at12KgM3],
  ["hankinson: slope", (slope) => hankinson({...fit, slope})],
  ["runOutLength: slope", (slope) => 1 / runOutLength({diameterMm: 10, slope})],
  ["slopeAngle: slope", (slope) => slopeAngle(slope)],
  ["slopeOfGrain: runMm", (runMm) => slopeOfGrain({runMm, lengthMm: 100})]
];
describe("takes 0 and what is positive, and nothing else", () => {
  test.each(notNegative)("%s", (_, of) => {
    expect(of(0)).toSatisfy(Number.isFinite);
    for (const value of [-1e-9, Number.NaN, Infinity]) expect(() => of(value)).toThrow(RangeError);
  });
});

// One end open, or an end that hangs on another reading.
test("hankinson takes a ratio above 0 and up to 1", () => {
  expect(hankinson({...fit, acrossOverAlong: 1, slope: 0})).toBe(1);
  for (const acrossOverAlong of [0, 1 + 1e-9, Number.NaN]) {
    expect(() => hankinson({...fit, acrossOverAlong})).toThrow(RangeError);
  }
});

test("moistureByMass takes a mass from the oven-dry one to three of it, 200 %", () => {
  expect(moistureByMass({massG: 4500, ovenDryMassG: 1500})).toBe(200);
  expect(moistureByMass({massG: 1500, ovenDryMassG: 1500})).toBe(0);
  for (const massG of [1500 - 1e-9, 4500 + 1e-9, Number.NaN, Infinity]) {
    expect(() => moistureByMass({massG, ovenDryMassG: 1500})).toThrow(RangeError);
  }
});

test("a shaft may be as thin as a fourteenth of its length, and as straight as a dowel", () => {
  const dowel = {...shaft, largeMm: 20, smallMm: 20, lengthMm: 280};
  expect(taperDeflection(dowel)).toBeGreaterThan(0);
  expect(() => taperDeflection({...dowel, lengthMm: 280 - 1e-9})).toThrow(RangeError);
  expect(() => taperDeflection({...dowel, smallMm: 20 + 1e-9})).toThrow(RangeError);
  for (const largeMm of [0, Number.NaN, Infinity]) expect(() => taperVolume({...shaft, largeMm})).toThrow(RangeError);
  for (const modulusMPa of [0, Number.NaN, Infinity]) {
    expect(() => taperDeflection({...shaft, modulusMPa})).toThrow(RangeError);
  }
});

test("a bend may be a tenth of the length", () => {
  const {loadN} = shaft;
  const most = (loadN * 100) / taperDeflection(shaft);
  expect(taperDeflection({...shaft, loadN: most * (1 - 1e-12)})).toBeCloseTo(100, 6);
  expect(() => taperDeflection({...shaft, loadN: most * (1 + 1e-9)})).toThrow(RangeError);
  expect(modulusFromDeflection({...bend, deflectionMm: 100})).toBeGreaterThan(0);
  for (const deflectionMm of [0, 100 + 1e-9, Number.NaN]) {
    expect(() => modulusFromDeflection({...bend, deflectionMm})).toThrow(RangeError);
  }
});

const ends: [WoodProperty, number, number][] = [
  ["fibreSaturationPct", 15, 45],
  ["radialPct", 0.5, 20],
  ["tangentialPct", 0.5, 20],
  ["volumetricPct", 1, 35],
  ["radialPer1Pct", 0.0001, 0.01],
  ["tangentialPer1Pct", 0.0001, 0.01],
  ["basicSpecificGravity", 0.1, 1.2],
  ["specificGravity12", 0.1, 1.3],
  ["modulusGreenMPa", 1000, 40000],
  ["modulusMPa12", 1000, 40000],
  ["ruptureGreenMPa", 10, 300],
  ["ruptureMPa12", 10, 300],
  ["intersectionPct", 15, 35],
  ["greenHeartwoodPct", 25, 300],
  ["greenSapwoodPct", 25, 300]
];
test.each(ends)("a workshop's own %s may be from %s to %s", (property, low, high) => {
  const own = {name: "mine", latin: "Acer", fibreSaturationPct: 30};
  for (const value of [low, high]) expect(woodConstants({...own, [property]: value})[property]).toBe(value);
  for (const value of [low * (1 - 1e-9), high * (1 + 1e-9), 0, -low, Number.NaN, Infinity]) {
    expect(() => woodConstants({...own, [property]: value})).toThrow(RangeError);
  }
});
