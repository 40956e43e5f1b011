import * as Plot from "@observablehq/plot";
import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {joiningDots} from "../../../scripts/draw/dots.ts";

const {document} = new JSDOM("").window;
const rows = (n: number) => Array.from({length: n}, (_, i) => ({i, name: `N${i}`}));

/** The group of dots as Plot draws it, one unit a pixel, and as it is drawn with them joined. */
function drawn(n: number, options: Plot.DotOptions): [apart: Element, joined: Element] {
  const dots = [Plot.dot(rows(n), {x: "i", y: () => 7, r: 1.6, fill: "var(--c1)", fillOpacity: 0.6, ...options})];
  const of = (marks: Plot.Markish) => {
    const scale = {domain: [0, 100], range: [0, 100], axis: null};
    const svg = Plot.plot({document, x: scale, y: scale, width: 100, height: 100, margin: 0, marks: [marks]});
    return svg.querySelector("[aria-label=dot]")!;
  };
  return [of(dots), of(joiningDots(dots, Plot))];
}

it("joiningDots(marks) draws a large group of like dots as one path of as many points, as wide as they were", () => {
  const [apart, group] = drawn(50, {});
  expect(apart.querySelectorAll("circle")).toHaveLength(50);
  expect(group.children).toHaveLength(1);
  const path = group.firstElementChild!;
  let [x, y] = [0, 0];
  const places = [...path.getAttribute("d")!.matchAll(/m([\d.-]+),([\d.-]+)h0/g)].map(([, dx, dy]) => {
    [x, y] = [x + Number(dx), y + Number(dy)];
    return [x, y];
  });
  const circles = [...apart.querySelectorAll("circle")];
  expect(places).toEqual(circles.map((one) => ["cx", "cy"].map((name) => Math.round(Number(one.getAttribute(name))))));
  expect(path.getAttribute("d")).toBe(`m0,7h0${"m1,0h0".repeat(49)}`);
  expect([path.getAttribute("stroke-width"), path.getAttribute("stroke-linecap")]).toEqual(["3.2", "round"]);
  const look = (node: Element) => Object.fromEntries([...node.attributes].map(({name, value}) => [name, value]));
  const {fill, "fill-opacity": opacity, ...others} = look(apart);
  expect(look(group)).toEqual({...others, fill: "none", stroke: fill, "stroke-opacity": opacity});
});

it.each<[string, number, Plot.DotOptions]>([
  ["few dots", 10, {}],
  ["dots of two sizes", 50, {r: ({i}) => (i % 2 ? 1 : 2)}],
  ["dots with a title", 50, {title: "name"}],
  ["dots with a colour of their own", 50, {fill: ({i}) => (i % 2 ? "red" : "blue")}],
  ["other shapes", 50, {symbol: "diamond"}],
  ["dots seen through, one by one", 50, {opacity: 0.5}],
  ["dots with an outline", 50, {stroke: "red"}],
  ["dots without a height of their own", 50, {y: null}]
])("joiningDots(marks) leaves %s as they are", (_, n, options) => {
  const [apart, joined] = drawn(n, options);
  expect(joined.outerHTML).toBe(apart.outerHTML);
  expect(joined.children).toHaveLength(n);
});
