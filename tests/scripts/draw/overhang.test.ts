import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {textWidth} from "../../../lib/report/textWidth.ts";
import {overhang} from "../../../scripts/draw/overhang.ts";

function of(inside: string) {
  const text = `<svg width="100" height="50" font-size="10" text-anchor="middle">${inside}</svg>`;
  return overhang(new JSDOM(text).window.document.querySelector("svg")!);
}

const wide = textWidth("nnnnnnnnnn", 10);

it("overhang(svg) is nothing for a label within", () => {
  expect(of('<text x="50" y="25">n</text>')).toEqual({left: 0, right: 0, top: 0, bottom: 0});
  expect(of("")).toEqual({left: 0, right: 0, top: 0, bottom: 0});
});

it("overhang(svg) follows the anchor, inherited or its own", () => {
  expect(of('<text x="20" y="25">nnnnnnnnnn</text>').left).toBe(Math.ceil(wide / 2 - 20));
  expect(of('<g text-anchor="end"><text x="20" y="25">nnnnnnnnnn</text></g>').left).toBe(Math.ceil(wide - 20));
  expect(of('<text text-anchor="start" x="80" y="25">nnnnnnnnnn</text>').right).toBe(Math.ceil(80 + wide - 100));
});

it("overhang(svg) adds up moves of the label and of the groups around it", () => {
  const moved =
    '<g transform="translate(30,5)"><g transform="translate(40)"><text text-anchor="start" transform="translate(10,2)" x="1" y="20">nnnnnnnnnn</text></g></g>';
  expect(of(moved)).toEqual({left: 0, right: Math.ceil(81 + wide - 100), top: 0, bottom: 0});
});

it("overhang(svg) sees a label above and below, in em too, and the last of several lines", () => {
  expect(of('<text x="50" y="2">n</text>').top).toBe(6);
  expect(of('<text x="50" y="45" dy="0.71em">n</text>').bottom).toBe(5);
  expect(of('<text x="50" y="40"><tspan>n</tspan><tspan x="0" dy="1em">n</tspan></text>').bottom).toBe(5);
});

it("overhang(svg) takes no title for a line, and no empty label for a label", () => {
  expect(of(`<text x="50" y="25">n<title>${"n".repeat(99)}</title></text>`).left).toBe(0);
  expect(of('<text x="-50" y="25"></text>').left).toBe(0);
});

it("overhang(svg) lets a turned label reach up and down instead", () => {
  const turned = of('<text transform="translate(50,25) rotate(-90)">nnnnnnnnnnnn</text>');
  expect([turned.left, turned.right]).toEqual([0, 0]);
  expect(turned.top).toBeGreaterThan(0);
});
