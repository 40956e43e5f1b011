import {execFileSync} from "node:child_process";
import {existsSync, readFileSync} from "node:fs";
import {dirname, join, relative} from "node:path";
import {fileURLToPath} from "node:url";
import ts from "typescript";
import {expect, test} from "vitest";

const root = fileURLToPath(new URL("..", import.meta.url));
const tracked = git("ls-files");
/** Also what is not committed yet, so that a fault shows before the commit. */
const files = [...tracked, ...git("ls-files", "--others", "--exclude-standard")].filter((file) =>
  existsSync(join(root, file))
);
const lib = files.filter((file) => /^lib\/.*\.ts$/.test(file));

/** What each folder of lib may import: other folders of lib, and packages ("ml-*" is every package so named). */
const mayImport: Record<string, {lib: string[]; packages: string[]}> = {
  check: {lib: [], packages: []},
  wood: {lib: ["check"], packages: []},
  stats: {lib: ["check"], packages: ["@stdlib/*", "pure-rand", "ml-*", "linear-sum-assignment"]},
  report: {lib: ["check"], packages: []},
  book: {lib: ["check", "wood", "stats"], packages: ["zod", "papaparse", "jsonc-parser", "leven"]},
  yield: {lib: ["check", "wood", "stats", "book"], packages: []},
  defects: {lib: ["check", "wood", "stats", "book"], packages: []},
  density: {lib: ["check", "wood", "stats", "book"], packages: []},
  seasoning: {lib: ["check", "wood", "stats", "book"], packages: []},
  buying: {lib: ["check", "wood", "stats", "book"], packages: []},
  rack: {lib: ["check", "wood", "stats", "book"], packages: []},
  figures: {
    lib: ["check", "wood", "stats", "book", "yield", "defects", "density", "seasoning", "buying", "rack", "report"],
    packages: ["@observablehq/plot"]
  },
  index: {
    lib: "check wood stats book yield defects density seasoning buying rack figures report".split(" "),
    packages: []
  }
};

test("each folder of lib imports only what the table lets it", () => {
  const faults = lib.flatMap((file) =>
    imports(read(file))
      .filter((path) => !allowed(file, path))
      .map((path) => `${file} imports ${path}`)
  );
  expect(faults).toEqual([]);
});

test.each([
  ["lib/yield/lotTable.ts", "../defects/discardRates.ts"],
  ["lib/book/histories.ts", "../yield/lotTable.ts"],
  ["lib/stats/mean.ts", "../wood/density.ts"],
  ["lib/report/html.ts", "../figures/figure.ts"],
  ["lib/wood/density.ts", "../../scripts/command.ts"],
  ["lib/wood/density.ts", "../index.ts"],
  ["lib/wood/density.ts", "node:fs"],
  ["lib/wood/density.ts", "zod"],
  ["lib/book/records.ts", "zod-to-something"],
  ["lib/elsewhere/thing.ts", "../check.ts"]
])("the table does not let %s import %s", (file, path) => expect(allowed(file, path)).toBe(false));

test.each([
  ["lib/figures/stockBars.ts", "../report/quantity.ts"],
  ["lib/report/style/frame.ts", "../tokens.ts"],
  ["lib/stats/random.ts", "pure-rand/utils/skipN"],
  ["lib/stats/jeffreys.ts", "@stdlib/stats-base-dists-beta-quantile"]
])("the table lets %s import %s", (file, path) => expect(allowed(file, path)).toBe(true));

test("imports are found in each way they can be written, and not in comments or texts", () => {
  const text = `import a from "from"; import type {B} from "type"; import "bare"; export * from "export";
    export {c} from "named"; type D = import("inType").D; const e = await import("called");
    // import f from "comment";
    const g = 'import h from "text"';`;
  expect(imports(text).sort()).toEqual(["bare", "called", "export", "from", "inType", "named", "type"]);
});

test("no file of lib reaches for chance, the clock, the console, the process or the net", () => {
  expect(lib.flatMap((file) => impurities(read(file)).map((found) => `${file}: ${found}`))).toEqual([]);
});

test.each([
  ["Math.random()", "Math.random"],
  ["const {random} = Math", "random of Math"],
  ["Date.now()", "Date.now"],
  ["new Date()", "new Date()"],
  ["new Date", "new Date()"],
  ["Date()", "Date()"],
  ["console.log(1)", "console"],
  ["const p = process.env", "process"],
  ["fetch('x')", "fetch"],
  ["globalThis.fetch", "globalThis"],
  ["performance.now()", "performance"],
  ["crypto.randomUUID()", "crypto"]
])("%s is found out", (text, found) => expect(impurities(text)).toContain(found));

test("words in comments, texts and names of fields are no reach", () => {
  expect(impurities("// Math.random\nconst a = {process: 'fetch'}; a.process; new Date(0); Date.UTC(2026)")).toEqual(
    []
  );
});

