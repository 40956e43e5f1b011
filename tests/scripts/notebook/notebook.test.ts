import {execFile} from "node:child_process";
import {mkdirSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {JSDOM} from "jsdom";
import {beforeAll, expect, test} from "vitest";
import {folderOf, type Ran, run} from "../run.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const from = (path: string) => JSON.stringify(pathToFileURL(join(root, path)).href);
const showing = `import {show} from ${from("scripts/notebook/show.ts")};`;
const opening = `import {open} from ${from("scripts/notebook/book.ts")};`;

/** Notebooks that go wrong in each way, each below a cell that shows "before"; and one that does not. */
const notebooks = {
  "01-good.ts": `// %% [markdown]
// # A good one

// %%
${showing}
${opening}
const {book, asOf, histories} = open();
show(0.7315, "fraction");
asOf;

// %%
show([{massG: 300}, {massG: 1234}], {caption: "Two pieces"});
show({columns: ["pieces"], values: [[7]], index: [0]});
console.log("said to the console");

// %%
undefined;

// %%
await Promise.resolve(histories.pieces.length > 1000 && book.settings.money.currency);

// %%
setTimeout(() => show("later"), 20);
new Intl.DateTimeFormat().resolvedOptions().timeZone;
`,
  "02-throws.ts": `${showing}
interface Long {
  x: number;
}
const f = ({x}: Long): number => {
  if (x > 1) throw new RangeError("too big in " + import.meta.url);
  return x;
};
show("before");

// %%
f({x: 1});
show(f({x: 2}));

// %%
show("after");
`,
  "03-syntax.ts": `${showing}\n\n// %%\nshow("before");\n\n// %%\nconst a = ;\n`,
  "04-twice.ts": `${showing}\ntype T = number;\n\n// %%\nlet a: T = 1;\n\n// %%\nlet a = 2;\n`,
  "05-no-file.ts": `${showing}\ntype T = number;\n\n// %%\nimport {a} from "./nowhere.ts";\na;\n`,
  "06-no-export.ts": `${showing}\ntype T = number;\n\n// %%\nimport {nothing} from ${from("lib/check.ts")};\nnothing;\n`,
  "07-late.ts": `${showing}\ntype T = number;\nshow("before");\n\n// %%\nsetTimeout(() => {\n  throw new Error("late");\n}, 20);\n`,
  "08-exits.ts": `${showing}\nshow("before");\n\n// %%\nprocess.exit(3);\n`,
  "09-hangs.ts": `${showing}\nshow("x".repeat(2e6));\nshow("before");\n\n// %%\nfor (;;);\n`,
  "10-no-error.ts": `${showing}\nshow("before");\n\n// %%\nthrow "a text";\n`
};
const folder = folderOf({...notebooks, "package.json": '{"type": "module"}'});
const path = (name: keyof typeof notebooks) => join(folder, name);

let ran: Ran;
const page = (name: string) => new JSDOM(ran.written.get(join("notebooks", `${name}.html`))!).window.document;
const shown = (name: string, cell: number) =>
  [...page(name).querySelectorAll(`#cell-${cell} > :not(h3, .label, .code)`)].map((node) => node.textContent!.trim());

beforeAll(async () => {
  const names = Object.keys(notebooks) as (keyof typeof notebooks)[];
  ran = await run("notebook", [...names.map(path), "--timeout", "20"]);
}, 300_000);

test("every notebook has its page, whatever became of the others; the run ends with 1", () => {
  expect(ran.code).toBe(1);
  const pages = Object.keys(notebooks).map((name) => join("notebooks", name.replace(".ts", ".html")));
  expect([...ran.written.keys()]).toEqual(pages.sort());
  expect(ran.stdout.trim().split("\n")).toHaveLength(pages.length);
});

test("a notebook shows numbers, last values, tables and frames beneath their cells, and nothing for undefined", () => {
  expect(page("01-good").querySelector("h1")!.textContent).toBe("A good one");
  expect(shown("01-good", 1)).toEqual(["73.2\u00a0%", "2026-10-31"]);
  expect(shown("01-good", 2).map((text) => text.replace(/\s+/g, " "))).toEqual([
    "Two pieces Mass (g) 300 1 234 Save as CSV: table-1.csv",
    "1 row Pieces 7 Save as CSV: table-2.csv"
  ]);
  expect(shown("01-good", 3)).toEqual([]);
  expect(shown("01-good", 4)).toEqual(["£"]);
  expect(shown("01-good", 5)).toEqual(["UTC", "later"]);
  expect(ran.stdout).not.toContain("said to the console");
  expect(ran.stderr).toContain("said to the console");
});

test("the page of a notebook that opened the book says which files it read, and the day", () => {
  const footer = page("01-good").querySelector("footer")!.textContent!;
  expect(footer).toMatch(/events\.csv.*workshop\.json/s);
  expect(footer).toContain("npx tsx scripts/notebook.ts 01-good --as-of 2026-10-31");
  expect(page("02-throws").querySelector("footer")!.textContent).toContain("it opened no book");
});

const faults: [string, string, string, RegExp][] = [
  [
    "02-throws",
    "Cell 1, line 6, called from line 13: RangeError: too big in 02-throws.ts",
    "if (x > 1) throw",
    /^RangeError/
  ],
  ["03-syntax", "Cell 3, line 7: Syntax error: Expression expected.", "const a = ;", /Syntax/],
  ["04-twice", "Cell 3, line 8: SyntaxError: Identifier 'a' has already been declared", "let a = 2;", /Syntax/],
  ["05-no-file", "Cell 2, line 5: Cannot find module", "./nowhere.ts", /Cannot/],
  ["06-no-export", "Cell 2, line 5: SyntaxError: The requested module", "import {nothing}", /Syntax/],
  ["07-late", "Cell 2, line 7: late", "throw new Error", /late/],
  ["08-exits", "Cell 2: Its process ended before the notebook did (exit code 3).", "", /process/],
  ["09-hangs", "Cell 2: Stopped after 20 s, as --timeout says: the cell was still running.", "", /Stopped/],
  ["10-no-error", "Cell 2: Thrown: 'a text'", "", /Thrown/]
];

test.each(faults)(
  "%s: “%s” stands in the page and on stderr, with the line and without a stack",
  (name, sentence, source) => {
    const fault = page(name).querySelector(".fault")!.textContent!;
    expect(fault).toContain(sentence);
    expect(fault).toContain(source);
    expect(fault).not.toMatch(/\n\s*at |node:internal/);
    expect(ran.stderr).toContain(`${name}.ts: ${sentence}`);
  }
);

test.each(["02-throws", "07-late", "08-exits", "09-hangs", "10-no-error"])(
  "%s shows what came before the fault, and no cell after",
  (name) => {
    expect(shown(name, 1)).toContain("before");
    expect(page(name).body.textContent).not.toMatch(/^\s*after\s*$/m);
  }
);

test("no page names a folder of this machine, but for what a notebook itself says", () => {
  const all = [...ran.written.values()].join("").replaceAll(pathToFileURL(root).href, "");
  expect(all).not.toContain(folder);
  expect(all).not.toContain(root);
});

test("the same notebook, book and date give the same bytes, in any time zone and locale", {
  timeout: 120_000
}, async () => {
  const names = [path("01-good.ts"), path("02-throws.ts")];
  const again = await run("notebook", names, {TZ: "Pacific/Auckland", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8"});
  expect(again.written.size).toBe(2);
  for (const [name, text] of again.written) expect(text).toBe(ran.written.get(name));
});

test("--as-of and --book reach the notebook; a book that cannot be used ends with 3 and says why", {
  timeout: 120_000
}, async () => {
  const sample = join(root, "sample-data");
  const early = await run("notebook", [path("01-good.ts"), "--as-of", "2025-03-31"]);
  expect(early.code).toBe(0);
  expect([...early.written.values()][0]).toContain('data to <span class="kept">2025-03-31</span>');
  const files = readdirSync(sample).filter((name) => /\.(csv|json)$/.test(name) && name !== "truth.json");
  const book = folderOf(Object.fromEntries(files.map((name) => [name, readFileSync(join(sample, name), "utf8")])));
  writeFileSync(join(book, "lots.csv"), "nonsense\n1\n");
  const broken = await run("notebook", [path("01-good.ts"), "--book", book]);
  expect(broken.code).toBe(3);
  expect(broken.stderr).toMatch(/Cell 1, line 7: The book cannot be used:\n\s*blocking lots\.csv/);
});

test.each([
  [["no-such-notebook"], "There is no notebook “no-such-notebook”. There are: 01-monthly-yield-by-hand"],
  [["--book", "no-such-folder"], "--book must be a folder or a workbook that exists, got “"],
  [["--as-of", "2026-02-31"], "It must be a calendar day like 2026-10-31."],
  [["--timeout", "soon"], "It must be a number of seconds above 0."]
])("notebook %s ends with 2 and says what was wanted", async (args, sentence) => {
  const {code, stderr, written} = await run("notebook", args);
  expect([code, written.size]).toEqual([2, 0]);
  expect(stderr).toContain(sentence);
});

test("two notebooks of one name are refused, as one page would take the place of the other", async () => {
  mkdirSync(join(folder, "other"), {recursive: true});
  writeFileSync(join(folder, "other", "01-good.ts"), "1;");
  const {code, stderr} = await run("notebook", [path("01-good.ts"), join(folder, "other", "01-good.ts")]);
  expect([code, stderr]).toEqual([2, expect.stringContaining("Two notebooks are called 01-good.ts")]);
});

test("run without the runner a notebook prints what it shows, of the sample book", {timeout: 60_000}, async () => {
  const text = await new Promise<string>((done) => {
    execFile(process.execPath, ["--import", "tsx", path("01-good.ts")], {cwd: root}, (_, stdout) => done(stdout));
  });
  expect(text).toBe(
    [
      "73.2\u00a0%",
      "Two pieces",
      "Mass (g)",
      "     300",
      "   1\u202f234",
      "1 row",
      "Pieces",
      "     7",
      "said to the console",
      "later",
      ""
    ].join("\n")
  );
});
