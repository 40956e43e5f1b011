import {elementsOf} from "./elementsOf.ts";

/** Size of the text in a drawing, px. */
export const fontSize = 12;

/** Attributes that hold no geometry, so that a number in them is left as it is. */
const notGeometry = new Set(["id", "href", "xlink:href", "class", "fill", "stroke", "clip-path"]);

/**
 * Makes a drawing by Plot fit to stand in a page with others: what the page's style sheet settles is taken away, identifiers
 * are renamed after `name`, coordinates rounded to tenths, and it is hidden from screen readers, which get the figure's
 * words and table instead. Returns the same drawing, changed.
 */
export function clean(svg: SVGSVGElement, name: string): SVGSVGElement {
  for (const node of [...elementsOf(svg)]) {
    if (node.localName === "style" || node.getAttribute("aria-label") === "tip") node.remove();
  }
  const nodes = [...elementsOf(svg)];
  const ids = new Map(nodes.filter((node) => node.id !== "").map((node, i) => [node.id, `${name}-${i + 1}`]));
  for (const node of nodes) {
    for (const attribute of node.getAttributeNames()) {
      if (/^aria-|^class$|^font-(family|variant)$/.test(attribute)) {
        node.removeAttribute(attribute);
        continue;
      }
      const value = node.getAttribute(attribute)!;
      const tidied = tidy(attribute, value, ids);
      if (tidied !== value) node.setAttribute(attribute, tidied);
    }
  }
  svg.setAttribute("font-size", String(fontSize));
  svg.setAttribute("aria-hidden", "true");
  svg.setAttribute("focusable", "false");
  return svg;
}

function tidy(attribute: string, value: string, ids: ReadonlyMap<string, string>): string {
  if (attribute === "id") return ids.get(value) ?? value;
  if (notGeometry.has(attribute)) {
    return value.replace(/^(url\()?#([\w-]+)/, (whole, url = "", id) =>
      ids.has(id) ? `${url}#${ids.get(id)}` : whole
    );
  }
  // An opacity keeps its hundredths.
  const factor = attribute.endsWith("opacity") ? 100 : 10;
  return value.replace(/-?(\d+\.\d{2,}|\d+(\.\d+)?e-?\d+)/g, (number) =>
    String(Math.round(Number(number) * factor) / factor || 0)
  );
}
