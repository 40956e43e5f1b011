import {expect} from "vitest";
import type {Figure} from "../../lib/figures/figure.ts";
import {figureFaults} from "../../lib/figures/lint.ts";
import {draw} from "../../scripts/draw.ts";

/** Expects the figure to draw without warning in both sizes, its title to be short, and lint to find nothing. Returns the drawings. */
export function expectSound(figure: Figure): {wide: string; narrow: string} {
  expect(figureFaults(figure)).toEqual([]);
  expect(figure.title.split(/\s+/).length).toBeLessThanOrEqual(10);
  const drawings = draw(figure);
  for (const svg of Object.values(drawings)) expect(svg).toMatch(/^<svg[\s\S]*<\/svg>$/);
  return drawings;
}
