import * as Plot from "@observablehq/plot";
import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {drawing} from "../../../scripts/draw/drawing.ts";
import {draw} from "../../../scripts/draw.ts";
import {demoFigures} from "../../browser/demoFigures.ts";

test("drawing on a document given is what draw makes on its own, and leaves the document as it was", () => {
  const {document} = new JSDOM("<p>as it was</p>").window;
  const before = document.documentElement.outerHTML;
  for (const figure of demoFigures) {
    const {wide, narrow} = draw(figure);
    expect(drawing(figure, "wide", {document, library: Plot})).toBe(wide);
    expect(drawing(figure, "narrow", {document, library: Plot})).toBe(narrow);
  }
  expect(document.documentElement.outerHTML).toBe(before);
});
