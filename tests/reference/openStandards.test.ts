import {readFileSync} from "node:fs";
import {Ajv2020, type ValidateFunction} from "ajv/dist/2020.js";
import addFormats from "ajv-formats";
import {parse} from "csv-parse/sync";
import tableschema from "tableschema";
import {expect, test} from "vitest";
import {fields} from "../../lib/book/field.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import {type FileName, fileNames, files, recordName} from "../../lib/book/records.ts";
import {bookSchema, type DataPackage, type JsonSchema, settingsSchema, tableSchema} from "../../lib/book/schemas.ts";
import {parseSettings} from "../../lib/book/settings.ts";
import {recordsOf} from "../book/smallBook.ts";
import {truth} from "../scripts/sample/csvRows.ts";

// What is published of the book in open standards, judged by others' programs: the table schemas by tableschema 1.12.6 (the
// standard's own implementation in JavaScript, of version 1, of which version 2.0 is an extension), the CSV files by csv-parse
// 7.0.3 as the package's dialect says, the JSON Schemas by ajv 8.20.0 (draft 2020-12). None of them knows our reader.

const textOf = (name: string) => readFileSync(`sample-data/${name}`, "utf8");
const datapackage: DataPackage = JSON.parse(textOf("datapackage.json"));
const {settings} = parseSettings(textOf("workshop.json"));
const {book, problems} = parseBook(
  Object.fromEntries(fileNames.map((file) => [file, textOf(file)])) as Record<FileName, string>,
  settings!
);

interface Fault {
  rowNumber: number;
  errors: Error[];
}

/** The rows of a file of the sample, as a program sees them that knows only datapackage.json. */
function rowsOf(name: string): Record<string, string>[] {
  const {path, dialect} = datapackage.resources.find((one) => one.name === name)!;
  return parse(textOf(path), {
    columns: dialect.header,
    delimiter: dialect.delimiter,
    record_delimiter: dialect.lineTerminator,
    quote: dialect.quoteChar,
    escape: dialect.doubleQuote ? dialect.quoteChar : "\\"
  }) as unknown as Record<string, string>[];
}

/** The rows that tableschema refuses; a column that the file lacks is given as blank cells, as version 1 knows no `partial`. */
async function refusedByTableschema(name: string): Promise<number[]> {
  const {schema} = datapackage.resources.find((one) => one.name === name)!;
  const headings = schema.fields.map((field) => field.name);
  const cells = rowsOf(name).map((row) => headings.map((heading) => row[heading] ?? ""));
  const table = await tableschema.Table.load([headings, ...cells], {schema});
  const relations = Object.fromEntries(["lots", "squares", "orders"].map((other) => [other, rowsOf(other)]));
  const read = (await table.read({forceCast: true, relations})) as unknown as unknown[];
  expect(read).toHaveLength(cells.length);
  return read.filter((row) => row instanceof Error).map((fault) => (fault as unknown as Fault).rowNumber);
}

test.each(fileNames)("tableSchema(%j) is a valid descriptor to tableschema, and a broken one is not", async (file) => {
  const valid = await tableschema.Schema.load(tableSchema(file));
  expect(valid.errors).toEqual([]);
  expect(valid.valid).toBe(true);
  const broken = await tableschema.Schema.load({...tableSchema(file), primaryKey: ["not-a-column"]});
  expect(broken.valid).toBe(false);
});

/** The codes of faults that a program can see which knows neither the settings nor what happens in a workshop. */
const seenByOthers = ["cell-unreadable", "number-twice", "lot-unknown", "square-unknown", "order-unknown"];

test("tableschema refuses of the sample the rows that our reader refuses for a cell, a number twice or a reference", async () => {
  const theirs: Record<string, number[]> = {};
  for (const file of fileNames) theirs[file] = await refusedByTableschema(recordName(file));
  const wrong = (file: string, ...whats: string[]) =>
    truth.faults
      .filter(
        (fault: {file: string; what: string}) => fault.file === file && whats.some((w) => fault.what.startsWith(w))
      )
      .map(({row}: {row: number}) => row);
  // By the list of faults that were put in, and by our own reader.
  expect(theirs).toEqual({
    "lots.csv": [],
    "squares.csv": wrong("squares.csv", "a square measured and entered twice"),
    "orders.csv": [],
    "events.csv": wrong("events.csv", "a mass typed with the letter o", "an event of a square that does not exist"),
    "climate.csv": [],
    "advice.csv": []
  });
  for (const file of fileNames) {
    const ours = problems.filter(
      ({file: of, severity, code}) => of === file && severity === "refused" && seenByOthers.includes(code)
    );
    expect([...new Set(ours.map(({row}) => row!))].sort((a, b) => a - b)).toEqual(theirs[file]);
  }
}, 60_000);

