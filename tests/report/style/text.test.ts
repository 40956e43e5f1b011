import {expect, it} from "vitest";
import {figureStyle} from "../../../lib/report/style/figure.ts";
import {frameStyle} from "../../../lib/report/style/frame.ts";
import {tableStyle} from "../../../lib/report/style/table.ts";
import {textStyle} from "../../../lib/report/style/text.ts";

it("no text is set smaller than 13 px on a screen at the usual 16 px", () => {
  const base = (16 * Number(/font: ([\d.]+)%/.exec(frameStyle)![1])) / 100;
  const sizes = [
    ...`${frameStyle}${textStyle}${figureStyle}${tableStyle}`.matchAll(/(?:font-size: |font: (?:\d+ )?)([\d.]+)rem/g)
  ];
  expect(sizes.length).toBeGreaterThan(10);
  for (const [declaration, size] of sizes) expect(Number(size) * base, declaration).toBeGreaterThanOrEqual(13);
});

it("headings step down, each at least a tenth smaller than the one above", () => {
  const size = (heading: string) =>
    Number(new RegExp(`^${heading} \\{[^}]*font(?:-size)?: (?:\\d+ )?([\\d.]+)rem`, "m").exec(textStyle)![1]);
  const sizes = ["h1", "h2", "h3", "h4"].map(size);
  for (const [i, value] of sizes.slice(1).entries()) expect(value).toBeLessThanOrEqual(sizes[i]! * 0.9);
});
