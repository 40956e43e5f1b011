import {expect, test} from "vitest";
import {aalenJohansen, survivalAt} from "../../lib/stats/aalenJohansen.ts";
import {riskSets, type Spell} from "../../lib/stats/eventTable.ts";
import {kaplanMeier} from "../../lib/stats/kaplanMeier.ts";
import {kaplanMeierAt} from "../../lib/stats/kaplanMeierAt.ts";
import {kaplanMeierQuantile} from "../../lib/stats/kaplanMeierQuantile.ts";
import {logRank} from "../../lib/stats/logRank.ts";
import {restrictedMean} from "../../lib/stats/restrictedMean.ts";
import {expectClose} from "./close.ts";
import {expectSurvival} from "./expectSurvival.ts";

/** Times with status 1 = event, 0 = censored. */
const spells = (times: number[], status: number[]): Spell[] =>
  times.map((exit, i) => (status[i] === 1 ? {exit, cause: "event"} : {exit}));

// Freireich 6-MP arm, 21 patients.
// Published (read): Freireich et al. 1963; Cox & Oakes 1984 Table 4.1 (S to 4 dp); Klein & Moeschberger 2003 Table
// 4.1B (Greenwood SE to 3 dp); R survfit intervals to 7 dp quoted in a stored test file; read in a stored test file
// that quotes it.
// R: survfit(Surv(time,status)~1, conf.type=c('plain','log','log-log'), timefix=FALSE); greenwoodSE = std.err*surv;
// nelsonAalen = cumhaz.
// Tolerance 1e-08 relative.
const freireich = {
  input: {
    time: [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35],
    status: [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0]
  },
  expected: {
    time: [6, 7, 10, 13, 16, 22, 23],
    atRisk: [21, 17, 15, 12, 11, 7, 6],
    events: [3, 1, 1, 1, 1, 1, 1],
    survival: [
      0.857142857143, 0.806722689076, 0.752941176471, 0.690196078431, 0.627450980392, 0.53781512605, 0.448179271709
    ],
    greenwoodSE: [
      0.0763603548321, 0.0869352851801, 0.0963496529943, 0.106814707775, 0.114053865257, 0.128233751693, 0.134591456756
    ],
    plain: {
      lower: [
        0.707479311825, 0.636332661137, 0.564099326679, 0.480843098173, 0.403909512191, 0.28648159113, 0.184384863841
      ],
      upper: [1, 0.977112717014, 0.941783026262, 0.89954905869, 0.850992448593, 0.789148660971, 0.711973679577]
    },
    log: {
      lower: [
        0.719817083916, 0.653124218462, 0.58591898203, 0.509613099102, 0.439393924969, 0.337036616158, 0.248788226818
      ],
      upper: [1, 0.996443675909, 0.967574754552, 0.934769195536, 0.895994938535, 0.858200848045, 0.807372045529]
    },
    nelsonAalen: [
      0.142857142857, 0.201680672269, 0.268347338936, 0.351680672269, 0.442589763178, 0.585446906035, 0.752113572702
    ],
    loglog: {
      lower: [
        0.619717955266, 0.563146564622, 0.5031995108, 0.431610222486, 0.367510855988, 0.267778936767, 0.188052005959
      ],
      upper: [
        0.951551747647, 0.922809019203, 0.889361835169, 0.849065963349, 0.804912189472, 0.746790717635, 0.680142628495
      ]
    },
    q25: 13,
    median: 23,
    rmst35: 23.287394958,
    rmst35SE: 2.82746762337
  }
};

const sixMp = spells(freireich.input.time, freireich.input.status);

test("kaplanMeier, nelsonAalen and riskSets of the 6-MP arm agree with R", () => {
  expectSurvival(sixMp, freireich.expected, 1e-8);
  expectClose(riskSets(sixMp, freireich.expected.time), freireich.expected.atRisk, 0);
});

// Published (read), as above: S by Cox and Oakes (4 decimals), standard errors by Klein and Moeschberger (3
// decimals), limits as printed by R survfit (7 decimals). Tolerance: one unit of the last printed digit, as some were
// cut and not rounded.
test("kaplanMeier of the 6-MP arm agrees with the printed tables", () => {
  const rows = kaplanMeier(sixMp);
  const printed = {
    survival: [0.8571, 0.8067, 0.7529, 0.6902, 0.6275, 0.5378, 0.4482],
    se: [0.076, 0.087, 0.096, 0.107, 0.114, 0.128, 0.135],
    low: [0.619718, 0.5631466, 0.5031995, 0.4316102, 0.3675109, 0.2677789, 0.188052],
    high: [0.9515517, 0.922809, 0.8893618, 0.849066, 0.8049122, 0.7467907, 0.6801426]
  };
  rows.forEach((row, i) => {
    expect(Math.abs(row.survival - printed.survival[i]!)).toBeLessThanOrEqual(1e-4);
    expect(Math.abs(row.se! - printed.se[i]!)).toBeLessThanOrEqual(1e-3);
    expect(Math.abs(row.low! - printed.low[i]!)).toBeLessThanOrEqual(1e-7);
    expect(Math.abs(row.high! - printed.high[i]!)).toBeLessThanOrEqual(1e-7);
  });
});

test("quartile, median and restricted mean of the 6-MP arm agree with R", () => {
  expectClose(kaplanMeierQuantile(sixMp, 0.25), freireich.expected.q25, 0);
  expectClose(kaplanMeierQuantile(sixMp, 0.5), freireich.expected.median, 0);
  expectClose(restrictedMean(sixMp, 35)!.mean, freireich.expected.rmst35, 1e-8);
  expectClose(restrictedMean(sixMp, 35)!.se, freireich.expected.rmst35SE, 1e-8);
});

