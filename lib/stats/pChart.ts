import chiSquareCdf from "@stdlib/stats-base-dists-chisquare-cdf";
import {check} from "../check.ts";
import {checkCounts} from "./interval.ts";
import {sum} from "./numbers.ts";

/** One period of the chart. */
export interface Inspected {
  defective: number;
  inspected: number;
}

export interface ChartPoint {
  fraction: number;
  /** Control limits of that period, cut at 0 and 1. */
  low: number;
  high: number;
  outside: boolean;
}

export interface PChart {
  /** Defective ÷ inspected over all periods. */
  pBar: number;
  /** How much wider than chance the fractions scatter; absent below 2 periods and for pBar 0 or 1. */
  sigmaZ?: number;
  /** Test that all periods share one rate: large and with a small p when they do not. */
  dispersion?: {chiSquare: number; df: number; p: number};
  points: ChartPoint[];
}

/**
 * Control chart of a share, period by period, as fractions of 1 (p-chart).
 *
 *   limits = p̄ ∓ 3·σz·√( p̄(1 − p̄)/nᵢ )        cut at 0 and 1
 *   σz = 1 without `laney`; with it max(1, mean |zᵢ − zᵢ₋₁| / 1.128), zᵢ = (pᵢ − p̄)/√( p̄(1 − p̄)/nᵢ )
 *
 * Laney's factor widens the limits when periods differ by more than chance, as whole lots do. A factor below 1 would
 * narrow them on the strength of a few calm months; it is reported but not used. 1.128 is d₂ of two, as tables print
 * it.
 *
 * Source: NIST/SEMATECH e-Handbook 6.3.3.2; Laney (2002), Quality Engineering 14:531–537.
 * Checked: tests/reference/pChart.test.ts, against the NIST wafer example, a published σz and R.
 *
 * @param rows periods in order of time
 * @throws RangeError without rows, and unless 0 ≤ defective ≤ inspected, both whole, and inspected ≥ 1
 */
export function pChart(rows: readonly Inspected[], {laney = false} = {}): PChart {
  check(rows.length > 0, "pChart: rows", "at least one period", rows.length);
  for (const {defective, inspected} of rows) {
    check(inspected > 0, "pChart: inspected", "1 or more", inspected);
    checkCounts(defective, inspected, "pChart", ["defective", "inspected"]);
  }
  const pBar = sum(rows.map((row) => row.defective)) / sum(rows.map((row) => row.inspected));
  const sigmas = rows.map((row) => Math.sqrt((pBar * (1 - pBar)) / row.inspected));
  const spread = pBar > 0 && pBar < 1 && rows.length > 1 ? scatter(rows, pBar, sigmas) : undefined;
  const factor = laney ? Math.max(1, spread?.sigmaZ ?? 1) : 1;
  const points = rows.map(({defective, inspected}, i) => {
    const fraction = defective / inspected;
    const low = Math.max(0, pBar - 3 * factor * sigmas[i]!);
    const high = Math.min(1, pBar + 3 * factor * sigmas[i]!);
    return {fraction, low, high, outside: fraction < low || fraction > high};
  });
  return {pBar, ...spread, points};
}

function scatter(rows: readonly Inspected[], pBar: number, sigmas: readonly number[]) {
  const z = rows.map(({defective, inspected}, i) => (defective / inspected - pBar) / sigmas[i]!);
  const ranges = z.slice(1).map((value, i) => Math.abs(value - z[i]!));
  const chiSquare = sum(z.map((value) => value ** 2));
  const df = rows.length - 1;
  return {
    sigmaZ: sum(ranges) / ranges.length / 1.128,
    dispersion: {chiSquare, df, p: 1 - chiSquareCdf(chiSquare, df)}
  };
}
