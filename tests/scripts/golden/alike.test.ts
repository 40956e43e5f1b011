import {expect, it} from "vitest";
import {alike} from "../../../scripts/golden/alike.ts";

const svg = `<svg width="10"><path d="M0,1.5L2,-3" fill="var(--c1)" fill-opacity="0.2" stroke-width="1"></path><circle cx="4" r="3"></circle><text y="0.32em" transform="translate(7,8.1)">12.4 % x="4"</text></svg>`;

it.each([
  ["itself", svg],
  ["a coordinate half a pixel off", svg.replace("1.5", "1.9")],
  ["a coordinate without its decimals", svg.replace("1.5", "2")],
  ["a text moved by a tenth of a pixel", svg.replace("8.1", "8")],
  ["a bar half a pixel wider", svg.replace('width="10"', 'width="10.5"')]
])("alike(drawing, %s)", (_, other) => {
  expect(alike(svg, other)).toBe(true);
});

it.each([
  ["a coordinate a pixel off", svg.replace("1.5", "2.6")],
  ["another sign", svg.replace("-3", "3")],
  ["another colour", svg.replace("c1", "c2")],
  ["another opacity", svg.replace("0.2", "0.6")],
  ["a thicker line", svg.replace('stroke-width="1"', 'stroke-width="1.5"')],
  ["a larger dot", svg.replace('r="3"', 'r="3.5"')],
  ["a text a third of a letter lower", svg.replace("0.32em", "0.71em")],
  ["a text moved by a pixel", svg.replace("8.1", "9.1")],
  ["another text", svg.replace("12.4", "12.5")],
  ["another text that looks like a coordinate", svg.replace('x="4"<', 'x="4.2"<')],
  ["another element", svg.replaceAll("path", "line")],
  ["one point more", svg.replace("L2,-3", "L2,-3L2,-3")],
  ["no text", svg.replace("12.4 %", "")],
  ["a number gone", svg.replace('width="10"', 'width=""')]
])("not alike(drawing, %s)", (_, other) => {
  expect(alike(svg, other)).toBe(false);
});