test("every reference of a sound row, as datapackage.json states it, is to a sound row", () => {
  const records = Object.fromEntries(fileNames.map((file) => [recordName(file), book![recordName(file)]]));
  const valuesOf = (name: string, heading: string) => {
    const {path} = datapackage.resources.find((one) => one.name === name)!;
    const [key] = fields(files[path].schema).find(([, field]) => field.heading === heading)!;
    return records[name]!.map((record) => (record as unknown as Record<string, string | undefined>)[key]);
  };
  const checked: string[] = [];
  for (const {name, schema} of datapackage.resources) {
    for (const {fields: own, reference} of schema.foreignKeys ?? []) {
      const known = new Set(valuesOf(reference.resource, reference.fields[0]!));
      const values = valuesOf(name, own[0]!).filter((value) => value !== undefined);
      expect(values.length).toBeGreaterThan(100);
      expect(values.filter((value) => !known.has(value))).toEqual([]);
      checked.push(`${name}.${own[0]}`);
    }
  }
  expect(checked).toEqual(["squares.lot", "events.square", "events.order"]);
});

/** Cells at and beyond the bounds of every column, and cells of every other kind. */
const cells = (low = 0, high = 0) =>
  ["", "-", "none", "x", "1.5", "2025-03-14", "2025-02-30", "14.13.2025", "turned"].concat(
    [low, high, low - 1, high + 1].map(String)
  );

test.each(fileNames)("tableschema and our reader take and refuse the same cells of %s", async (file) => {
  const descriptor = tableSchema(file);
  const schema = await tableschema.Schema.load(descriptor);
  const theirs = (row: string[]) => {
    try {
      schema.castRow(row);
      return "taken";
    } catch {
      return "refused";
    }
  };
  const headings = descriptor.fields.map(({name}) => name).join(",");
  const ours = (row: string[]) => {
    const {records} = recordsOf(`${headings}\n${row.join(",")}\n`, file);
    return records.length === 1 ? "taken" : "refused";
  };
  const verdicts = new Set<string>();
  for (const column of descriptor.fields) {
    for (const cell of cells(column.constraints.minimum, column.constraints.maximum)) {
      const row = descriptor.fields.map((one) => (one === column ? cell : one.example));
      expect(`${column.name} ${cell}: ${theirs(row)}`).toBe(`${column.name} ${cell}: ${ours(row)}`);
      verdicts.add(theirs(row));
    }
  }
  expect([...verdicts].sort()).toEqual(["refused", "taken"]);
});

/** A validator of draft 2020-12; strict, but for a list of types, which the standard has and ajv's house style has not. */
const validator = (schema: JsonSchema): ValidateFunction => {
  const ajv = new Ajv2020({strict: true, allowUnionTypes: true, allErrors: true});
  addFormats.default(ajv);
  return ajv.compile(schema);
};

test("bookSchema() holds of the sample book once read, to ajv, record by record", () => {
  const holds = validator(bookSchema());
  const {lots, squares, events, orders, climate} = book!;
  expect(events.length).toBeGreaterThan(15_000);
  expect(holds({lots, squares, events, orders, climate})).toBe(true);
  expect(holds({lots, squares, orders, climate})).toBe(false);
  expect(holds({lots: [{...lots[0]!, colour: "pale"}], squares, events, orders, climate})).toBe(false);
});

