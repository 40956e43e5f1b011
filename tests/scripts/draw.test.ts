import {execFileSync} from "node:child_process";
import {createHash} from "node:crypto";
import * as Plot from "@observablehq/plot";
import {JSDOM} from "jsdom";
import {describe, expect, it, vi} from "vitest";
import type {Figure} from "../../lib/figures/figure.ts";
import {overhang} from "../../scripts/draw/overhang.ts";
import {draw} from "../../scripts/draw.ts";
import {demoFigures, spread} from "../browser/demoFigures.ts";

function figure(plot: Figure["plot"]): Figure {
  return {...spread, id: "made", plot};
}

function svgOf(text: string): SVGSVGElement {
  return new JSDOM(text).window.document.querySelector("svg")!;
}

describe.each(demoFigures.map((demo) => ({id: demo.id, demo})))("draw($id)", ({demo}) => {
  const {wide, narrow} = draw(demo);

  it("is one bare svg of 720 px and one of 360 px, hidden from screen readers", () => {
    for (const [text, width] of [
      [wide, "720"],
      [narrow, "360"]
    ] as const) {
      const svg = svgOf(text);
      expect(svg.outerHTML).toBe(text);
      expect([svg.getAttribute("width"), svg.getAttribute("font-size")]).toEqual([width, "12"]);
      expect([svg.getAttribute("aria-hidden"), svg.getAttribute("focusable")]).toEqual(["true", "false"]);
    }
  });

  it("brings no style, script, class, font or words for screen readers of its own", () => {
    const svg = svgOf(wide);
    expect(
      svg.querySelectorAll("style, script, [class], [font-family], [font-variant], [aria-label], [onload]")
    ).toHaveLength(0);
  });

  it("has no coordinate finer than a tenth of a pixel", () => {
    const attributes = [...svgOf(wide).querySelectorAll("*")].flatMap((node) =>
      [...node.attributes].filter(({name}) => !name.endsWith("opacity")).map(({value}) => value)
    );
    expect(attributes.filter((value) => /\.\d{2}/.test(value))).toEqual([]);
  });

  it("has no label that runs out of it, by estimate", () => {
    for (const text of [wide, narrow]) expect(overhang(svgOf(text))).toEqual({left: 0, right: 0, top: 0, bottom: 0});
  });

  it("is the same bytes again", () => {
    expect(draw(demo)).toEqual({wide, narrow});
  });
});

it("draw(figure) widens the margin for a long name, and takes no more than it needs", () => {
  const named = (name: string) => {
    const {wide} = draw(figure(() => ({height: 80, marks: [Plot.dot([1], {x: (d) => d, y: () => name})]})));
    return Number(/translate\((\d+)/.exec(wide.slice(wide.indexOf(name) - 120))?.[1] ?? 0);
  };
  expect(named("Elverstone Sawmill and Yard")).toBeGreaterThan(named("Mill") + 80);
});

it("draw(figure) gives clips names that no other drawing on the page has", () => {
  const clipped = (id: string): Figure => ({...figure(() => ({marks: [Plot.dot([[0, 1]], {clip: true})]})), id});
  const text = [draw(clipped("a")), draw(clipped("b"))].flatMap(({wide, narrow}) => [wide, narrow]).join("");
  const ids = [...text.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
  expect(ids).toEqual(["a-wide-1", "a-narrow-1", "b-wide-1", "b-narrow-1"]);
  expect([...text.matchAll(/url\(#([^)]+)\)/g)].map(([, id]) => id)).toEqual(ids);
});

it("draw(figure) keeps a title on a mark, as text", () => {
  const {wide} = draw(figure(() => ({marks: [Plot.dot([1], {x: (d) => d, title: () => "</title><script>"})]})));
  expect(svgOf(wide).querySelector("circle title")!.textContent).toBe("</title><script>");
  expect(wide).not.toContain("<script>");
});

it("draw(figure) drops what only a script could show", () => {
  const {wide} = draw(figure(() => ({marks: [Plot.dot([1], {x: (d) => d, tip: true})]})));
  expect(svgOf(wide).querySelectorAll("circle")).toHaveLength(1);
  expect(wide).not.toContain("tip");
});

it("draw(figure) throws what Plot warns of, and leaves the console as it was", () => {
  const warn = vi.spyOn(console, "warn");
  const dates = figure(() => ({marks: [Plot.barY(["2026-01", "2026-02"], {x: (d) => d, y: () => 1})]}));
  expect(() => draw(dates)).toThrow(/^draw: made: Plot warns: /);
  expect(console.warn).toBe(warn);
  expect(warn).not.toHaveBeenCalled();
  warn.mockRestore();
  expect(draw(spread).wide).not.toContain("⚠");
});

it("draw(figure) leaves title, caption and legend to the page", () => {
  const {wide} = draw(
    figure(() => ({
      title: "Spread",
      caption: "Words",
      color: {legend: true, type: "categorical"},
      marks: [Plot.dot([1], {x: (d) => d, fill: () => "a"})]
    }))
  );
  expect(wide).toMatch(/^<svg/);
  expect(wide).not.toMatch(/Spread|Words/);
});

it("draw(figure) throws where labels leave no room for the figure", () => {
  const crowded = figure(() => ({marks: [Plot.dot([1], {x: (d) => d, y: () => "long ".repeat(60)})]}));
  expect(() => draw(crowded)).toThrow("draw: made must be drawn with labels that leave a quarter of 720 px");
});

it("draw(figure) gives the same bytes in another process, time zone and language", () => {
  const script = `
    import {createHash} from "node:crypto";
    import {draw} from "./scripts/draw.ts";
    import {demoFigures} from "./tests/browser/demoFigures.ts";
    process.stdout.write(createHash("sha256").update(JSON.stringify(demoFigures.map(draw))).digest("hex"));`;
  const there = execFileSync(process.execPath, ["--import", "tsx", "--input-type=module", "--eval", script], {
    encoding: "utf8",
    env: {...process.env, TZ: "Pacific/Auckland", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8"}
  });
  expect(there).toBe(
    createHash("sha256")
      .update(JSON.stringify(demoFigures.map(draw)))
      .digest("hex")
  );
});
