/**
 * A heading or name whatever its case, accents, spaces and dashes: "Länge  (mm)" and "lange_(MM)" are both "lange (mm)".
 *
 * Unicode normalisation form KD, without marks and invisible characters. Checked: tests/book/fold.test.ts
 */
export function fold(text: string): string {
  return text
    .normalize("NFKD")
    .replaceAll(/[\p{M}\p{Cf}]/gu, "")
    .toLowerCase()
    .replaceAll(/[\s_\p{Pd}−.:#/]+/gu, " ")
    .trim();
}