test.each(fileNames)(
  "bookSchema(): ajv and the schema that the reader uses take and refuse the same records of %s",
  (file) => {
    const {schema} = files[file];
    const holds = validator((bookSchema().properties as Record<string, JsonSchema>)[recordName(file)]!);
    const declared = fields(schema);
    const sound = Object.fromEntries(
      declared.map(([key, {kind, example}]) => [
        key,
        kind === "number" || kind === "integer" ? Number(example) : example
      ])
    );
    const verdicts = new Set<boolean>();
    for (const [key, {minimum = 0, maximum = 0}] of declared) {
      const values = [undefined, null, "", "x", true, 1.5, [], minimum, maximum, minimum - 1, maximum + 1];
      for (const value of [...values, "2024-02-29", "2025-02-29", "2025-3-1", "turned", "kiln"]) {
        const {[key]: _, ...rest} = sound;
        const record = value === undefined ? rest : {...rest, [key]: value};
        const theirs = holds([record]);
        const said = `${key} ${JSON.stringify(value)}`;
        expect(`${said}: ${theirs}`).toBe(`${said}: ${schema.safeParse(record).success}`);
        verdicts.add(theirs);
      }
    }
    expect(verdicts.size).toBe(2);
  }
);

test.each(fileNames)("bookSchema(): the examples of %s are what they are examples of, to ajv", (file) => {
  const records = (bookSchema().properties as Record<string, JsonSchema>)[recordName(file)]!;
  for (const [key] of fields(files[file].schema)) {
    const schema = (records.items as JsonSchema).properties![key] as JsonSchema;
    expect(schema.examples).toHaveLength(1);
    expect(validator(schema)(schema.examples![0]), key).toBe(true);
  }
});

const stage = (more: object) => ({stages: [{name: "square"}, {name: "finished", ...more}]});
const ash = (low: unknown, high: unknown) => ({species: {ash: {wood: "european-ash", windowKgM3: {low, high}}}});

test.each([
  ["the sample's", JSON.parse(textOf("workshop.json"))],
  ["none", {}],
  ["a name", {name: "Two Benches"}],
  ["a size as a number", stage({largeMm: 29.5})],
  ["a size in inches", stage({largeMm: "1 7/16 in"})],
  ["a density in lb/ft³", ash("41 lb/ft³", "46 lb/ft³")],
  ["how files are kept", {reading: {all: {decimal: "comma"}, lots: {delimiter: ";", headings: {lot: "Los"}}}}],
  ["a supplier", {suppliers: {"Low Fold Sawmill": {minimum: 20}}}]
])("settingsSchema(): ajv takes %s, as we do", (_, json) => {
  expect(parseSettings(JSON.stringify(json)).problems).toEqual([]);
  expect(validator(settingsSchema())(json)).toBe(true);
});

test.each([
  ["a list", []],
  ["a misspelt setting", {stagse: []}],
  ["a misspelt one deeper down", {money: {shaftprice: 95}}],
  ["a text for a number", {money: {shaftPrice: "95"}}],
  ["a price of nothing", {money: {shaftPrice: 0}}],
  ["a negative accuracy", {accuracy: {scaleG: -1}}],
  ["one stage only", {stages: [{name: "square"}]}],
  ["a stage without a name", {stages: [{name: "square"}, {restDays: 3}]}],
  ["a size of nothing", stage({largeMm: 0})],
  ["a size that is true", stage({largeMm: true})],
  ["a season on the 31st", {season: {startsOn: "01-31"}}],
  ["a wood without constants", {species: {oak: {wood: "red-oak", windowKgM3: {low: 600, high: 700}}}}],
  ["half a window", {species: {ash: {wood: "european-ash", windowKgM3: {low: 600}}}}],
  ["a defect of no group", {defects: [{name: "knot", group: "luck"}]}],
  ["a third of a square", {suppliers: {"Low Fold Sawmill": {minimum: 0.3}}}],
  ["records that there are not", {reading: {shafts: {decimal: "comma"}}}],
  ["a decimal mark that there is not", {reading: {all: {decimal: "dot"}}}]
])("settingsSchema(): ajv refuses %s, as we do", (_, json) => {
  expect(parseSettings(JSON.stringify(json)).problems).not.toEqual([]);
  expect(validator(settingsSchema())(json)).toBe(false);
});

