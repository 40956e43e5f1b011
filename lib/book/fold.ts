/**
 * A heading or name whatever its case, accents, spaces and dashes: "Länge  (mm)" and "lange_(MM)" are both "lange (mm)".
 *
 * Unicode normalisation form KD, without invisible characters and the marks of Latin, Greek and Cyrillic letters; in
 * other scripts marks are vowels. Checked: tests/book/fold.test.ts
 */
export function fold(text: string): string {
  // Nothing but ASCII is as it is in form KD and without marks: so are nearly all names, and folded in half the time.
  if (/^[ -~]*$/.test(text)) return text.toLowerCase().replaceAll(separators, " ").trim();
  return text
    .normalize("NFKD")
    .replaceAll(/(?<=[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}]\p{M}*)\p{M}/gu, "")
    .replaceAll(/\p{Cf}/gu, "")
    .toLowerCase()
    .replaceAll(separators, " ")
    .trim();
}

const separators = /[\s_\p{Pd}−.:#/]+/gu;
