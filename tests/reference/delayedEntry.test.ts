import {expect, test} from "vitest";
import type {Spell} from "../../lib/stats/eventTable.ts";
import {kaplanMeier} from "../../lib/stats/kaplanMeier.ts";
import {expectClose} from "./close.ts";
import {expectSurvival} from "./expectSurvival.ts";

/** Pieces seen from `entry` to `exit`; status 1 = event, 0 = censored. */
const spells = ({entry, exit, status}: {entry: number[]; exit: number[]; status: number[]}): Spell[] =>
  exit.map((last, i) => ({entry: entry[i]!, exit: last, ...(status[i] === 1 && {cause: "event"})}));

// Check delayed.simple1: left-truncated Kaplan-Meier, 8 pieces.
// Published (read): scikit-survival test 'left_truncated_simple1' (6 dp); read in github:sebp/scikit-survival
// tests/test_nonparametric.py at 0d71616.
// R: survfit(Surv(entry,exit,status)~1, conf.type=c('plain','log','log-log'), timefix=FALSE); cumhaz. Tolerance 1e-08
// relative.
const eight = {
  input: {entry: [4, 3, 4, 2, 1, 5, 6, 7], exit: [6, 7, 8, 10, 9, 9, 10, 11], status: [0, 1, 0, 0, 1, 1, 1, 0]},
  expected: {
    time: [7, 9, 10],
    atRisk: [6, 5, 3],
    events: [1, 2, 1],
    survival: [0.833333333333, 0.5, 0.333333333333],
    greenwoodSE: [0.152145154863, 0.204124145232, 0.19245008973],
    plain: {lower: [0.53513430938, 0.0999240269704, 0], upper: [1, 0.90007597303, 0.710528578025]},
    log: {lower: [0.582654795477, 0.224630347769, 0.107507139169], upper: [1, 1, 1]},
    nelsonAalen: [0.166666666667, 0.566666666667, 0.9],
    loglog: {
      lower: [0.273122849928, 0.110948260351, 0.046082243412],
      upper: [0.974712426691, 0.80370923685, 0.675564357969]
    }
  }
};

// Check delayed.simple2: left-truncated Kaplan-Meier, 9 pieces.
// Published (read): scikit-survival test 'left_truncated_simple2' (6 dp); read in github:sebp/scikit-survival
// tests/test_nonparametric.py at 0d71616.
// R: survfit(Surv(entry,exit,status)~1, conf.type=c('plain','log','log-log'), timefix=FALSE); cumhaz. Tolerance 1e-08
// relative.
const nine = {
  input: {
    entry: [1, 4, 3, 4, 2, 1, 5, 6, 7],
    exit: [4, 6, 7, 8, 10, 9, 9, 10, 11],
    status: [1, 0, 1, 0, 0, 1, 1, 1, 0]
  },
  expected: {
    time: [4, 7, 9, 10],
    atRisk: [4, 6, 5, 3],
    events: [1, 1, 2, 1],
    survival: [0.75, 0.625, 0.375, 0.25],
    greenwoodSE: [0.216506350946, 0.213478140957, 0.1875, 0.161374306092],
    plain: {lower: [0.325655349721, 0.206590532237, 0.00750675289874, 0], upper: [1, 1, 0.742493247101, 0.56628782797]},
    log: {
      lower: [0.425932268498, 0.319992161863, 0.14074419653, 0.0705491483031],
      upper: [1, 1, 0.999153098082, 0.885907222175]
    },
    nelsonAalen: [0.25, 0.416666666667, 0.816666666667, 1.15],
    loglog: {
      lower: [0.127946917595, 0.141853389932, 0.0696781681501, 0.0316500390837],
      upper: [0.960548642285, 0.893050604499, 0.696882304948, 0.573177152856]
    }
  }
};

// Check delayed.early-risk-set: stock-take started late: only 2 pieces at risk at the first event.
// Published: none; R only.
// R: survfit(Surv(entry,exit,status)~1, conf.type=c('plain','log','log-log'), timefix=FALSE); cumhaz; conditional
// curve: same with entry=pmax(entry,15) on pieces with exit>15. Tolerance 1e-08 relative.
const early = {
  input: {
    entry: [0, 0, 20, 25, 30, 30, 40, 45, 60, 60, 70, 75],
    exit: [10, 95, 60, 90, 80, 120, 120, 70, 130, 150, 140, 150],
    status: [1, 0, 1, 0, 1, 0, 1, 1, 0, 0, 1, 0]
  },
  expected: {
    time: [10, 60, 70, 80, 120, 140],
    atRisk: [2, 7, 8, 9, 6, 3],
    events: [1, 1, 1, 1, 1, 1],
    survival: [0.5, 0.428571428571, 0.375, 0.333333333333, 0.277777777778, 0.185185185185],
    greenwoodSE: [0.353553390593, 0.310177227624, 0.275992527073, 0.2484519975, 0.213164156171, 0.160967960622],
    plain: {lower: [0, 0, 0, 0, 0, 0], upper: [1, 1, 0.915935413065, 0.82029030032, 0.695571846667, 0.50067659067]},
    log: {
      lower: [0.12504882663, 0.103745380243, 0.0886265603702, 0.0773447026604, 0.0617295524043, 0.0337069057848],
      upper: [1, 1, 1, 1, 1, 1]
    },
    nelsonAalen: [0.5, 0.642857142857, 0.767857142857, 0.878968253968, 1.04563492063, 1.37896825397],
    loglog: {
      lower: [0.00598308763915, 0.0108914042133, 0.0139986317982, 0.0157198794961, 0.015851596551, 0.00974255999852],
      upper: [0.910410084837, 0.853134437528, 0.798226892021, 0.747790109072, 0.673075642967, 0.541140547608]
    },
    conditionalFrom15: {
      time: [60, 70, 80, 120, 140],
      survival: [0.857142857143, 0.75, 0.666666666667, 0.555555555556, 0.37037037037]
    }
  }
};

for (const [name, {input, expected}] of Object.entries({eight, nine, early})) {
  test(`kaplanMeier and nelsonAalen with delayed entry agree with R: ${name}`, () => {
    expectSurvival(spells(input), expected, 1e-8);
  });
}

// The six decimals printed in the scikit-survival tests named above.
test("kaplanMeier with delayed entry agrees with the published decimals", () => {
  const printed = {
    survival: [0.833333, 0.5, 0.333333],
    low: [0.273123, 0.110948, 0.046082],
    high: [0.974712, 0.803709, 0.675564]
  };
  kaplanMeier(spells(eight.input)).forEach((row, i) => {
    expect(row.survival).toBeCloseTo(printed.survival[i]!, 6);
    expect(row.low).toBeCloseTo(printed.low[i]!, 6);
    expect(row.high).toBeCloseTo(printed.high[i]!, 6);
  });
  expect(kaplanMeier(spells(nine.input)).map((row) => row.survival)).toEqual(
    [0.75, 0.625, 0.375, 0.25].map((share) => expect.closeTo(share, 6))
  );
});

test("a curve is started anew at day 15 by moving the entries there", () => {
  const later = spells(early.input).filter((spell) => spell.exit > 15);
  const rows = kaplanMeier(later.map((spell) => ({...spell, entry: Math.max(spell.entry!, 15)})));
  expectClose(
    rows.map((row) => row.time),
    early.expected.conditionalFrom15.time,
    0
  );
  expectClose(
    rows.map((row) => row.survival),
    early.expected.conditionalFrom15.survival,
    1e-8
  );
});
