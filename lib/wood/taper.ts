import {check} from "../check.ts";

/** A round stick that tapers evenly from its large end to its small end. */
export interface Taper {
  readonly largeMm: number;
  readonly smallMm: number;
  readonly lengthMm: number;
}

/** "cantilever": held at the large end, load at the small one. "simple": resting on both ends, load at mid-span. */
export type Support = "cantilever" | "simple";

/**
 * Volume of a shaft that tapers evenly, mm³.
 *
 *   V = π·L·(D² + D·d + d²)/12        D, d end diameters and L length, mm
 *
 * The trap: a shaft with a straight length or a hollow taper is several such pieces; add them. Fittings are not in it.
 * Error: 0.1 mm on both diameters of a 29 to 9.5 mm shaft is 1.0 % of the volume.
 * Range: smallMm at most largeMm; a stick that does not taper is a cylinder.
 * Source: the frustum of a cone.
 * Checked: tests/reference/wood-taper.test.ts
 *
 * @throws RangeError unless all are positive and smallMm at most largeMm
 * @example taperVolume({largeMm: 29, smallMm: 9.5, lengthMm: 1470}) // 464412
 */
export function taperVolume({largeMm, smallMm, lengthMm}: Taper): number {
  checkTaper({largeMm, smallMm, lengthMm}, "taperVolume");
  return (Math.PI * lengthMm * (largeMm ** 2 + largeMm * smallMm + smallMm ** 2)) / 12;
}

/**
 * Diameter of a shaft that tapers evenly, at a distance from its large end, mm.
 *
 *   d(x) = D − (D − d)·x/L
 *
 * Range: x from 0 to L. Source: the straight line. Checked: tests/wood/taper.test.ts, by hand
 *
 * @throws RangeError unless the shaft is one and fromLargeMm lies on it
 * @example taperDiameter({largeMm: 29, smallMm: 9.5, lengthMm: 1470}, 1300) // 11.76
 */
export function taperDiameter(taper: Taper, fromLargeMm: number): number {
  checkTaper(taper, "taperDiameter");
  const {largeMm, smallMm, lengthMm} = taper;
  const isOn = fromLargeMm >= 0 && fromLargeMm <= lengthMm;
  check(isOn, "taperDiameter: fromLargeMm", `from 0 to lengthMm (${lengthMm})`, fromLargeMm);
  return largeMm - ((largeMm - smallMm) * fromLargeMm) / lengthMm;
}

/**
 * A part of a shaft that tapers evenly, as a taper of its own: what lies free in a bending test that does not take the whole shaft.
 *
 * Range: the part lies on the shaft. Checked: tests/reference/wood-taper.test.ts, the bend of a part against numeric integration along the whole
 *
 * @throws RangeError unless the shaft is one and the part lies on it
 * @example taperPart({largeMm: 29, smallMm: 9.5, lengthMm: 1470}, {fromLargeMm: 100, lengthMm: 1200}) // 27.67 to 11.76 mm
 */
export function taperPart(taper: Taper, {fromLargeMm, lengthMm}: {fromLargeMm: number; lengthMm: number}): Taper {
  const largeMm = taperDiameter(taper, fromLargeMm);
  return {largeMm, smallMm: taperDiameter(taper, fromLargeMm + lengthMm), lengthMm};
}

/**
 * How far a tapered shaft bends under a load, at the load, mm.
 *
 *   cantilever   δ = P·L³/(3·E·I) · D/d            I = π·D⁴/64
 *   simple       δ = 4·P·L³/(3·π·E·m²·D·d)         m = (D + d)/2
 *
 * with P load, N; L free length, mm; D, d diameters at the ends of that length, mm; E modulus, MPa. Both are the integral
 * of M²/(P·E·I(x)) along the stick, in closed form.
 *
 * The trap: under a mid-span load the greatest bend lies a little towards the small end. E is the shear-free modulus; the
 * tables' values include shear at a span of 14 depths and are about 10 % lower (from memory).
 * Error: stiffness goes with d⁴: 0.1 mm on a 10 mm tip is 4 % of its EI. E of a stick is uncertain by 22 % of the mean of
 * its species, so only a measured E is worth ranking by.
 * Range: length at least 14 large diameters, where shear, left out here, adds 2 % (cantilever) or 7 % (simple) at E/G 16 (from
 * memory); bend at most a tenth of the length, where the straight-beam formula gives 1 % too much.
 * Source: Euler–Bernoulli beam; unit-load (Castigliano) integral.
 * Checked: tests/reference/wood-taper.test.ts, against numeric integration and the prismatic beams of any handbook
 *
 * @throws RangeError unless all are positive, smallMm at most largeMm, and within the range above
 * @example taperDeflection({loadN: 10, lengthMm: 1000, largeMm: 29, smallMm: 10, modulusMPa: 12000, support: "cantilever"}) // 23.2
 */
export function taperDeflection(bend: Taper & {loadN: number; modulusMPa: number; support: Support}): number {
  const {loadN, modulusMPa, lengthMm} = bend;
  check(loadN > 0 && loadN < Infinity, "taperDeflection: loadN", "positive", loadN);
  check(modulusMPa > 0 && modulusMPa < Infinity, "taperDeflection: modulusMPa", "positive", modulusMPa);
  const deflectionMm = (loadN * taperFlexibility(bend, "taperDeflection")) / modulusMPa;
  check(
    deflectionMm <= lengthMm / 10,
    "taperDeflection: the bend",
    `at most a tenth of the length (${lengthMm / 10} mm)`,
    deflectionMm
  );
  return deflectionMm;
}

/**
 * Deflection times modulus for a load of 1 N, 1/mm: what the shape alone says of a shaft's bend. Formulas, range, source and
 * check as taperDeflection; `needing` is the function that the error sentence names.
 *
 * @throws RangeError unless the shape is within the range of taperDeflection
 * @example taperFlexibility({lengthMm: 1000, largeMm: 29, smallMm: 10, support: "cantilever"}, "mine") // 27843
 */
export function taperFlexibility(shape: Taper & {support: Support}, needing: string): number {
  const {largeMm: D, smallMm: d, lengthMm: L, support} = shape;
  checkTaper(shape, needing);
  check(L >= 14 * D, `${needing}: lengthMm`, `at least 14 large diameters (${14 * D})`, L);
  const isSupport = support === "cantilever" || support === "simple";
  check(isSupport, `${needing}: support`, "one of cantilever, simple", support);
  if (support === "cantilever") return (64 * L ** 3) / (3 * Math.PI * D ** 3 * d);
  return (4 * L ** 3) / (3 * Math.PI * ((D + d) / 2) ** 2 * D * d);
}

function checkTaper({largeMm, smallMm, lengthMm}: Taper, needing: string): void {
  check(largeMm > 0 && largeMm < Infinity, `${needing}: largeMm`, "positive", largeMm);
  check(smallMm > 0 && smallMm <= largeMm, `${needing}: smallMm`, `positive and at most largeMm (${largeMm})`, smallMm);
  check(lengthMm > 0 && lengthMm < Infinity, `${needing}: lengthMm`, "positive", lengthMm);
}
