import {execFile} from "node:child_process";
import {mkdtempSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join as path} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {DataFrame, Series} from "danfojs";
import fc from "fast-check";
import {expect, test} from "vitest";
import {type Frame, frame, rowsOf} from "../../../scripts/notebook/frame.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));

interface Square {
  id: string;
  day: string;
  massG?: number;
  dry?: boolean;
  note?: string;
}

const squares: Square[] = [
  {id: "a1", day: "2026-01-31", massG: 412.5, dry: true},
  {id: "a2", day: "2026-02-01", massG: 398, dry: false, note: "pin knot"},
  {id: "a3", day: "2026-02-01", note: "split"}
];

test("a frame has a column for each field, in the order in which they first come", async () => {
  const df = await frame(squares);
  expect(df).toBeInstanceOf(DataFrame);
  expect(df.shape).toEqual([3, 5]);
  expect(df.columns).toEqual(["id", "day", "massG", "dry", "note"]);
  expect(df.dtypes).toEqual(["string", "string", "float32", "boolean", "string"]);
});

test("missing is NaN in every column, and danfo knows it", async () => {
  const df = await frame(squares);
  expect(df.column("massG").values).toEqual([412.5, 398, Number.NaN]);
  expect(df.column("dry").values).toEqual([true, false, Number.NaN]);
  expect(df.column("note").values).toEqual([Number.NaN, "pin knot", "split"]);
  expect(df.column("note").isNa().values).toEqual([true, false, false]);
  expect(df.column("massG").mean()).toBe(405.25);
});

test("a field that is nowhere filled is a column of missing numbers", async () => {
  const df = await frame([
    {id: "a1", massG: undefined},
    {id: "a2", massG: undefined}
  ]);
  expect(df.dtypes).toEqual(["string", "float32"]);
  expect(rowsOf(df)).toStrictEqual([
    {id: "a1", massG: undefined},
    {id: "a2", massG: undefined}
  ]);
});

test("days stay the text they are", async () => {
  const df = await frame(squares);
  expect(df.column("day").values).toEqual(["2026-01-31", "2026-02-01", "2026-02-01"]);
});

test("rows come back with every column, undefined where the value is missing", async () => {
  expect(rowsOf(await frame(squares))).toStrictEqual([
    {id: "a1", day: "2026-01-31", massG: 412.5, dry: true, note: undefined},
    {id: "a2", day: "2026-02-01", massG: 398, dry: false, note: "pin knot"},
    {id: "a3", day: "2026-02-01", massG: undefined, dry: undefined, note: "split"}
  ]);
});

const precise = [
  0.1,
  1 / 3,
  123456.789012345,
  Number.MAX_SAFE_INTEGER,
  -Number.MAX_SAFE_INTEGER,
  2 ** 31,
  16777217,
  5e-324,
  Number.MAX_VALUE,
  Number.POSITIVE_INFINITY,
  -0
];

test("numbers keep their 64 bits through the frame, its head, its columns and the way back", async () => {
  const df = await frame(precise.map((x) => ({x, name: "n"})));
  expect(df.column("x").values).toEqual(precise);
  expect(rowsOf(df.head(11)).map(({x}) => x)).toEqual(precise);
  expect(rowsOf(df).map(({x}) => x)).toEqual(precise);
  expect(precise.filter((x) => Math.fround(x) !== x)).toHaveLength(8); // what 32 bits would have changed
});

const members = new DataFrame([]);
const cell = {
  number: fc.double({noNaN: true}),
  string: fc.oneof(fc.string({unit: "grapheme"}), fc.constantFrom("", "NaN", "null", "007", "2026-02-01")),
  boolean: fc.boolean()
};
const flatRows = fc
  .uniqueArray(
    fc.tuple(
      fc.oneof(fc.string(), fc.constantFrom("2026", "massG", "a b")).filter((name) => !(name in members)),
      fc.constantFrom(cell.number, cell.string, cell.boolean)
    ),
    {selector: ([name]) => name, minLength: 1, maxLength: 5}
  )
  .chain((fields) => {
    const row = fields.map(([name, value]): [string, fc.Arbitrary<number | string | boolean | undefined>] => [
      name,
      fc.option(value as fc.Arbitrary<number | string | boolean>, {nil: undefined})
    ]);
    const [first, ...others] = row;
    // The first field is always there, though it may be undefined: a row without a field is refused.
    return fc.array(
      fc
        .tuple(fc.record(Object.fromEntries([first!])), fc.record(Object.fromEntries(others), {requiredKeys: []}))
        .map(([a, b]) => ({...a, ...b})),
      {maxLength: 30}
    );
  });

