import * as Plot from "@observablehq/plot";
import {JSDOM} from "jsdom";
import type {Figure} from "../lib/figures/figure.ts";
import {drawing} from "./draw/drawing.ts";

/** All drawings are made on one document, as making one costs more than a drawing. */
const on = {document: new JSDOM("").window.document, library: Plot};

/**
 * A figure drawn as SVG text, once wide and once narrow, ready to stand in a page: no style, script or font of its own, no
 * identifier that a second figure could have, nothing for a screen reader, coordinates to a tenth of a pixel. Margins
 * grow until no label is cut off. Title, caption and key are the page's to write: Plot's own are left out. The same figure gives the same bytes.
 *
 * @throws Error if Plot warns of anything; RangeError if the labels leave no room
 */
export function draw(figure: Figure): {wide: string; narrow: string} {
  return {wide: drawing(figure, "wide", on), narrow: drawing(figure, "narrow", on)};
}
