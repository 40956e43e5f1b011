import {expect, it} from "vitest";
import {frameStyle} from "../../../lib/report/style/frame.ts";

function rem(pattern: RegExp): number {
  return Number(pattern.exec(frameStyle)?.[1]);
}

it("contents list, gap and the widest part fit side by side in the page, margins included", () => {
  const [list, gap, full, page] = [
    rem(/grid-template-columns: ([\d.]+)rem/),
    rem(/gap: 0 ([\d.]+)rem/),
    rem(/--full: ([\d.]+)rem/),
    rem(/max-width: ([\d.]+)rem; \}/)
  ];
  expect(list + gap + full + 2 * 1.25).toBeLessThanOrEqual(page);
  expect(page).toBeLessThanOrEqual(rem(/@media \(min-width: ([\d.]+)rem\)/));
});

it("running text is narrower than figures and tables", () => {
  expect(rem(/--measure: ([\d.]+)rem/)).toBeLessThan(rem(/--full: ([\d.]+)rem/));
});
