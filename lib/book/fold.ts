/**
 * A heading or name whatever its case, accents, spaces and dashes: "Länge  (mm)" and "lange_(MM)" are both "lange (mm)".
 *
 * Unicode normalisation form KD, without marks.
 */
export function fold(text: string): string {
  return text
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .toLowerCase()
    .replaceAll(/[\s_\-–—.:#/]+/g, " ")
    .trim();
}
