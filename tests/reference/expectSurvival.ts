import type {Spell} from "../../lib/stats/eventTable.ts";
import {kaplanMeier} from "../../lib/stats/kaplanMeier.ts";
import {nelsonAalen} from "../../lib/stats/nelsonAalen.ts";
import {expectClose, type Nested} from "./close.ts";

interface Limits {
  lower: (number | undefined)[];
  upper: (number | undefined)[];
}

/** What R's survfit says of a curve: $time, $n.risk, $n.event, $surv, $std.err·$surv, $lower and $upper, $cumhaz. */
export interface Survfit {
  time: number[];
  atRisk: number[];
  events: number[];
  survival: number[];
  greenwoodSE: (number | undefined)[];
  plain: Limits;
  log: Limits;
  loglog: Limits;
  nelsonAalen: number[];
}

/** Expects `kaplanMeier` on each scale of limits, and `nelsonAalen`, to be R's. Times and counts exactly. */
export function expectSurvival(spells: readonly Spell[], want: Survfit, relTol: number): void {
  const rows = kaplanMeier(spells);
  const column = (value: (row: (typeof rows)[number]) => Nested) => rows.map(value);
  expectClose(
    column((row) => [row.time, row.atRisk, row.events]),
    want.time.map((time, i) => [time, want.atRisk[i], want.events[i]]),
    0,
    "time, atRisk, events"
  );
  expectClose(
    column((row) => row.survival),
    want.survival,
    relTol,
    "survival"
  );
  expectClose(
    column((row) => row.se),
    want.greenwoodSE,
    relTol,
    "se"
  );
  for (const [limits, {lower, upper}] of [
    ["log-log", want.loglog],
    ["log", want.log],
    ["plain", want.plain]
  ] as const) {
    const drawn = kaplanMeier(spells, {limits});
    expectClose(
      drawn.map((row) => row.low),
      lower,
      relTol,
      `${limits} low`
    );
    expectClose(
      drawn.map((row) => row.high),
      upper,
      relTol,
      `${limits} high`
    );
  }
  expectClose(
    nelsonAalen(spells).map((row) => [row.time, row.cumulativeHazard]),
    want.time.map((time, i) => [time, want.nelsonAalen[i]]),
    relTol,
    "time, cumulativeHazard"
  );
}
