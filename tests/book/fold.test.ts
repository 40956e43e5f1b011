import fc from "fast-check";
import {expect, test} from "vitest";
import {fold} from "../../lib/book/fold.ts";

test.each([
  ["Länge  (mm)", "lange (mm)"],
  ["lange_(MM)", "lange (mm)"],
  ["  BOUGHT-ON ", "bought on"],
  ["bought_on", "bought on"],
  ["bought – on", "bought on"],
  ["bought—on", "bought on"],
  ["Lot No.", "lot no"],
  ["Lot #", "lot"],
  ["Weight/g", "weight g"],
  ["Species:", "species"],
  ["Épaisseur", "epaisseur"],
  ["Weight\n(oz)", "weight (oz)"],
  ["___", ""],
  ["", ""]
])("fold(%j) is %j", (text, folded) => {
  expect(fold(text)).toBe(folded);
});

// Names of the characters from the Unicode Standard, from memory.
test.each([
  ["no-break space", "\u00a0"],
  ["thin space", "\u2009"],
  ["tab", "\t"],
  ["hyphen", "\u2010"],
  ["non-breaking hyphen", "\u2011"],
  ["figure dash", "\u2012"],
  ["minus sign", "\u2212"],
  ["full-width low line", "\uff3f"]
])("fold takes a %s for a space", (_, character) => {
  expect(fold(`bought${character}on`)).toBe("bought on");
});

test.each([
  ["zero-width space", "bought\u200b_on"],
  ["byte order mark", "\ufeffbought_on"],
  ["soft hyphen", "bou\u00adght_on"]
])("fold passes over a %s, which nobody sees", (_, text) => {
  expect(fold(text)).toBe("bought on");
});

test("fold: a letter with its accent in one character and in two are alike, and raised figures are figures", () => {
  expect(fold("L\u00e4nge")).toBe("lange");
  expect(fold("La\u0308nge")).toBe("lange");
  expect(fold("kg/m³")).toBe("kg m3");
});

test("fold keeps letters apart that differ in more than an accent, and of scripts without capitals", () => {
  expect(fold("Maße")).not.toBe(fold("Mase"));
  expect(fold("長さ")).toBe(fold(" 長さ_"));
  expect(fold("長さ")).not.toBe("");
});

test("fold of what is folded is the same again", () => {
  for (const text of ["Länge  (mm)", "A–B_c.D", "kg/m³", "Ø Ende (in)"]) expect(fold(fold(text))).toBe(fold(text));
});

// A character that nobody sees is passed over, and the text with it is no ASCII: it goes the longer way.
test("fold(any text of ASCII) is what the longer way makes of it", () => {
  fc.assert(
    fc.property(fc.string(), (text) => {
      expect(fold(text)).toBe(fold(`\u200b${text}`));
    })
  );
});
