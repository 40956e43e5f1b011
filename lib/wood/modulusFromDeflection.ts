import {check} from "../check.ts";
import {type Support, type Taper, taperFlexibility} from "./taper.ts";

/**
 * Modulus of elasticity of one shaft, from how far it bends under a weight, MPa.
 *
 *   E = P · F / δ        P load, N; δ bend at the load, mm; F the shape's bend × modulus for 1 N, 1/mm, as in taperDeflection
 *
 * The trap: a weight of 1 kg is 9.81 N. Read the bend at the load, from the unloaded rest. The diameters are those at the
 * ends of the free length, not of the whole shaft.
 * Error: δE/E = √((δP/P)² + (δδ/δ)² + …), with 0.1 mm on a 20 mm diameter 2 % and on the length three times its own share.
 * Range: as taperDeflection.
 * Source: Euler–Bernoulli beam, taperDeflection turned round.
 * Checked: tests/wood/modulusFromDeflection.test.ts, by hand and there and back
 *
 * @throws RangeError unless all are positive, smallMm at most largeMm, and within the range of taperDeflection
 * @example modulusFromDeflection({loadN: 10, deflectionMm: 23.2, lengthMm: 1000, largeMm: 29, smallMm: 10, support: "cantilever"}) // 12001
 */
export function modulusFromDeflection(test: Taper & {loadN: number; deflectionMm: number; support: Support}): number {
  const {loadN, deflectionMm, lengthMm} = test;
  check(loadN > 0 && loadN < Infinity, "modulusFromDeflection: loadN", "positive", loadN);
  const flexibility = taperFlexibility(test, "modulusFromDeflection");
  check(
    deflectionMm > 0 && deflectionMm <= lengthMm / 10,
    "modulusFromDeflection: deflectionMm",
    `positive and at most a tenth of the length (${lengthMm / 10} mm)`,
    deflectionMm
  );
  return (loadN * flexibility) / deflectionMm;
}
