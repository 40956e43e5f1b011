import {expect, it} from "vitest";
import {alike} from "../../../scripts/golden/alike.ts";

const svg = `<svg width="10"><path d="M0,1.5L2,-3" fill="var(--c1)"></path><text x="4">12.4 %</text></svg>`;

it.each([
  ["itself", svg],
  ["a coordinate half a pixel off", svg.replace("1.5", "1.9")],
  ["a coordinate without its decimals", svg.replace("1.5", "2")]
])("alike(drawing, %s)", (_, other) => {
  expect(alike(svg, other)).toBe(true);
});

it.each([
  ["a coordinate a pixel off", svg.replace("1.5", "2.6")],
  ["another sign", svg.replace("-3", "3")],
  ["another colour", svg.replace("c1", "c2")],
  ["another text", svg.replace("12.4", "12.5")],
  ["another element", svg.replaceAll("path", "line")],
  ["one point more", svg.replace("L2,-3", "L2,-3L2,-3")],
  ["no text", svg.replace("12.4 %", "")],
  ["a number gone", svg.replace('width="10"', 'width=""')]
])("not alike(drawing, %s)", (_, other) => {
  expect(alike(svg, other)).toBe(false);
});
