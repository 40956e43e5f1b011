import {encode} from "uqr";
import {type Html, html} from "../../lib/report/html.ts";

/** A QR code as a drawing. */
export interface QrCode {
  svg: Html;
  /** Modules along a side, the quiet zone included. */
  modules: number;
}

/** Light modules around the symbol. Source: ISO/IEC 18004:2015, 6.3.8. From memory. */
const quiet = 4;

/** Most bytes of a text: version 40 at level M holds 2331. Source: ISO/IEC 18004:2015, table 7. From memory. */
const mostBytes = 2331;

/**
 * A text as a QR code, dark on white whatever the page's colours, with its quiet zone of four modules; error correction M (15 %), or
 * better where it costs no room. The text is in UTF-8.
 *
 * Checked: tests/scripts/pages/qrCode.test.ts, read back by another library
 *
 * @param label what the drawing is called for who cannot see it
 * @returns undefined when the text is too long for any code
 */
export function qrCode(text: string, label: string): QrCode | undefined {
  if (new TextEncoder().encode(text).length > mostBytes) return undefined;
  const {data, size} = encode(text, {ecc: "M", boostEcc: true, border: quiet});
  const path = data.flatMap((row, y) => runs(row).map(([x, length]) => `M${x} ${y}h${length}v1h-${length}z`)).join("");
  return {
    svg: html`<svg class="code" viewBox="0 0 ${size} ${size}" role="img" aria-label="${label}" shape-rendering="crispEdges"><path d="M0 0h${size}v${size}h-${size}z" fill="#fff"/><path d="${path}" fill="#000"/></svg>`,
    modules: size
  };
}

/** Where dark modules of a row begin, and how many stand together. */
function runs(row: readonly boolean[]): [x: number, length: number][] {
  const found: [number, number][] = [];
  row.forEach((isDark, x) => {
    if (!isDark) return;
    if (row[x - 1]) found.at(-1)![1]++;
    else found.push([x, 1]);
  });
  return found;
}
