import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {clean, fontSize} from "../../../scripts/draw/clean.ts";

function cleaned(inside: string): SVGSVGElement {
  const text = `<svg class="plot" font-family="system-ui" font-size="10">${inside}</svg>`;
  return clean(new JSDOM(text).window.document.querySelector("svg")!, "fig");
}

it("clean(svg, name) takes away what the page’s style sheet settles", () => {
  const svg = cleaned(
    '<style>p{}</style><g aria-label="tip"><path></path></g><g aria-label="dot" class="x" font-variant="tabular-nums"></g>'
  );
  expect(svg.innerHTML).toBe("<g></g>");
  expect(svg.getAttributeNames().sort()).toEqual(["aria-hidden", "focusable", "font-size"]);
  expect(svg.getAttribute("font-size")).toBe(String(fontSize));
});

it("clean(svg, name) renames identifiers wherever they are used, and leaves colours and other addresses", () => {
  const svg = cleaned(
    '<clipPath id="plot-clip-7"></clipPath><g clip-path="url(#plot-clip-7)"></g><use href="#plot-clip-7"></use><a href="#other" fill="#abc"></a>'
  );
  expect(svg.innerHTML).toBe(
    '<clipPath id="fig-1"></clipPath><g clip-path="url(#fig-1)"></g><use href="#fig-1"></use><a href="#other" fill="#abc"></a>'
  );
});

it("clean(svg, name) rounds coordinates to tenths, in scientific notation too, but no text", () => {
  const svg = cleaned(
    '<path d="M1.23456,-0.001L7e-15,12.5Z" transform="translate(0.5,99.96)" fill-opacity="0.184"></path><text>0.12345</text>'
  );
  expect(svg.innerHTML).toBe(
    '<path d="M1.2,0L0,12.5Z" transform="translate(0.5,100)" fill-opacity="0.18"></path><text>0.12345</text>'
  );
});
