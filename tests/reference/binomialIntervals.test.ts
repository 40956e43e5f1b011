import {expect, test} from "vitest";
import {clopperPearson} from "../../lib/stats/clopperPearson.ts";
import {normalFactor} from "../../lib/stats/interval.ts";
import {jeffreys} from "../../lib/stats/jeffreys.ts";
import {rolledYield} from "../../lib/stats/rolledYield.ts";
import {wilson} from "../../lib/stats/wilson.ts";
import {expectClose} from "./close.ts";

const limits = (interval: {low: number; high: number} | undefined) => [interval?.low, interval?.high];

// Checks binom.newcombe-81-263 and binom.newcombe-0-20.
// Published (read): Newcombe (1998), Statist. Med. 17:857–872, table I, method 3 (Wilson), in stored test files that
// quote it. 81/263 and 0/20 printed there to 4 decimals. Tolerance: half a unit of the last printed digit.
// Method 5 (Clopper–Pearson) from memory: 0.2527 to 0.3676, and 0.0000 to 0.1684; for information, R below is the
// ground.
test("wilson agrees with the printed limits of Newcombe's table I", () => {
  expect(wilson(81, 263)!.low).toBeCloseTo(0.2553, 4);
  expect(wilson(81, 263)!.high).toBeCloseTo(0.3662, 4);
  expect(wilson(0, 20)!.low).toBe(0);
  expect(wilson(0, 20)!.high).toBeCloseTo(0.1611, 4);
  expect(clopperPearson(81, 263)!.low).toBeCloseTo(0.2527, 4);
  expect(clopperPearson(0, 20)!.high).toBeCloseTo(0.1684, 4);
});

// Check binom.camis-36-154.
// Published (read): SAS 9.4 PROC FREQ BINOMIAL output for 36 of 154, in PSIAIMS/CAMIS,
// images/ci_for_prop/binomial_prop_all_act.png at 74a06c1. Four printed decimals.
test("wilson and jeffreys agree with a SAS listing for 36 of 154", () => {
  expectClose(
    limits(wilson(36, 154)).map((x) => Math.round(x! * 1e4)),
    [1739, 3066],
    0
  );
  expectClose(
    limits(jeffreys(36, 154)).map((x) => Math.round(x! * 1e4)),
    [1723, 3051],
    0
  );
});

