import type {DiscardRate} from "../../lib/defects/discardRates.ts";
import {differenceInterval} from "../../lib/stats/differenceInterval.ts";

/** What the pages call lately: the last half year, in days. */
export const recentDays = 182;

/** Whether one rate is higher than another by more than the doubt about both: the 95 % interval of the difference lies above 0. */
export function clearlyMore(recent: DiscardRate, before: DiscardRate): boolean {
  const [a, b] = [estimated(recent), estimated(before)];
  return a !== undefined && b !== undefined && differenceInterval(a, b).low > 0;
}

function estimated({per100: value, per100Low: low, per100High: high}: DiscardRate) {
  return low === undefined || high === undefined ? undefined : {value, low, high};
}
