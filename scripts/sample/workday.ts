/** The day itself from Monday to Friday, else the Monday after. 1970-01-01, day 0, was a Thursday. */
export function workday(day: number): number {
  const weekday = (day + 3) % 7; // Monday is 0
  return weekday < 5 ? day : day + 7 - weekday;
}
