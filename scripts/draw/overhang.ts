import {textWidth} from "../../lib/report/textWidth.ts";
import {fontSize} from "./clean.ts";
import {elementsOf} from "./elementsOf.ts";

/** How far the labels of a drawing stick out at each side, whole px; 0 where they do not. */
export interface Overhang {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

/** How far the labels of a drawing stick out, by their estimated widths, as nothing here can lay out text. Returns whole px. */
export function overhang(svg: SVGSVGElement): Overhang {
  const [width, height] = [Number(svg.getAttribute("width")), Number(svg.getAttribute("height"))];
  const boxes = [...elementsOf(svg)]
    .filter(isText)
    .filter((text) => lines(text).some((line) => line !== ""))
    .map(box);
  const over = (distance: (box: Box) => number) => Math.ceil(Math.max(0, ...boxes.map(distance)));
  return {
    left: over(({x0}) => -x0),
    right: over(({x1}) => x1 - width),
    top: over(({y0}) => -y0),
    bottom: over(({y1}) => y1 - height)
  };
}

const isText = (node: Element): node is SVGTextElement => node.localName === "text";

interface Box {
  x0: number;
  x1: number;
  y0: number;
  y1: number;
}

function box(text: SVGTextElement): Box {
  const size = Number.parseFloat(inherited(text, "font-size") ?? "") || fontSize;
  const wide = Math.max(...lines(text).map((line) => textWidth(line, size)));
  const anchor = inherited(text, "text-anchor") ?? "start";
  const start = anchor === "middle" ? -wide / 2 : anchor === "end" ? -wide : 0;
  const {x, y, turned} = position(text, size);
  const deep = (lines(text).length - 1) * 1.2 * size;
  const across = {x0: x + start, x1: x + start + wide, y0: y - 0.75 * size, y1: y + deep + 0.25 * size};
  return turned ? {x0: x - size, x1: x + size, y0: y - wide / 2, y1: y + wide / 2} : across;
}

/** Text by line: Plot writes each further line as a tspan; a title within is a hint, not a line. */
function lines(text: SVGTextElement): string[] {
  return [...text.childNodes].filter((node) => node.nodeName !== "title").map((node) => node.textContent ?? "");
}

function position(text: SVGTextElement, size: number): {x: number; y: number; turned: boolean} {
  let [x, y, turned] = [offset(text, "x", size), offset(text, "y", size), false];
  // Plot writes nothing but lines, and the hint last, into a text.
  const line = text.firstElementChild?.localName === "tspan" ? text.firstElementChild : null;
  x += offset(text, "dx", size);
  y += offset(text, "dy", size) + offset(line, "y", size) + offset(line, "dy", size);
  for (let node: Element | null = text; node !== null; node = node.parentElement) {
    const transform = node.getAttribute("transform") ?? "";
    turned ||= /rotate\(-?90/.test(transform);
    for (const [, dx, dy] of transform.matchAll(/translate\(([-\d.e]+)(?:[, ]+([-\d.e]+))?\)/g)) {
      x += Number(dx);
      y += Number(dy ?? 0);
    }
  }
  return {x, y, turned};
}

function offset(node: Element | null, name: string, size: number): number {
  const value = node?.getAttribute(name) ?? "0";
  return Number.parseFloat(value) * (value.endsWith("em") ? size : 1);
}

function inherited(node: Element, name: string): string | null {
  for (let one: Element | null = node; one; one = one.parentElement) {
    const value = one.getAttribute(name);
    if (value !== null) return value;
  }
  return null;
}