test("any flat rows come back as they were", async () => {
  await fc.assert(
    fc.asyncProperty(flatRows, async (rows) => {
      const names = new Set(rows.flatMap((row) => Object.keys(row)));
      const filled = rows.map((row) => Object.fromEntries([...names].map((name) => [name, row[name]])));
      const df = await frame(rows);
      expect(df.columns).toEqual([...names]);
      expect(rowsOf(df)).toStrictEqual(filled);
    }),
    {numRuns: 300}
  );
});

test("no rows make a frame without columns, and come back", async () => {
  const df = await frame<Square>([]);
  expect(df.shape).toEqual([0, 0]);
  expect(rowsOf(df)).toEqual([]);
});

test("a single row and a single cell come back", async () => {
  expect(rowsOf(await frame([{id: "a1", massG: 1.5}]))).toEqual([{id: "a1", massG: 1.5}]);
  expect(rowsOf(await frame([{massG: 1.5}]))).toEqual([{massG: 1.5}]);
});

test("head and tail are frames of the first and last rows, also when there are fewer", async () => {
  const df = await frame(squares);
  const ids = (part: Frame<Square>) => rowsOf(part).map(({id}) => id);
  expect(ids(df.head(2))).toEqual(["a1", "a2"]);
  expect(ids(df.tail(1))).toEqual(["a3"]);
  expect(ids(df.head(9))).toEqual(["a1", "a2", "a3"]);
});

test("the rows given are not changed, nor the rows got back by another change", async () => {
  const rows = [{id: "a1", massG: 1}];
  Object.freeze(rows[0]);
  const df = await frame(Object.freeze(rows));
  rowsOf(df)[0]!.massG = 2;
  expect(rowsOf(df)).toEqual([{id: "a1", massG: 1}]);
});

/** As from a caller without the compiler. */
const unchecked = frame as (rows: readonly object[]) => Promise<unknown>;

test.each<[string, object[], string]>([
  [
    "text among numbers",
    [{massG: undefined}, {massG: 412.5}, {massG: "heavy"}],
    'frame: rows[2].massG must be a number as rows[1].massG is (a column has one type: convert one of them), got "heavy".'
  ],
  [
    "a number among text",
    [{lot: "7"}, {lot: 8}],
    "frame: rows[1].lot must be text as rows[0].lot is (a column has one type: convert one of them), got 8."
  ],
  [
    "a number among booleans",
    [{dry: true}, {dry: 1}],
    "frame: rows[1].dry must be true or false as rows[0].dry is (a column has one type: convert one of them), got 1."
  ],
  [
    "NaN, which would come back as missing",
    [{massG: 1}, {massG: Number.NaN}],
    "frame: rows[1].massG must be a number, or undefined where it is missing, got NaN."
  ],
  [
    "a list",
    [{interval: [1, 2]}],
    "frame: rows[0].interval must be a number, text, boolean or undefined (take lists and objects apart), got 1,2."
  ],
  [
    "null",
    [{massG: 1}, {massG: null}],
    "frame: rows[1].massG must be a number, text, boolean or undefined (take lists and objects apart), got null."
  ],
  [
    "a Date",
    [{day: new Date(Number.NaN)}],
    "frame: rows[0].day must be a number, text, boolean or undefined (take lists and objects apart), got Invalid Date."
  ],
  [
    "a column that would hide a member of danfo",
    [{mean: 1}],
    'frame: column must be no member of a DataFrame (rename it: the unit helps), got "mean".'
  ],
  ["rows without a field", [{}, {}], 'frame: rows must be of one field or more, got "no field".']
])("%s is refused", async (_, rows, sentence) => {
  await expect(unchecked(rows)).rejects.toThrow(new RangeError(sentence));
});

test("the compiler refuses nested rows, unknown columns and arithmetic in 32 bits", async () => {
  const df = await frame(squares);
  const mass: number | undefined = rowsOf(df)[0]!.massG;
  expect(mass).toBe(412.5);
  // @ts-expect-error: a list is no cell
  await expect(frame([{interval: [1, 2]}])).rejects.toThrow(RangeError);
  // @ts-expect-error: no such column
  expect(() => df.column("masG").values).toThrow();
  // @ts-expect-error: danfo's own arithmetic, left out of the type
  expect(df.mul).toBeTypeOf("function");
});

