/**
 * What other people's units are in ours. Exact by definition, from the international yard and pound of 1959 (from memory;
 * NIST SP 811), or quotients of such.
 *
 * Traps: a board foot is 144 cubic inches of *nominal* green thickness in the trade's tallies (4/4, 8/4), so planed stock
 * holds less. The hoppus foot is a log rule: 4/π true cubic feet; never apply it to sawn squares.
 *
 * Checked: tests/wood/units.test.ts
 * @example 1.5 * mmPerInch // 38.1
 */

/** 1 inch, mm. */
export const mmPerInch = 25.4;
/** 1 foot, 12 inches, mm. */
export const mmPerFoot = 304.8;
/** 1 pound (avoirdupois), g. */
export const gPerPound = 453.59237;
/** 1 ounce (avoirdupois), a sixteenth of a pound, g. */
export const gPerOunce = 28.349523125;
/** 1 cubic foot, mm³: 28.3 litres. */
export const mm3PerCubicFoot = mmPerFoot ** 3;
/** 1 board foot, 12 × 12 × 1 inch, mm³: 2.36 litres. */
export const mm3PerBoardFoot = 144 * mmPerInch ** 3;
/** 1 hoppus foot of round log, as true volume, mm³. */
export const mm3PerHoppusFoot = (4 / Math.PI) * mm3PerCubicFoot;
/** 1 lb/ft³, kg/m³: about 16.018. */
export const kgM3PerPoundPerCubicFoot = (1e6 * gPerPound) / mm3PerCubicFoot;
/** 1 psi, MPa: a pound-force (standard gravity, 9.80665 m/s²) on a square inch. */
export const mpaPerPsi = ((gPerPound / 1000) * 9.80665) / mmPerInch ** 2;
