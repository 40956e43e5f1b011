/**
 * How much one clear stick of a species differs from the mean of its species: standard deviation over mean, as a fraction of
 * 1; SD/mean.
 *
 * The trap: the modulus varies twice as much as the density, so a stick's stiffness cannot be read off its weight: bend it.
 * Source: Wood Handbook, FPL-GTR-190 (2010), table 5-6 (from memory).
 * Checked: tests/reference/wood-species.test.ts, against modelled species spreads that were read
 */
export const clearWoodVariation = {specificGravity: 0.1, modulus: 0.22, rupture: 0.16} as const;