// What the standard MUSTs, by its own words: https://datapackage.org/standard/, files content/docs/standard/*.mdx of
// github.com/frictionlessdata/datapackage, commits 0357b955 (data-package), 0ef53f62 (data-resource), 00208e1b (table-schema,
// table-dialect), 28407890 (glossary). The profiles of 2.0 are not kept here: 160 kB of mostly prose; and the one of Table
// Schema contradicts the standard in fieldsMatch, of which it makes an array (issue 965 there: the text holds).
const musts: [quote: string, holds: (descriptor: DataPackage) => boolean][] = [
  [
    "data-package: resources is REQUIRED, with at least one resource",
    ({resources}) => Array.isArray(resources) && resources.length > 0
  ],
  [
    "data-package: the recommended value [of $schema] is https://datapackage.org/profiles/2.0/datapackage.json",
    ({$schema}) => $schema === "https://datapackage.org/profiles/2.0/datapackage.json"
  ],
  [
    "data-package: [name] SHOULD […] consist only of lowercase English alphanumeric characters plus ., - and _",
    ({name}) => /^[a-z0-9._-]+$/.test(name)
  ],
  [
    "data-package: [licenses] MUST be an array. […] The object MUST contain a name property and/or a path property",
    ({licenses}) => Array.isArray(licenses) && licenses.every((one) => "name" in one || "path" in one)
  ],
  [
    "data-package: [contributors] MUST be an array. […] A Contributor MUST have at least one property",
    ({contributors}) => Array.isArray(contributors) && contributors.every((one) => Object.keys(one).length > 0)
  ],
  [
    "data-resource: [name] MUST be unique amongst all resources in this data package",
    ({resources}) => unique(resources.map(({name}) => name)) && resources.every(({name}) => /^[a-z0-9._-]+$/.test(name))
  ],
  [
    "data-resource: one (and only one) of these two properties: path, data",
    ({resources}) => resources.every((one) => "path" in one !== "data" in one)
  ],
  [
    "glossary: [paths] MUST be relative siblings or children of the descriptor",
    ({resources}) => resources.every(({path}) => /^(?!\.|\/|.*\.\.\/)[^\\]+$/.test(path) && textOf(path) !== "")
  ],
  ["data-resource: type […] MUST be […] table", ({resources}) => resources.every(({type}) => type === "table")],
  [
    "table-dialect: header […] MUST be boolean; delimiter, lineTerminator MUST be a string; quoteChar MUST be […] of one character; doubleQuote MUST be boolean",
    ({resources}) =>
      resources.every(
        ({dialect}) =>
          typeof dialect.header === "boolean" &&
          typeof dialect.delimiter === "string" &&
          typeof dialect.lineTerminator === "string" &&
          typeof dialect.quoteChar === "string" &&
          dialect.quoteChar.length === 1 &&
          typeof dialect.doubleQuote === "boolean"
      )
  ],
  [
    "table-schema: fields MUST be an array; name […] MUST be unique amongst other field names",
    inSchemas(({fields: columns}) => Array.isArray(columns) && unique(columns.map(({name}) => name)))
  ],
  [
    "table-schema: a field's type is one of the field types; date, default: MUST be yyyy-mm-dd",
    inSchemas(({fields: columns}) =>
      columns.every(
        ({type, format, example}) =>
          ["string", "number", "integer", "date"].includes(type) &&
          format === "default" &&
          (type !== "date" || /^\d{4}-\d{2}-\d{2}$/.test(example))
      )
    )
  ],
  [
    "table-schema: minimum, maximum: only of integer, number and kinds of time",
    inSchemas(({fields: columns}) =>
      columns.every(
        ({type, constraints}) => type !== "string" || !("minimum" in constraints || "maximum" in constraints)
      )
    )
  ],
  [
    "glossary: RECOMMENDED to use namespace:property naming convention for custom properties",
    inSchemas(({fields: columns}) =>
      columns
        .flatMap((column) => Object.keys(column))
        .every(
          (key) =>
            ["name", "title", "description", "type", "format", "example", "constraints"].includes(key) ||
            /^[a-z]+:[a-zA-Z]+$/.test(key)
        )
    )
  ],
  [
    "table-schema: fieldsMatch MUST be a string: exact, equal, subset, superset or partial",
    inSchemas(({fieldsMatch}) => ["exact", "equal", "subset", "superset", "partial"].includes(fieldsMatch))
  ],
  [
    "table-schema: subset: MUST have all the fields […], but MAY have more; superset: MUST only have fields defined […]; partial: MUST have at least one",
    ({resources}) =>
      resources.every(({name, schema}) => {
        const present = Object.keys(rowsOf(name)[0]!);
        const defined = schema.fields.map((field) => field.name);
        const {fieldsMatch} = schema as {fieldsMatch: string};
        if (fieldsMatch === "subset") return defined.every((one) => present.includes(one));
        if (fieldsMatch === "superset") return present.every((one) => defined.includes(one));
        return fieldsMatch === "partial" && defined.some((one) => present.includes(one));
      })
  ],
  [
    "table-schema: missingValues MUST be an array where each entry is a unique string",
    inSchemas(({missingValues}) => unique(missingValues) && missingValues.every((one) => typeof one === "string"))
  ],
  [
    "table-schema: primaryKey […] MUST be an array of strings with each string corresponding to one of the field name values",
    inSchemas(({primaryKey = [], fields: columns}) =>
      primaryKey.every((key) => columns.some(({name, constraints}) => name === key && constraints.required === true))
    )
  ],
  [
    "table-schema: [reference] MUST have a property fields […] of the same length as the outer fields; resource […] is the name of the resource within the current data package",
    ({resources}) =>
      resources.every(({schema}) =>
        (schema.foreignKeys ?? []).every(({fields: own, reference}) => {
          const other = resources.find(({name}) => name === reference.resource);
          const has = (columns: {name: string}[], key: string) => columns.some(({name}) => name === key);
          return (
            own.length === reference.fields.length &&
            own.every((key) => has(schema.fields, key)) &&
            reference.fields.every((key) => other !== undefined && has(other.schema.fields, key))
          );
        })
      )
  ]
];

