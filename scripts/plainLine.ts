/** A line that a terminal only shows: no control characters, none that turn the direction of writing. */
export function plainLine(line: string): string {
  return line.replaceAll(/[\p{Cc}\p{Cs}\u061c\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu, "\ufffd");
}
