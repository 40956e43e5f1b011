import {shown, type Unit} from "../../lib/report/quantity.ts";

/**
 * The extremes of named values in words, for who cannot see a drawing; values that are not known are not counted.
 *
 * @example extremes([{name: "ash", value: 0.7}, {name: "maple", value: 0.9}], "fraction")
 * // "Lowest: ash with 70.0 %; highest: maple with 90.0 %; 2 in all."
 */
export function extremes(
  values: readonly {name: string; value: number | undefined}[],
  unit: Unit,
  {currency = ""} = {}
): string {
  const known = values.filter(({value}) => value !== undefined).toSorted((a, b) => a.value! - b.value!);
  const said = ({name, value}: (typeof known)[number]) => `${name} with ${shown(value, unit, {currency})}`;
  const [low, high] = [known[0], known.at(-1)];
  return low && high ? `Lowest: ${said(low)}; highest: ${said(high)}; ${known.length} in all.` : "No data yet.";
}
