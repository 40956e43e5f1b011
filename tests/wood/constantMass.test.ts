import fc from "fast-check";
import {expect, test} from "vitest";
import {constantMass, constantMassRules} from "../../lib/wood/constantMass.ts";

const week = {earlierMassG: 1680, laterMassG: 1679, hoursApart: 168, scaleG: 1};

test("constantMass after a week and 1 g of 1680 is steady", () => {
  expect(constantMass(week)).toEqual({steady: true, waited: true, lostG: 1, limitG: 2});
});

test("constantMass after six days is not: the wait is part of the rule", () => {
  expect(constantMass({...week, hoursApart: 144})).toEqual({steady: false, waited: false, lostG: 1, limitG: 2});
});

test("with a finer scale 0.1 % of the mass is the limit", () => {
  const {steady, limitG} = constantMass({...week, laterMassG: 1678.2, scaleG: 0.1});
  expect(limitG).toBeCloseTo(1.68, 12);
  expect(steady).toBe(false);
});

test("a piece that gains is not steady either", () => {
  expect(constantMass({...week, laterMassG: 1690}).steady).toBe(false);
});

test("a loss of exactly the limit counts where the rule says at most, not where it says less", () => {
  const exact = {earlierMassG: 1000, laterMassG: 999, hoursApart: 24, scaleG: 0.01};
  expect(constantMass({...exact, rule: "en408"}).steady).toBe(true);
  expect(constantMass({...exact, rule: "en13183"}).steady).toBe(false);
});

test("a workshop's own rule counts as it is given: 2 g in three days on a scale of 0.5 g", () => {
  const rule = {hours: 72, limitFraction: 0.0005, scaleSteps: 4, inclusive: true, source: "made up"};
  const own = {earlierMassG: 1680, laterMassG: 1678, hoursApart: 72, scaleG: 0.5, rule};
  expect(constantMass(own)).toEqual({steady: true, waited: true, lostG: 2, limitG: 2});
  expect(constantMass({...own, hoursApart: 71}).steady).toBe(false);
  expect(constantMass({...own, laterMassG: 1677}).steady).toBe(false);
});

test("a smaller change is never less steady, under any rule", () => {
  const rule = fc.constantFrom(...(Object.keys(constantMassRules) as (keyof typeof constantMassRules)[]));
  const loss = fc.double({min: 0, max: 20, noNaN: true});
  fc.assert(
    fc.property(rule, loss, fc.double({min: 0, max: 1, noNaN: true}), (of, lostG, part) => {
      const big = constantMass({...week, laterMassG: 1680 - lostG, rule: of});
      const small = constantMass({...week, laterMassG: 1680 - lostG * part, rule: of});
      if (big.steady) expect(small.steady).toBe(true);
    })
  );
});

const names = Object.keys(constantMassRules).join(", ");
test.each<[string, () => unknown, string]>([
  [
    "no first mass",
    () => constantMass({...week, earlierMassG: 0}),
    "constantMass: earlierMassG must be positive, got 0."
  ],
  [
    "no second mass",
    () => constantMass({...week, laterMassG: NaN}),
    "constantMass: laterMassG must be positive, got NaN."
  ],
  [
    "time run backwards",
    () => constantMass({...week, hoursApart: -1}),
    "constantMass: hoursApart must be 0 or more, got -1."
  ],
  ["a perfect scale", () => constantMass({...week, scaleG: 0}), "constantMass: scaleG must be positive, got 0."],
  [
    "a rule with a limit below nothing",
    () => constantMass({...week, rule: {hours: 1, limitFraction: -1, scaleSteps: 0, inclusive: true, source: ""}}),
    "constantMass: rule.limitFraction must be 0 or more, got -1."
  ],
  [
    "another rule",
    () => constantMass({...week, rule: "mine" as "shop"}),
    `constantMass: rule must be one of ${names}, got "mine".`
  ]
])("refuses %s", (_, call, message) => expect(call).toThrow(new RangeError(message)));
