import * as Plot from "@observablehq/plot";
import {JSDOM} from "jsdom";
import {check} from "../lib/check.ts";
import type {Figure} from "../lib/figures/figure.ts";
import {clean} from "./draw/clean.ts";
import {overhang} from "./draw/overhang.ts";

/** All drawings are made on one document, as making one costs more than a drawing. */
const {document} = new JSDOM("").window;

/** The two widths, px: the page shows the one that suits. */
const sizes = {wide: {width: 720, narrow: false}, narrow: {width: 360, narrow: true}} as const;

/** Space around the axes before the labels are measured, px. */
const margins = {marginTop: 24, marginRight: 12, marginBottom: 40, marginLeft: 36};

/**
 * A figure drawn as SVG text, once wide and once narrow, ready to stand in a page: no style, script or font of its own, no
 * identifier that a second figure could have, nothing for a screen reader, coordinates to a tenth of a pixel. Margins
 * grow until no label is cut off. Title, caption and key are the page's to write: Plot's own are left out. The same figure gives the same bytes.
 *
 * @throws Error if Plot warns of anything; RangeError if the labels leave no room
 */
export function draw(figure: Figure): {wide: string; narrow: string} {
  return {wide: drawing(figure, "wide"), narrow: drawing(figure, "narrow")};
}

function drawing(figure: Figure, name: keyof typeof sizes): string {
  const size = sizes[name];
  const where = `draw: ${figure.id}`;
  let options: Plot.PlotOptions = {width: size.width, ...margins, ...figure.plot(size), figure: false, document};
  for (let attempt = 0; attempt < 4; attempt++) {
    const svg = clean(plotted(options, where), `${figure.id}-${name}`);
    const {left, right, top, bottom} = overhang(svg);
    if (left + right + top + bottom === 0) return svg.outerHTML;
    options = {
      ...options,
      marginLeft: options.marginLeft! + left,
      marginRight: options.marginRight! + right,
      marginTop: options.marginTop! + top,
      marginBottom: options.marginBottom! + bottom
    };
    const taken = options.marginLeft! + options.marginRight!;
    check(taken < size.width * 0.75, where, `drawn with labels that leave a quarter of ${size.width} px`, taken);
  }
  throw new RangeError(`${where} must be drawn with labels that fit within ${size.width} px.`);
}

function plotted(options: Plot.PlotOptions, where: string): SVGSVGElement {
  const warnings: unknown[] = [];
  const warn = console.warn;
  console.warn = (message) => warnings.push(message);
  try {
    const svg = Plot.plot(options);
    if (warnings.length > 0) throw new Error(`${where}: Plot warns: ${warnings.join(" ")}`);
    return svg as SVGSVGElement;
  } finally {
    console.warn = warn;
  }
}
