import {expect, test} from "vitest";
import {z} from "zod";
import {choice, count, day, fields, isNumeric, name, number, optional, text} from "../../lib/book/field.ts";

const meta = {heading: "mass_g", description: "Mass", unit: "g", example: "1655"} as const;
const wanted = (schema: z.ZodType, value: unknown) => schema.safeParse(value).error?.issues[0]?.message;

test("number(5, 300) allows its bounds and nothing beyond", () => {
  const schema = number(5, 300, meta);
  expect([schema.parse(5), schema.parse(300)]).toEqual([5, 300]);
  for (const value of [4.999, 300.001, -5]) expect(wanted(schema, value)).toBe("between 5 and 300");
});

test("number wants a number, not a text of one, and never takes nothing as 0", () => {
  for (const value of ["12", "", undefined, Number.NaN, Infinity])
    expect(wanted(number(5, 300, meta), value)).toBeDefined();
});

test("count(1, 100) reads whole numbers only", () => {
  const schema = count(1, 100, meta);
  expect([schema.parse(1), schema.parse(34)]).toEqual([1, 34]);
  expect(wanted(schema, 3.5)).toBe("a whole number");
  expect(wanted(schema, 0)).toBe("between 1 and 100");
  expect(wanted(schema, 101)).toBe("between 1 and 100");
});

test('choice(["air", "kiln"]) takes its words as they are spelt', () => {
  const schema = choice(["air", "kiln"], meta);
  expect(schema.parse("kiln")).toBe("kiln");
  expect(wanted(schema, "Kiln")).toBe("one of air, kiln");
  expect(wanted(schema, undefined)).toBe("filled in");
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

test("optional(schema) takes nothing as missing, and anything else as strictly as the schema", () => {
  const schema = optional(number(5, 300, meta));
  expect([schema.parse(undefined), schema.parse(12)]).toEqual([undefined, 12]);
  expect(wanted(schema, 1)).toBe("between 5 and 300");
});

test("a field carries its heading, unit, bounds and whether it may be missing", () => {
  expect(number(5, 300, meta).meta()).toMatchObject({...meta, kind: "number", minimum: 5, maximum: 300});
  expect(count(1, 9, meta).meta()).toMatchObject({...meta, kind: "integer", minimum: 1, maximum: 9});
  expect(choice(["air", "kiln"], meta).meta()).toMatchObject({...meta, kind: "word", enum: ["air", "kiln"]});
  expect(day(meta).meta()).toMatchObject({...meta, kind: "date"});
  expect(optional(text(meta)).meta()).toMatchObject({...meta, optional: true});
  expect(text(meta).meta()).not.toHaveProperty("optional");
});

test("isNumeric is true of numbers and counts, also where they may be missing, and of no other kind", () => {
  const schema = z.object({
    number: number(5, 300, meta),
    count: count(1, 9, meta),
    optional: optional(number(5, 300, meta)),
    choice: choice(["1", "2"], meta),
    day: day(meta),
    name: name(meta),
    text: text(meta)
  });
  const numeric = fields(schema).filter(([, field]) => isNumeric(field));
  expect(numeric.map(([key]) => key)).toEqual(["number", "count", "optional"]);
});