test.each(musts)("datapackage.json: %s", (_, holds) => expect(holds(datapackage)).toBe(true));

// Each check finds a fault of its kind.
// biome-ignore lint/suspicious/noExplicitAny: faults are what the type forbids
const broken: [fault: string, quote: string, spoil: (descriptor: any) => void][] = [
  ["no resources", "resources is REQUIRED", (d) => d.resources.splice(0)],
  ["a profile of 1.0", "$schema", (d) => (d.$schema = "https://datapackage.org/profiles/1.0/datapackage.json")],
  ["a name with a space", "[name] SHOULD", (d) => (d.name = "sample book")],
  ["a licence without name", "[licenses]", (d) => delete d.licenses[0].name],
  ["an empty contributor", "[contributors]", (d) => d.contributors.push({})],
  ["two resources of a name", "unique amongst all", (d) => (d.resources[1].name = "lots")],
  ["path and data", "one (and only one)", (d) => (d.resources[0].data = [])],
  ["a path upwards", "relative siblings", (d) => (d.resources[0].path = "../sample-data/lots.csv")],
  ["another type", "type […] MUST", (d) => (d.resources[0].type = "file")],
  ["two quotes", "table-dialect", (d) => (d.resources[0].dialect.quoteChar = '""')],
  ["two columns of a name", "fields MUST be", (d) => (d.resources[0].schema.fields[1].name = "lot")],
  ["an odd type", "one of the field types", (d) => (d.resources[0].schema.fields[0].type = "text")],
  ["a bound of a text", "minimum, maximum", (d) => (d.resources[0].schema.fields[0].constraints.minimum = 1)],
  ["a property of no space", "RECOMMENDED", (d) => (d.resources[0].schema.fields[0].unit = "mm")],
  ["fieldsMatch as a list", "fieldsMatch MUST", (d) => (d.resources[0].schema.fieldsMatch = ["partial"])],
  ["subset, a column lacking", "subset:", (d) => (d.resources[1].schema.fieldsMatch = "subset")],
  ["one missing value twice", "missingValues", (d) => d.resources[0].schema.missingValues.push("-")],
  ["a key of no column", "primaryKey", (d) => (d.resources[0].schema.primaryKey = ["number"])],
  ["a reference to nothing", "[reference]", (d) => (d.resources[1].schema.foreignKeys[0].reference.resource = "yards")]
];

test.each(broken)("a package with %s breaks “%s”", (_, quote, spoil) => {
  const [, holds] = musts.find(([text]) => text.includes(quote))!;
  const spoilt = structuredClone(datapackage);
  spoil(spoilt);
  expect(holds(spoilt)).toBe(false);
});

test("every MUST has a fault that breaks it", () => {
  const tried = broken.map(([, quote]) => musts.findIndex(([text]) => text.includes(quote)));
  expect(tried).toEqual(musts.map((_, index) => index));
});

function inSchemas(holds: (schema: DataPackage["resources"][number]["schema"]) => boolean) {
  return ({resources}: DataPackage) => resources.every(({schema}) => holds(schema));
}

function unique(values: readonly unknown[]): boolean {
  return new Set(values).size === values.length;
}
