/** Widths of characters in parts of the font size: narrow, wide, capital; any other is 0.56. */
const classes: readonly (readonly [RegExp, number])[] = [
  [/[ifjltrI.,:;!'’|()[\]\s]/u, 0.31],
  [/[mwMW%@—]/u, 0.86],
  [/[A-ZÀ-ÞΑ-ΩА-Я]/u, 0.7],
  [/[\u1100-\uffdc\u{1f000}-\u{3ffff}]/u, 1.1]
];

/**
 * How wide a text will be in a sans-serif face, px. An estimate with a little slack, as no two machines have the same face:
 * it is meant to be too wide rather than too narrow. Of several lines the widest counts.
 *
 * Checked: tests/browser/textWidth.test.ts, against the widths that a browser lays out
 *
 * @example textWidth("Density", 12) // 47.1
 */
export function textWidth(text: string, fontSize: number): number {
  return Math.max(...text.split("\n").map((line) => lineWidth(line, fontSize)));
}

function lineWidth(line: string, fontSize: number): number {
  return [...line].reduce((sum, character) => sum + characterWidth(character), 0) * fontSize * 1.06;
}

function characterWidth(character: string): number {
  return classes.find(([pattern]) => pattern.test(character))?.[1] ?? 0.56;
}
