import {check} from "../check.ts";

/** One rule by which a mass counts as constant. */
export interface ConstantMassRule {
  /** Least time between the two weighings, hours. */
  readonly hours: number;
  /** Greatest change, as a share of the mass. */
  readonly limitFraction: number;
  /** Greatest change in steps of the scale, where that is more. */
  readonly scaleSteps: number;
  /** Whether a change of exactly the limit still counts. */
  readonly inclusive: boolean;
  readonly source: string;
}

/** Laboratory rules, and the one meant for whole squares in a room. Values of the standards from memory, NF B51-005 read. */
export const constantMassRules = {
  shop: {
    hours: 168,
    limitFraction: 0.001,
    scaleSteps: 2,
    inclusive: true,
    source: "this project's own shop rule; common practice, no source"
  },
  en13183: {hours: 2, limitFraction: 0.001, scaleSteps: 0, inclusive: false, source: "EN 13183-1:2002, oven at 103 °C"},
  en408: {hours: 6, limitFraction: 0.001, scaleSteps: 0, inclusive: true, source: "EN 408 and EN 322, conditioning"},
  nfB51005: {hours: 4, limitFraction: 0.005, scaleSteps: 0, inclusive: false, source: "NF B51-005, 20 mm cubes"},
  astmD4442: {hours: 3, limitFraction: 0, scaleSteps: 2, inclusive: true, source: "ASTM D4442, oven end point"}
} as const satisfies Record<string, ConstantMassRule>;

/**
 * Whether a piece has come to rest, by two weighings: the mass lost between them and the most it may be, g.
 *
 *   steady when the wait is served and |m₁ − m₂| ≤ limit        limit = max(share · m₁, steps · scale step)
 *
 * The trap: the laboratory rules are for small specimens in moving air. A 40 mm square of 1.5 m dries from its core for
 * months; after a few hours it always looks steady. The shop rule (a week, 0.1 % or two steps of the scale) is this
 * project's own. Steady in damp air is not dry: compare equilibriumMoisture. Wood turned off between weighings is not water.
 * Error: with a 1 g scale 0.1 % of 1680 g is 1.7 g, and two readings are already ±1.4 g.
 * Source: each rule's own, in constantMassRules.
 * Checked: tests/reference/wood-moisture.test.ts
 *
 * @throws RangeError unless masses and scaleG are positive, hoursApart and the numbers of the rule 0 or more
 * @example constantMass({earlierMassG: 1680, laterMassG: 1678.5, hoursApart: 168, scaleG: 1}).steady // true
 */
export function constantMass(weighings: {
  earlierMassG: number;
  laterMassG: number;
  hoursApart: number;
  /** Smallest step the scale shows. */
  scaleG: number;
  /** A stored rule by its name, or the workshop's own. */
  rule?: keyof typeof constantMassRules | ConstantMassRule;
}): {steady: boolean; waited: boolean; lostG: number; limitG: number} {
  const {earlierMassG, laterMassG, hoursApart, scaleG, rule = "shop"} = weighings;
  check(earlierMassG > 0 && earlierMassG < Infinity, "constantMass: earlierMassG", "positive", earlierMassG);
  check(laterMassG > 0 && laterMassG < Infinity, "constantMass: laterMassG", "positive", laterMassG);
  check(hoursApart >= 0 && hoursApart < Infinity, "constantMass: hoursApart", "0 or more", hoursApart);
  check(scaleG > 0 && scaleG < Infinity, "constantMass: scaleG", "positive", scaleG);
  const {hours, limitFraction, scaleSteps, inclusive} = typeof rule === "string" ? stored(rule) : rule;
  for (const [name, value] of Object.entries({hours, limitFraction, scaleSteps}))
    check(value >= 0 && value < Infinity, `constantMass: rule.${name}`, "0 or more", value);
  const lostG = earlierMassG - laterMassG;
  const limitG = Math.max(limitFraction * earlierMassG, scaleSteps * scaleG);
  const waited = hoursApart >= hours;
  const within = inclusive ? Math.abs(lostG) <= limitG : Math.abs(lostG) < limitG;
  return {steady: waited && within, waited, lostG, limitG};
}

function stored(rule: keyof typeof constantMassRules): ConstantMassRule {
  const names = Object.keys(constantMassRules);
  check(names.includes(rule), "constantMass: rule", `one of ${names.join(", ")}`, rule);
  return constantMassRules[rule];
}
