import fc from "fast-check";
import {expect, test} from "vitest";
import type {z} from "zod";
import {choice, count, day, number, optional, text} from "../../lib/book/field.ts";

const meta = {heading: "mass_g", description: "Mass", unit: "g", example: "1655"};
const wanted = (schema: z.ZodType, cell: string) => schema.safeParse(cell).error?.issues[0]?.message;

test.each([
  ["12.5", 12.5],
  ["-3", -3],
  ["+3", 3],
  [" 7 ", 7],
  [".5", 0.5],
  ["5.", 5],
  ["007", 7]
])("number(-10, 100) reads %j", (cell, value) => expect(number(-10, 100, meta).parse(cell)).toBe(value));

test.each(["12,5", "1e3", "0x10", "Infinity", "NaN", "1O2", "1 655", "1.2.3", "--1", ".", "+", "12 g", "½", "１２"])(
  "number(-10, 100) refuses %j",
  (cell) => expect(wanted(number(-10, 100, meta), cell)).toBe("a number with a decimal point, like 12.5")
);

test.each(["", "  "])("number(-10, 100) refuses the blank cell %j, never taking it as 0", (cell) =>
  expect(wanted(number(-10, 100, meta), cell)).toBe("filled in")
);

test("number(5, 300) allows its bounds and nothing beyond", () => {
  const schema = number(5, 300, meta);
  expect([schema.parse("5"), schema.parse("300")]).toEqual([5, 300]);
  for (const cell of ["4.999", "300.001", "-5"]) expect(wanted(schema, cell)).toBe("between 5 and 300");
});

test("number reads back any decimal written plainly", () => {
  fc.assert(
    fc.property(fc.integer({min: -999_999, max: 999_999}), (thousandths) => {
      expect(number(-1000, 1000, meta).parse((thousandths / 1000).toFixed(3))).toBeCloseTo(thousandths / 1000, 12);
    })
  );
});

test("count(1, 100) reads whole numbers only", () => {
  const schema = count(1, 100, meta);
  expect([schema.parse("1"), schema.parse("34"), schema.parse("34.0")]).toEqual([1, 34, 34]);
  expect(wanted(schema, "3.5")).toBe("a whole number");
  expect(wanted(schema, "0")).toBe("between 1 and 100");
  expect(wanted(schema, "101")).toBe("between 1 and 100");
});

test('choice(["air", "kiln"]) takes its words as they are spelt', () => {
  const schema = choice(["air", "kiln"], meta);
  expect(schema.parse(" kiln ")).toBe("kiln");
  expect(wanted(schema, "Kiln")).toBe("one of air, kiln");
  expect(wanted(schema, "")).toBe("filled in");
});

test("text trims, and wants something", () => {
  expect(text(meta).parse("  pin knot, 300 mm ")).toBe("pin knot, 300 mm");
  expect(wanted(text(meta), " ")).toBe("filled in");
});

test("day wants a real calendar day", () => {
  expect(day(meta).parse("2026-02-28")).toBe("2026-02-28");
  for (const cell of ["2026-02-31", "28/02/2026", "2026-2-28"])
    expect(wanted(day(meta), cell)).toBe("a calendar day like 2026-10-31");
});

test("optional(schema) takes a blank cell as missing, and a filled one as strictly as the schema", () => {
  const schema = optional(number(5, 300, meta));
  expect([schema.parse(""), schema.parse("  "), schema.parse(undefined), schema.parse("12")]).toEqual([
    undefined,
    undefined,
    undefined,
    12
  ]);
  expect(wanted(schema, "1")).toBe("between 5 and 300");
});

test("a field carries its heading, unit, bounds and whether it may be missing", () => {
  expect(number(5, 300, meta).meta()).toMatchObject({...meta, type: "number", minimum: 5, maximum: 300});
  expect(count(1, 9, meta).meta()).toMatchObject({...meta, type: "integer", minimum: 1, maximum: 9});
  expect(choice(["air", "kiln"], meta).meta()).toMatchObject({...meta, enum: ["air", "kiln"]});
  expect(day(meta).meta()).toMatchObject({...meta, type: "date"});
  expect(optional(text(meta)).meta()).toMatchObject({...meta, optional: true});
  expect(text(meta).meta()).not.toHaveProperty("optional");
});