test("every file of lib that does something has a twin in tests", () => {
  // Files of types alone do nothing; the parts of the style sheet are held by the tests of the whole sheet and of the pages.
  const twins = lib
    .filter((file) => !file.endsWith(".d.ts") && !file.startsWith("lib/report/style/"))
    .filter((file) => /^export (?!interface|type )/m.test(read(file)))
    .map((file) => file.replace(/^lib/, "tests").replace(/\.ts$/, ".test.ts"));
  expect(twins.length).toBeGreaterThan(50);
  expect(twins.filter((twin) => !files.includes(twin))).toEqual([]);
});

test("the top level of the repository holds what belongs there, and no more", () => {
  const belongs =
    "README.md DEVELOPERS.md LICENSE package.json package-lock.json tsconfig.json tsconfig.lib.json biome.json vitest.config.ts .npmrc .gitignore .gitattributes .ci lib notebooks scripts tests sample-data".split(
      " "
    );
  const top = [...new Set(tracked.map((file) => file.split("/")[0]!))];
  expect(top).toContain("lib");
  expect(top.filter((name) => !belongs.includes(name))).toEqual([]);
});

test("no committed text file names the folder beside the repository", () => {
  const folder = [".", ".", "/shared"].join("");
  const naming = tracked.filter((file) => existsSync(join(root, file)) && read(file).includes(folder));
  expect(naming).toEqual([]);
});

function git(...args: string[]): string[] {
  return execFileSync("git", ["-C", root, ...args, "-z"], {encoding: "utf8"})
    .split("\0")
    .filter((file) => file !== "");
}

function read(file: string): string {
  return readFileSync(join(root, file), "utf8");
}

/** "wood" for lib/wood/density.ts, "check" for lib/check.ts; undefined outside of lib. */
function folderOf(file: string): string | undefined {
  return /^lib\/([^/]+?)(\.ts|\/.*)$/.exec(file)?.[1];
}

function allowed(file: string, path: string): boolean {
  const folder = folderOf(file)!;
  const rule = mayImport[folder];
  if (!rule) return false;
  if (!path.startsWith("."))
    return rule.packages.some((name) =>
      name.endsWith("*") ? path.startsWith(name.slice(0, -1)) : path === name || path.startsWith(`${name}/`)
    );
  const target = folderOf(relative(root, join(root, dirname(file), path)));
  return target !== undefined && (target === folder || rule.lib.includes(target));
}

/** Every module that a text imports, be it by a statement, a call or a type. */
function imports(text: string): string[] {
  const found: string[] = [];
  visit(text, (node) => {
    if ((ts.isImportDeclaration(node) || ts.isExportDeclaration(node)) && node.moduleSpecifier)
      found.push((node.moduleSpecifier as ts.StringLiteral).text);
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword) {
      const [path] = node.arguments;
      found.push(path && ts.isStringLiteralLike(path) ? path.text : "a path that is worked out");
    }
    if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument) && ts.isStringLiteral(node.argument.literal))
      found.push(node.argument.literal.text);
  });
  return found;
}

const globals = new Set(
  "console process fetch performance crypto globalThis document navigator require setTimeout XMLHttpRequest".split(" ")
);

/** What a text reaches for that would make it depend on more than its arguments. */
function impurities(text: string): string[] {
  const found: string[] = [];
  visit(text, (node) => {
    if (ts.isPropertyAccessExpression(node) || ts.isElementAccessExpression(node)) {
      const access = node
        .getText()
        .replace(/\?\./, ".")
        .replace(/\[["'`](\w+)["'`]\]$/, ".$1");
      if (access === "Math.random" || access === "Date.now") found.push(access);
    }
    if (
      ts.isVariableDeclaration(node) &&
      node.initializer?.getText() === "Math" &&
      /\brandom\b/.test(node.name.getText())
    )
      found.push("random of Math");
    if (ts.isNewExpression(node) && node.expression.getText() === "Date" && !node.arguments?.length)
      found.push("new Date()");
    if (ts.isCallExpression(node) && node.expression.getText() === "Date") found.push("Date()");
    if (ts.isIdentifier(node) && globals.has(node.text) && !isName(node)) found.push(node.text);
  });
  return found;
}

/** Whether an identifier only names a field. */
function isName(node: ts.Identifier): boolean {
  const {parent} = node;
  if (ts.isPropertyAccessExpression(parent)) return parent.name === node;
  return (
    (ts.isPropertyAssignment(parent) || ts.isPropertySignature(parent) || ts.isMethodSignature(parent)) &&
    parent.name === node
  );
}

function visit(text: string, look: (node: ts.Node) => void): void {
  const walk = (node: ts.Node) => {
    look(node);
    ts.forEachChild(node, walk);
  };
  walk(ts.createSourceFile("file.ts", text, ts.ScriptTarget.Latest, true));
}
