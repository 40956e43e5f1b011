import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {isMissing, missingCells} from "../../lib/book/cells.ts";
import {fields} from "../../lib/book/field.ts";
import {fileNames, files, recordName} from "../../lib/book/records.ts";
import {bookSchema, dataPackage, type JsonSchema, settingsSchema, tableSchema} from "../../lib/book/schemas.ts";
import {recordsOf} from "./smallBook.ts";

const published = (name: string) => JSON.parse(readFileSync(`sample-data/${name}`, "utf8"));
const columnsOf = (file: (typeof fileNames)[number]) => fields(files[file].schema).map(([, field]) => field);

test.each(fileNames)("tableSchema(%j) has every column that is read, once, in order, and no other", (file) => {
  expect(tableSchema(file).fields.map(({name}) => name)).toEqual(columnsOf(file).map(({heading}) => heading));
});

test.each(fileNames)("tableSchema(%j): unit, bounds, words and other headings are those declared", (file) => {
  const said = tableSchema(file).fields.map((field) => ({
    unit: field["book:unit"],
    also: field["book:also"],
    instead: field["book:instead"],
    minimum: field.constraints.minimum,
    maximum: field.constraints.maximum,
    enum: field.constraints.enum,
    example: field.example,
    description: field.description
  }));
  const declared = columnsOf(file).map(
    ({unit, also, instead, minimum, maximum, enum: words, example, description}) => ({
      unit,
      also,
      instead,
      minimum,
      maximum,
      enum: words,
      example,
      description
    })
  );
  expect(said).toEqual(declared);
});

test.each(fileNames)("tableSchema(%j): a required column left out is refused by the reader, another is not", (file) => {
  const {fields: columns} = tableSchema(file);
  for (const left of columns) {
    const rest = columns.filter((column) => column !== left);
    const text = `${rest.map(({name}) => name).join(",")}\n${rest.map(({example}) => example).join(",")}\n`;
    const {records} = recordsOf(text, file);
    expect(`${left.name} ${records.length}`).toBe(`${left.name} ${left.constraints.required ? 0 : 1}`);
  }
});

test.each(fileNames)("tableSchema(%j): each title, and each other heading, is one that the reader takes", (file) => {
  const {fields: columns} = tableSchema(file);
  const cells = columns.map(({example}) => example).join(",");
  const wanted = recordsOf(`${columns.map(({name}) => name).join(",")}\n${cells}\n`, file).records;
  expect(wanted).toHaveLength(1);
  const titles = columns.map(({title}) => title).join(",");
  expect(recordsOf(`${titles}\n${cells}\n`, file).records).toEqual(wanted);
  for (const column of columns) {
    for (const other of column["book:also"] ?? []) {
      // A heading with a measure needs its unit; money and counts have none.
      const unit = column["book:unit"];
      const heading = unit === undefined || unit === "money" ? other : `${other} (${unit})`;
      const headings = columns.map((one) => (one === column ? heading : one.name)).join(",");
      expect(recordsOf(`${headings}\n${cells}\n`, file).records, heading).toEqual(wanted);
    }
  }
});

test("tableSchema: a title is the heading in words, its unit in brackets", () => {
  const titles = fileNames.flatMap((file) => tableSchema(file).fields.map(({name, title}) => [name, title]));
  expect(titles).toEqual(
    expect.arrayContaining([
      ["bought_on", "Bought on"],
      ["price_each", "Price each"],
      ["length_mm", "Length (mm)"],
      ["mass_min_g", "Mass min (g)"],
      ["density_kgm3", "Density (kg/m³)"],
      ["temperature_c", "Temperature (°C)"]
    ])
  );
});

test("tableSchema: the missing values are those that the reader takes, each once, the blank among them", () => {
  const {missingValues} = tableSchema("lots.csv");
  expect(missingValues).toContain("");
  expect(new Set(missingValues).size).toBe(missingValues.length);
  expect(missingValues.filter((cell) => !isMissing(cell))).toEqual([]);
  expect([...missingCells].filter((cell) => !missingValues.includes(cell))).toEqual([]);
  for (const cell of ["0", "x", "nan"]) expect(isMissing(cell)).toBe(false);
});

test("tableSchema: lots, squares and orders have a key; squares refer to lots, events to squares and orders", () => {
  const keys = fileNames.map((file) => {
    const {primaryKey, foreignKeys = []} = tableSchema(file);
    const references = foreignKeys.map(({fields: own, reference}) => [own, reference.resource, reference.fields]);
    return [file, primaryKey, references];
  });
  expect(keys).toEqual([
    ["lots.csv", ["lot"], []],
    ["squares.csv", ["square"], [[["lot"], "lots", ["lot"]]]],
    ["orders.csv", ["order"], []],
    [
      "events.csv",
      undefined,
      [
        [["square"], "squares", ["square"]],
        [["order"], "orders", ["order"]]
      ]
    ],
    ["climate.csv", undefined, []],
    ["advice.csv", undefined, []]
  ]);
});