// danfo 1.2.0 as it is. When one of these fails, danfo is mended there and the detour in frame.ts can go.

test("danfo puts the values of row objects into columns by their order in each row", () => {
  const rows = [
    {id: "a1", massG: 1, note: "ok"},
    {id: "a2", note: "ok", massG: 2}
  ];
  expect(new DataFrame(rows).column("massG").values).toEqual([1, "ok"]);
});

test("danfo throws for columns without rows, breaks on typed arrays, and puts columns named by numbers first", () => {
  expect(() => new DataFrame({massG: []})).toThrow("end must be greater than start");
  expect(() => new DataFrame({massG: Float64Array.of(1, 2)}).column("massG").values).toThrow("length mismatch");
  expect(new DataFrame({species: ["ash"], "2026": [1]}).columns).toEqual(["2026", "species"]);
});

test("danfo guesses the type of a column from its first 20 rows", () => {
  const late = [...Array<number>(30).fill(1), "heavy"];
  expect(new DataFrame({massG: late}).dtypes).toEqual(["int32"]);
});

test("danfo's arithmetic of a frame rounds to 32 bits, that of a column does not", () => {
  expect(new DataFrame({massG: [1234.56]}).mul(1).values).toEqual([[1234.56005859375]]);
  expect(new Series([1234.56]).mul(1).values).toEqual([1234.56]);
});

test("danfo's describe is spoilt by one missing value, its sort does not sort around it", () => {
  const df = new DataFrame({massG: [3, Number.NaN, 1], ringWidthMm: [1, 2, 3]});
  const [, mean] = df.describe().column("massG").values; // count, mean, …
  expect(mean).toBeNaN();
  expect(df.column("massG").mean()).toBe(2);
  expect(df.sortValues("massG").column("massG").values).toEqual([3, Number.NaN, 1]);
});

test("danfo's frames break when a column is named as one of their members", () => {
  expect(new DataFrame({mean: [1]}).mean).not.toBeTypeOf("function");
  expect(() => new DataFrame({columns: [1]}).columns).toThrow("call stack");
});

// Loaded only where used.

const listing = path(mkdtempSync(path(tmpdir(), "frame-")), "listing.mjs");
writeFileSync(
  listing,
  `import Module from "node:module";
process.on("exit", () => console.log("danfo files:", Object.keys(Module._cache).filter((file) => /[\\\\/]danfojs[\\\\/]/.test(file)).length));`
);

function run(...args: string[]): Promise<{code: number; stdout: string; stderr: string}> {
  const command = ["--import", "tsx", "--import", pathToFileURL(listing).href, ...args];
  return new Promise((done) =>
    execFile(process.execPath, command, {cwd: root}, (error, stdout, stderr) =>
      done({code: error ? Number(error.code) : 0, stdout, stderr})
    )
  );
}

const evaluate = (code: string) => run("--input-type=module", "--eval", code);

test("the report and the library load no file of danfo", async () => {
  const report = await run("scripts/report.ts", "--out", mkdtempSync(path(tmpdir(), "report-")));
  expect(report.code, report.stderr).toBe(0);
  expect(report.stdout).toMatch(/danfo files: 0\n$/);
  expect(await evaluate('await import("./lib/index.ts");')).toEqual({code: 0, stdout: "danfo files: 0\n", stderr: ""});
});

test("danfo is loaded by the first frame, not by the import, and prints nothing", async () => {
  const imported = 'const {frame} = await import("./scripts/notebook/frame.ts");';
  expect(await evaluate(imported)).toEqual({code: 0, stdout: "danfo files: 0\n", stderr: ""});
  const used = await evaluate(`${imported} (await frame([{massG: 1}, {massG: 2}])).mul(2);`);
  expect(used).toMatchObject({code: 0, stderr: ""});
  expect(used.stdout).toMatch(/^danfo files: [1-9]\d*\n$/);
});

test("no file but frame.ts names danfo's package", async () => {
  const {stdout} = await new Promise<{stdout: string}>((done) =>
    execFile("git", ["ls-files", "lib", "scripts", "notebooks"], {cwd: root}, (_, stdout) => done({stdout}))
  );
  const files = stdout.split("\n").filter((file) => file.endsWith(".ts"));
  const naming = files.filter((file) => /["']danfojs/.test(readFileSync(path(root, file), "utf8")));
  expect(files.length).toBeGreaterThan(100);
  expect(naming.filter((file) => file !== "scripts/notebook/frame.ts")).toEqual([]);
});
