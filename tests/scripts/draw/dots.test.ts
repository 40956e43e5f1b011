import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {joinDots} from "../../../scripts/draw/dots.ts";

const dot = (i: number, more = "") => `<circle cx="${i + 0.06}" cy="7" r="1.6"${more}></circle>`;
const dots = (n: number) => Array.from({length: n}, (_, i) => dot(i)).join("");

function joined(inside: string): SVGSVGElement {
  const svg = new JSDOM(`<svg>${inside}</svg>`).window.document.querySelector("svg")!;
  joinDots(svg);
  return svg;
}

it("joinDots(svg) draws a large group of like dots as one path of as many points, as wide as they were", () => {
  const group = joined(`<g fill="var(--c1)" fill-opacity="0.6" transform="translate(0,3)">${dots(50)}</g>`)
    .firstElementChild!;
  expect(group.children).toHaveLength(1);
  const path = group.firstElementChild!;
  expect(path.getAttribute("d")).toMatch(/^m0,7h0m1,0h0/);
  let [x, y] = [0, 0];
  const places = [...path.getAttribute("d")!.matchAll(/m([\d.-]+),([\d.-]+)h0/g)].map(([, dx, dy]) => {
    [x, y] = [x + Number(dx), y + Number(dy)];
    return [x, y];
  });
  expect(places).toEqual(Array.from({length: 50}, (_, i) => [i, 7]));
  expect([path.getAttribute("stroke-width"), path.getAttribute("stroke-linecap")]).toEqual(["3.2", "round"]);
  expect(Object.fromEntries([...group.attributes].map(({name, value}) => [name, value]))).toEqual({
    fill: "none",
    stroke: "var(--c1)",
    "stroke-opacity": "0.6",
    transform: "translate(0,3)"
  });
});

it.each([
  ["few dots", dots(10)],
  ["dots of two sizes", `${dots(50)}<circle cx="1" cy="1" r="3"></circle>`],
  ["a dot with a title", `${dots(50)}<circle cx="1" cy="1" r="1.6"><title>A</title></circle>`],
  ["a dot with a colour of its own", `${dots(50)}${dot(1, ' fill="red"')}`],
  ["other shapes", `${dots(50)}<path d="M0,0"></path>`]
])("joinDots(svg) leaves %s as they are", (_, inside) => {
  expect(joined(`<g>${inside}</g>`).innerHTML).toBe(`<g>${inside}</g>`);
});

it("joinDots(svg) leaves dots with an outline as they are", () => {
  expect(joined(`<g stroke="red">${dots(50)}</g>`).querySelectorAll("circle")).toHaveLength(50);
});
