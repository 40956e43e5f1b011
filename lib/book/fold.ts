/**
 * A heading or name whatever its case, accents, spaces and dashes: "Länge  (mm)" and "lange_(MM)" are both "lange (mm)".
 *
 * Unicode normalisation form KD, without invisible characters and the marks of Latin, Greek and Cyrillic letters; in
 * other scripts marks are vowels. Checked: tests/book/fold.test.ts
 */
export function fold(text: string): string {
  return text
    .normalize("NFKD")
    .replaceAll(/(?<=[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}]\p{M}*)\p{M}/gu, "")
    .replaceAll(/\p{Cf}/gu, "")
    .toLowerCase()
    .replaceAll(/[\s_\p{Pd}−.:#/]+/gu, " ")
    .trim();
}