// Checks binom.newcombe-81-263, binom.newcombe-0-20, binom.camis-36-154, binom.edge-20-20, binom.ninety-7-9,
// binom.large-1184-1246, binom.eighty-3-47. Published (read): Newcombe and SAS, above; the other four R only.
// R 4.2.2: prop.test(x, n, conf.level, correct = FALSE)$conf.int [Wilson]; binom.test(x, n, conf.level)$conf.int
// [Clopper–Pearson]; qbeta(c(a, 1 - a), x + .5, n - x + .5) with limit 0 at x = 0 and 1 at x = n [Jeffreys]; p -+
// z*sqrt(p(1-p)/m), m = n + z^2, p = (x + z^2/2)/m [Agresti–Coull, may leave 0 and 1]. Tolerance 1e-8 relative.
const cases = [
  {
    id: "binom.newcombe-81-263", // published: Newcombe (read), above
    x: 81,
    n: 263,
    conf: 0.95,
    estimate: 0.307984790875,
    wilson: [0.255288519878, 0.366209576983],
    clopperPearson: [0.252736745585, 0.367621922601],
    jeffreys: [0.254521934991, 0.365647499174],
    agrestiCoull: [0.25522066519, 0.366277431671]
  },
  {
    id: "binom.newcombe-0-20", // published: Newcombe (read), above
    x: 0,
    n: 20,
    conf: 0.95,
    estimate: 0,
    wilson: [0, 0.161125158053],
    clopperPearson: [0, 0.168433470983],
    jeffreys: [0, 0.116638982905],
    agrestiCoull: [-0.0286844024897, 0.189809560542]
  },
  {
    id: "binom.camis-36-154", // published: SAS (read), above
    x: 36,
    n: 154,
    conf: 0.95,
    estimate: 0.233766233766,
    wilson: [0.173903410558, 0.306587959627],
    clopperPearson: [0.169415341263, 0.308648971013],
    jeffreys: [0.172282305555, 0.305148350178],
    agrestiCoull: [0.173595411922, 0.306895958262]
  },
  {
    id: "binom.edge-20-20", // R only
    x: 20,
    n: 20,
    conf: 0.95,
    estimate: 1,
    wilson: [0.838874841947, 1],
    clopperPearson: [0.831566529017, 1],
    jeffreys: [0.883361017095, 1],
    agrestiCoull: [0.810190439458, 1.02868440249]
  },
  {
    id: "binom.ninety-7-9", // R only
    x: 7,
    n: 9,
    conf: 0.9,
    estimate: 0.777777777778,
    wilson: [0.503642782377, 0.923505262446],
    clopperPearson: [0.450358350493, 0.958976832493],
    jeffreys: [0.508363034853, 0.932688386431],
    agrestiCoull: [0.496225253991, 0.930922790831]
  },
  {
    id: "binom.large-1184-1246", // R only
    x: 1184,
    n: 1246,
    conf: 0.99,
    estimate: 0.950240770465,
    wilson: [0.931851738926, 0.963860174453],
    clopperPearson: [0.932171803331, 0.964762488998],
    jeffreys: [0.932631683734, 0.964423100031],
    agrestiCoull: [0.931675962915, 0.964035950464]
  },
  {
    id: "binom.eighty-3-47", // R only
    x: 3,
    n: 47,
    conf: 0.8,
    estimate: 0.063829787234,
    wilson: [0.0312864050918, 0.125827109761],
    clopperPearson: [0.0236779303177, 0.136649098538],
    jeffreys: [0.0304973192404, 0.123135209856],
    agrestiCoull: [0.0291194542834, 0.127994060569]
  }
];

for (const {id, x, n, conf, ...want} of cases) {
  test(`wilson, clopperPearson and jeffreys agree with R: ${x} of ${n}, ${100 * conf} % (${id})`, () => {
    expectClose(rolledYield([{passed: x, decided: n}])!.fraction, want.estimate, 1e-8);
    expectClose(limits(wilson(x, n, {level: conf})), want.wilson, 1e-8);
    expectClose(limits(clopperPearson(x, n, {level: conf})), want.clopperPearson, 1e-8);
    expectClose(limits(jeffreys(x, n, {level: conf})), want.jeffreys, 1e-8);
  });

  // Agresti and Coull (1998), Amer. Statist. 52:119–126: p ± z√(p(1 − p)/(n + z²)) around the middle p of Wilson's
  // limits. The toolkit has no use for it, as it leaves [0, 1]; but its R values check that middle, and z.
  test(`the middle of wilson gives R's Agresti–Coull limits: ${x} of ${n}, ${100 * conf} % (${id})`, () => {
    const {low, high} = wilson(x, n, {level: conf})!;
    const [p, z] = [(low + high) / 2, normalFactor(conf, "test")];
    const half = z * Math.sqrt((p * (1 - p)) / (n + z ** 2));
    expectClose([p - half, p + half], want.agrestiCoull, 1e-8);
    if (id === "binom.camis-36-154") {
      expect([p - half, p + half].map((limit) => Math.round(limit * 1e4))).toEqual([1736, 3069]); // SAS, as above
    }
  });
}

test("limits at 0 of n and n of n are exactly 0 and 1", () => {
  for (const n of [1, 3, 7, 20, 1000]) {
    for (const interval of [wilson, clopperPearson, jeffreys]) {
      expect(interval(0, n)!.low).toBe(0);
      expect(interval(n, n)!.high).toBe(1);
    }
  }
});
