/** The colours of a page, by role. Every other part of the style sheet refers to these. */
export interface Palette {
  /** Behind everything. */
  ground: string;
  /** Text and axes. */
  ink: string;
  /** Text that stands back: units, intervals, captions. */
  muted: string;
  /** Hairlines. */
  rule: string;
  /** Links and what can be opened. */
  accent: string;
  /** What is neither good nor bad: unresolved, other, all together. */
  c0: string;
  /** Classes in order: blues for what came out well, reds and ochre for losses, green for what stands apart. */
  c1: string;
  c2: string;
  c3: string;
  c4: string;
  c5: string;
}

/**
 * By day and on paper. The classes were found by search: each has 3:1 on the ground, and any two of c1 to c5 stay 0.15
 * apart in OKLab for full colour vision and for the three dichromacies.
 *
 * Checked: tests/report/tokens.test.ts
 */
export const light: Palette = {
  ground: "#fbf9f5",
  ink: "#211e1a",
  muted: "#615a50",
  rule: "#d8d1c5",
  accent: "#1c5c55",
  c0: "#898987",
  c1: "#1e336f",
  c2: "#1395da",
  c3: "#771e05",
  c4: "#d4740c",
  c5: "#137075"
};

/** By night, held to the same distances on a dark ground. */
export const dark: Palette = {
  ground: "#191816",
  ink: "#ece7de",
  muted: "#aaa297",
  rule: "#45413a",
  accent: "#86c9bd",
  c0: "#958f88",
  c1: "#67aaee",
  c2: "#4e60c8",
  c3: "#bf3612",
  c4: "#e19d00",
  c5: "#b4efc8"
};

/** A palette as custom properties, `--ground: #…; …`. Returns the declarations. */
export function declarations(palette: Palette): string {
  return Object.entries(palette)
    .map(([role, color]) => `--${role}: ${color};`)
    .join(" ");
}
