import type * as Plot from "@observablehq/plot";
import {check} from "../../lib/check.ts";
import type {Figure} from "../../lib/figures/figure.ts";
import {clean} from "./clean.ts";
import {joiningDots} from "./dots.ts";
import {overhang} from "./overhang.ts";

/** The two widths, px: the page shows the one that suits. */
const sizes = {wide: {width: 720, narrow: false}, narrow: {width: 360, narrow: true}} as const;

/** Space around the axes before the labels are measured, px. */
const margins = {marginTop: 24, marginRight: 12, marginBottom: 40, marginLeft: 36};

/**
 * One drawing of a figure, as SVG text, made on a document and with the library given: jsdom's document and all of Plot for the reports, the page's own document and
 * the few marks that it needs in a browser. The drawing is never put into that document. The same figure gives the same text.
 *
 * @throws Error if Plot warns of anything; RangeError if the labels leave no room
 */
export function drawing(
  figure: Figure,
  name: keyof typeof sizes,
  {document, library}: {document: Document; library: typeof Plot}
): string {
  const size = sizes[name];
  const where = `draw: ${figure.id}`;
  const own = figure.plot(size, library);
  let options: Plot.PlotOptions = {
    width: size.width,
    ...margins,
    ...own,
    marks: [joiningDots(own.marks, library)],
    figure: false,
    document
  };
  for (let attempt = 0; attempt < 8; attempt++) {
    const svg = clean(plotted(library, options, where), `${figure.id}-${name}`);
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

function plotted(library: typeof Plot, options: Plot.PlotOptions, where: string): SVGSVGElement {
  const warnings: unknown[] = [];
  const warn = console.warn;
  console.warn = (message) => warnings.push(message);
  try {
    const svg = library.plot(options);
    if (warnings.length > 0) throw new Error(`${where}: Plot warns: ${warnings.join(" ")}`);
    return svg as SVGSVGElement;
  } finally {
    console.warn = warn;
  }
}
