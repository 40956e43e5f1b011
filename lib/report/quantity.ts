/**
 * The one formatter: every number that a person or a file gets to see is rounded here, once, so that text, card, chart,
 * table and CSV agree.
 */

/** What a number measures. Fractions of 1 are kept as such and shown in percent. */
export type Unit =
  | "text"
  | "date"
  | "count"
  | "number"
  | "fraction"
  | "percent"
  | "per 100"
  | "kg/m³"
  | "g"
  | "mm"
  | "mm³"
  | "cm³"
  | "days"
  | "weeks"
  | "°C"
  | "money"
  | "money whole";

/** Digits after the point, as shown. */
const digits: Record<Exclude<Unit, "text" | "date">, number> = {
  count: 0,
  number: 2,
  fraction: 1,
  percent: 1,
  "per 100": 1,
  "kg/m³": 0,
  g: 0,
  mm: 1,
  "mm³": 0,
  "cm³": 0,
  days: 0,
  weeks: 0,
  "°C": 1,
  money: 2,
  "money whole": 0
};

/** What is written behind a number, or in brackets in a heading; money takes the workshop's own currency. */
export function unitSymbol(unit: Unit, currency = ""): string {
  if (unit === "fraction" || unit === "percent") return "%";
  if (unit === "money" || unit === "money whole") return currency;
  if (unit === "text" || unit === "date" || unit === "count" || unit === "number") return "";
  return unit;
}

/**
 * The number as it is shown, without its unit: a fraction comes back in percent, everything rounded half away from zero
 * to the digits of its unit. −0 becomes 0.
 *
 * @returns undefined when the value is, or is no finite number: what could not be computed is never shown as 0
 * @example rounded(0.12345, "fraction") // 12.3
 */
export function rounded(value: number | undefined, unit: Unit): number | undefined {
  if (value === undefined || unit === "text" || unit === "date") return undefined;
  const scaled = unit === "fraction" ? 100 * value : value;
  if (!Number.isFinite(scaled)) return undefined;
  const factor = 10 ** digits[unit];
  return (Math.sign(scaled) * Math.round(Math.abs(scaled) * factor * (1 + 1e-12))) / factor || 0;
}

/**
 * A number in words a person reads: rounded, thousands apart by a narrow no-break space, a true minus, its unit behind
 * unless `bare`. Undefined is an en dash.
 *
 * @example shown(0.7315, "fraction") // "73.2 %"
 * @example shown(-1250, "money whole", {currency: "£"}) // "−£1 250"
 */
export function shown(value: number | undefined, unit: Unit, {bare = false, currency = ""} = {}): string {
  const number = rounded(value, unit);
  if (number === undefined) return "–";
  const [whole, decimals] = Math.abs(number)
    .toFixed(digits[unit as keyof typeof digits])
    .split(".");
  const text = whole!.replace(/\B(?=(\d{3})+$)/g, "\u202f") + (decimals === undefined ? "" : `.${decimals}`);
  const sign = number < 0 ? "−" : "";
  if (bare) return sign + text;
  if (unit === "money" || unit === "money whole") return `${sign}${currency}${text}`;
  const symbol = unitSymbol(unit);
  return symbol === "" ? sign + text : `${sign}${text}\u00a0${symbol}`;
}

/**
 * An interval as "low to high", unit once; an en dash where there is none.
 *
 * @example shownInterval({low: 0.69, high: 0.77}, "fraction") // "69.0 to 77.0 %"
 */
export function shownInterval(
  interval: {low: number; high: number} | undefined,
  unit: Unit,
  {bare = false, currency = ""} = {}
): string {
  if (interval === undefined) return "–";
  const money = unit === "money" || unit === "money whole";
  return `${shown(interval.low, unit, {bare: bare || !money, currency})} to ${shown(interval.high, unit, {bare, currency})}`;
}
