import {expect, test} from "vitest";
import {shaftKnown} from "../../lib/rack/shaftFit.ts";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {taperDiameter, taperVolume} from "../../lib/wood/taper.ts";
import {bendOfShape, modulusMPa} from "../../scripts/sample/feel.ts";
import {turned} from "../../scripts/sample/masses.ts";
import {moistureCourse} from "../../scripts/sample/moisture.ts";
import {simulate} from "../../scripts/sample/simulate.ts";
import {storeAir} from "../../scripts/sample/store.ts";
import {lathe, latheLengthSdMm} from "../../scripts/sample/truthMeasuring.ts";
import {now, within} from "./sample.ts";

/**
 * Every finished shaft cut to sizes that orders name, in truth: its own true ends, dry mass and modulus, the cut off by what the sample's lathe is off. The
 * moisture is that of the day it was weighed, as the prediction says.
 */
const sizes = [
  {lengthMm: 1470, tipMm: 9.5},
  {lengthMm: 1460, tipMm: 9.6},
  {lengthMm: 1440, tipMm: 9.8}
];
const known = shaftKnown(now);
const truths = new Map(simulate().pieces.map((piece) => [piece.square, piece]));
const air = storeAir();
const random = randomStream(9);
const normal = (sd: number) => sd * normalQuantile(random());
const cases = now.pieces.flatMap((piece) => {
  const made = truths.get(piece.square)!;
  const weighed = piece.measurements.find(({stage, massG}) => stage === "finished" && massG !== undefined);
  if (piece.fate !== "finished" || !weighed) return [];
  const moisturePct = moistureCourse(made, air)(weighed.day);
  const fresh = turned(made, "finished", moisturePct);
  const wholeG = fresh.dryG * (1 + moisturePct / 100);
  return sizes.flatMap((size) => {
    const {mass, bend, cut} = known.cutTo(piece, size);
    if (!cut!.lengthFits || !cut!.tipFits) return [];
    const lengthMm = cut!.cut ? size.lengthMm + normal(latheLengthSdMm) : fresh.lengthMm;
    const tipMm = cut!.cut ? size.tipMm + normal(lathe.finished.sd) : fresh.smallMm;
    const shape = {largeMm: fresh.largeMm, smallMm: tipMm, lengthMm};
    return [
      {
        mass: mass!,
        bend,
        trueG: (wholeG * taperVolume(shape)) / taperVolume(fresh),
        shape,
        made,
        isCut: cut!.cut,
        fresh
      }
    ];
  });
});

test("predictedShaft: 95 % intervals hold the mass that shafts come to when they are cut", () => {
  for (const cutToo of [true, false]) {
    const some = cases.filter(({isCut}) => isCut === cutToo);
    expect(some.length).toBeGreaterThan(1000);
    const held = some.filter(({mass, trueG}) => within(trueG, mass.lowG, mass.highG));
    expect(held.length / some.length).toBeGreaterThan(0.93);
    // Not by being wide: a hundredth of the mass at most.
    for (const {mass} of some) expect(mass.sdG / mass.massG).toBeLessThan(0.01);
  }
});

test.each(["bent", "species"] as const)(
  "predictedBend, %s: its intervals hold the true deflection of cut shafts",
  (basis) => {
    const own = cases.flatMap(({bend, shape, made}) =>
      typeof bend === "object" && bend.modulus.basis === basis
        ? [{bend, trueMm: bendOfShape(shape) / modulusMPa(made)}]
        : []
    );
    expect(own.length).toBeGreaterThan(100);
    const held = own.filter(({bend, trueMm}) => within(trueMm, bend.lowMm, bend.highMm));
    expect(held.length / own.length).toBeGreaterThan(0.94);
  }
);

test("what is cut ends no thicker than the shaft, in truth too but for the lathe", () => {
  for (const {shape, fresh, isCut} of cases)
    if (isCut && shape.lengthMm < fresh.lengthMm)
      expect(shape.smallMm - taperDiameter(fresh, shape.lengthMm)).toBeLessThan(6 * lathe.finished.sd);
});