// Check km.step-eval: value of the 6-MP curve between, at, before and after event times.
// Published: none; R only.
// R: summary(survfit(...),times=). Tolerance 1e-08 relative.
const steps = {
  input: {ref: "km.freireich-6mp", at: [0, 5.999, 6, 6.5, 21.9, 22, 35, 40]},
  expected: {survival: [1, 1, 0.857142857143, 0.857142857143, 0.627450980392, 0.53781512605, 0.448179271709]}
};

test("kaplanMeierAt and survivalAt are R's between, at and before events; kaplanMeierAt knows nothing beyond the last", () => {
  expectClose(kaplanMeierAt(sixMp, steps.input.at), [...steps.expected.survival, undefined], 1e-8);
  const curve = aalenJohansen(sixMp);
  expectClose(
    steps.input.at.slice(0, 7).map((t) => survivalAt(curve, t)),
    steps.expected.survival,
    1e-8
  );
});

// Check km.falls-to-zero: largest time is an event: S=0, Greenwood SE undefined there.
// Published: none; R only.
// R: survfit(Surv(time,status)~1, conf.type=c('plain','log','log-log'), timefix=FALSE); greenwoodSE = std.err*surv;
// nelsonAalen = cumhaz.
// Tolerance 1e-08 relative.
const toZero = {
  input: {time: [3, 5, 5, 8, 11, 11, 14], status: [1, 0, 1, 1, 0, 1, 1]},
  expected: {
    time: [3, 5, 8, 11, 14],
    atRisk: [7, 6, 4, 3, 1],
    events: [1, 1, 1, 1, 1],
    survival: [0.857142857143, 0.714285714286, 0.535714285714, 0.357142857143, 0],
    greenwoodSE: [0.132260014253, 0.170746944191, 0.200786536491, 0.197930252462, undefined],
    plain: {
      lower: [0.597917992612, 0.379627853202, 0.142179905611, 0, undefined],
      upper: [1, 1, 0.929248665818, 0.745079023419, undefined]
    },
    log: {
      lower: [0.633446529012, 0.447090947928, 0.256981336178, 0.120531917844, undefined],
      upper: [1, 1, 1, 1, undefined]
    },
    nelsonAalen: [0.142857142857, 0.309523809524, 0.559523809524, 0.892857142857, 1.89285714286],
    loglog: {
      lower: [0.334053879292, 0.258153665459, 0.131988176963, 0.0519765194575, undefined],
      upper: [0.978561058526, 0.919797456045, 0.82499704204, 0.698713031985, undefined]
    }
  }
};

test("kaplanMeier agrees with R, and gives no standard error and no limits where the curve is 0", () => {
  expectSurvival(spells(toZero.input.time, toZero.input.status), toZero.expected, 1e-8);
});

// Check km.median-flat: median when S hits 0.5 exactly.
// Published: none; R only.
// R: quantile(survfit(Surv(1:4,1)~1),.5): midpoint of the flat part where S = 0.5. Tolerance 1e-09 relative.
test("kaplanMeierQuantile takes the middle of a flat part, as R does", () => {
  expect(kaplanMeierQuantile(spells([1, 2, 3, 4], [1, 1, 1, 1]), 0.5)).toBe(2.5);
});

// R 4.2.2, survival 3.5-3: quantile(survfit(Surv(c(1,2,3,9),c(1,1,0,0))~1), .5)$quantile is 5.5, the flat part ending
// at the last observation; quantile(survfit(Surv(1:4,c(1,0,0,0))~1), .5)$quantile is NA.
test("kaplanMeierQuantile ends a flat part at the last observation, and is undefined when half is not reached", () => {
  expect(kaplanMeierQuantile(spells([1, 2, 3, 9], [1, 1, 0, 0]), 0.5)).toBe(5.5);
  expect(kaplanMeierQuantile(spells([1, 2, 3, 4], [1, 0, 0, 0]), 0.5)).toBeUndefined();
});

// Check km.freireich-logrank: log-rank, 6-MP vs placebo (optional: equal time-to-discard between suppliers).
// Published (memory): log-rank chi-square 16.79, Kleinbaum & Klein.
// R: survdiff(Surv(time,cens)~treat, MASS::gehan). Tolerance 1e-08 relative.
const twoArms = {
  input: {
    time6mp: [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35],
    status6mp: [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0],
    timePlacebo: [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23],
    statusPlacebo: [1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]
  },
  expected: {
    chisq: 16.7929409892,
    df: 1,
    p: 4.16880910933e-5,
    observed: [9, 21],
    expected: [19.250500948, 10.749499052]
  }
};

test("logRank of 6-MP against placebo agrees with R and with the 16.79 of the textbook", () => {
  const {input, expected} = twoArms;
  const placebo = spells(input.timePlacebo, input.statusPlacebo);
  const got = logRank([spells(input.time6mp, input.status6mp), placebo])!;
  expectClose(got.chiSquare, expected.chisq, 1e-8);
  expect(got.chiSquare).toBeCloseTo(16.79, 2);
  expect(got.df).toBe(1);
  expectClose(got.p, expected.p, 1e-8);
  expectClose(got.observed, expected.observed, 0);
  expectClose(got.expected, expected.expected, 1e-8);
});