test("dataPackage(about) says what it is told, and describes each file of a book", () => {
  const about = {name: "a-book", title: "A book", description: "Of mine.", licenses: [{name: "MIT"}], contributors: []};
  const {$schema, resources, ...rest} = dataPackage(about);
  expect($schema).toBe("https://datapackage.org/profiles/2.0/datapackage.json");
  expect(rest).toEqual(about);
  expect(resources.map(({name, path}) => [name, path])).toEqual(fileNames.map((file) => [recordName(file), file]));
  for (const {path, schema} of resources) expect(schema).toEqual(tableSchema(path));
});

test.each(fileNames)("bookSchema(): the records of %s have every value, its bounds and what it means", (file) => {
  const records = bookSchema().properties![recordName(file)] as JsonSchema;
  const {properties, required} = records.items as JsonSchema;
  const declared = fields(files[file].schema);
  expect(Object.keys(properties!)).toEqual([...declared.map(([key]) => key), "row"]);
  expect(required).toEqual(declared.filter(([, {optional}]) => !optional).map(([key]) => key));
  for (const [key, field] of declared) {
    const {minimum, maximum, enum: words, description, title} = properties![key] as JsonSchema;
    const {minimum: low, maximum: high, enum: own} = field;
    expect({key, minimum, maximum, words, description}).toEqual({
      key,
      minimum: low,
      maximum: high,
      words: own,
      description: field.description
    });
    if (field.unit && field.unit !== "money") expect(title).toContain(`(${field.unit})`);
  }
});

test("bookSchema() and settingsSchema() keep to words that JSON Schema has", () => {
  const known =
    "$schema title description type properties items required additionalProperties propertyNames minimum maximum exclusiveMinimum minLength maxLength minItems pattern format enum const anyOf default examples".split(
      " "
    );
  const unknown = [bookSchema(), settingsSchema()]
    .flatMap((schema) => nodes(schema))
    .flatMap(([path, node]) =>
      Object.keys(node)
        .filter((word) => !known.includes(word))
        .map((word) => `${path}: ${word}`)
    );
  expect(unknown).toEqual([]);
});

test("settingsSchema(): sizes and densities may be numbers or texts, nothing else may", () => {
  const either = nodes(settingsSchema())
    .filter(([, {type}]) => Array.isArray(type))
    .map(([path, {type}]) => [path.split(".").at(-1), type]);
  expect(either).toEqual(
    ["largeMm", "smallMm", "lengthMm", "low", "high", "fromLargeMm", "spanMm"].map((name) => [
      name,
      ["number", "string"]
    ])
  );
});

test("settingsSchema(): a setting explains itself, but for names and those that their group explains", () => {
  const silent = nodes(settingsSchema())
    .filter(([path, {description, properties}]) => /\.properties\.[^.]+$/.test(path) && !description && !properties)
    .map(([path]) => path.split(".").at(-1));
  expect(silent.filter((name) => !["$schema", "name", "group", "low", "high"].includes(name!))).toEqual([]);
  const {stages} = settingsSchema().properties as Record<string, JsonSchema>;
  expect(stages!.description).toBe("The stages in order, from the square to the finished shaft");
});

test("sample-data holds what bookSchema(), settingsSchema() and dataPackage() give", () => {
  const json = (value: unknown) => `${JSON.stringify(value, undefined, 2)}\n`;
  const {$schema, resources, ...about} = published("datapackage.json");
  for (const [name, value] of [
    ["book.schema.json", bookSchema()],
    ["workshop.schema.json", settingsSchema()],
    ["datapackage.json", dataPackage(about)]
  ] as const)
    expect(readFileSync(`sample-data/${name}`, "utf8") === json(value), `${name}: npm run sample-book`).toBe(true);
  expect(about).toMatchObject({name: "sample-book", licenses: [{name: "MIT"}]});
});

/** The schemas within a schema, each with the way to it. */
function nodes(schema: JsonSchema, path = ""): [path: string, schema: JsonSchema][] {
  const within = Object.entries(schema.properties ?? {}).map(([key, one]) => [`properties.${key}`, one] as const);
  const others = (["items", "additionalProperties", "propertyNames"] as const).map(
    (word) => [word, schema[word]] as const
  );
  return [
    [path, schema],
    ...[...within, ...others]
      .filter(([, one]) => typeof one === "object")
      .flatMap(([key, one]) => nodes(one as JsonSchema, `${path}.${key}`))
  ];
}
