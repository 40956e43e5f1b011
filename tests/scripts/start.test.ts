import {execFile, spawnSync} from "node:child_process";
import {cpSync, mkdirSync, readdirSync, readFileSync, rmSync, symlinkSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {basename, join} from "node:path";
import {fileURLToPath} from "node:url";
import {expect, test} from "vitest";
import {texts} from "../book/smallBook.ts";
import {filesLoaded, listing} from "./loaded.ts";
import {folderOf} from "./run.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** A toolkit of one command, and of what is needed to start it. */
function smallToolkit(): string {
  const folder = folderOf({
    "package.json": JSON.stringify({type: "module"}),
    "scripts/hello.ts": [
      'import {readFileSync} from "node:fs";',
      'import {word} from "../lib/word.ts";',
      "const command = async (work: () => void): Promise<void> => work();",
      "void command(() => {",
      '  if (process.argv.includes("--fail")) throw new Error("on purpose");',
      '  if (process.argv.includes("--mistyped")) process.exit(2);',
      '  const own = readFileSync(new URL("hello.ts", import.meta.url), "utf8");',
      '  console.log(word, process.argv.slice(2).join(" "), own.split("\\n").length);',
      "});"
    ].join("\n"),
    "lib/word.ts": 'export const word: string = /^[↑↓]/.test("↓ 5 °C") ? "good day" : "letters lost";'
  });
  cpSync(join(root, "scripts/start.mjs"), join(folder, "scripts/start.mjs"));
  cpSync(join(root, "scripts/start"), join(folder, "scripts/start"), {recursive: true});
  mkdirSync(join(folder, "node_modules"));
  writeFileSync(join(folder, "node_modules/.package-lock.json"), "{}");
  for (const name of ["esbuild", "tsx"])
    symlinkSync(join(root, "node_modules", name), join(folder, "node_modules", name), "junction");
  return folder;
}

const start = (toolkit: string, ...args: string[]) =>
  spawnSync(process.execPath, [join(toolkit, "scripts/start.mjs"), ...args], {cwd: tmpdir(), encoding: "utf8"});
const cacheOf = (toolkit: string) => join(toolkit, "node_modules/.cache/square-to-shaft");
const noteOf = (toolkit: string) => readFileSync(join(cacheOf(toolkit), "bundles.json"), "utf8");

test("a command starts from its bundle with its arguments and its own place, and from a new one when a file has changed", () => {
  const toolkit = smallToolkit();
  expect(start(toolkit, "hello", "--book", "a b")).toMatchObject({
    stdout: "good day --book a b 9\n",
    stderr: "",
    status: 0
  });
  const note = noteOf(toolkit);
  expect(start(toolkit, "hello").stdout).toBe("good day  9\n");
  expect(noteOf(toolkit)).toBe(note);
  writeFileSync(join(toolkit, "lib/word.ts"), 'export const word: string = "good night";');
  expect(start(toolkit, "hello").stdout).toBe("good night  9\n");
  expect(noteOf(toolkit)).not.toBe(note);
});

test("a bundle that was taken away is made anew", () => {
  const toolkit = smallToolkit();
  start(toolkit, "hello");
  for (const name of readdirSync(cacheOf(toolkit)).filter((one) => one.startsWith("bundles-")))
    rmSync(join(cacheOf(toolkit), name), {recursive: true});
  expect(start(toolkit, "hello").stdout).toBe("good day  9\n");
});

test("what was compiled is kept for each way of asking; where it cannot be used, the command does the same without", () => {
  const toolkit = smallToolkit();
  const compiled = () => {
    const {folder} = JSON.parse(noteOf(toolkit)) as {folder: string};
    return readdirSync(folder)
      .filter((file) => file.endsWith(".compiled"))
      .map((file) => join(folder, file));
  };
  start(toolkit, "hello", "--out", "x y");
  start(toolkit, "hello", "--out", "z");
  start(toolkit, "hello", "--help");
  start(toolkit, "hello", "--mistyped");
  expect(compiled().map((path) => basename(path))).toEqual(["hello--help.compiled", "hello--out.compiled"]);
  for (const path of compiled()) writeFileSync(path, "nothing that V8 knows");
  expect(start(toolkit, "hello", "--out", "x")).toMatchObject({stdout: "good day --out x 9\n", stderr: "", status: 0});
  for (const path of compiled()) {
    rmSync(path);
    mkdirSync(path);
  }
  const {folder} = JSON.parse(noteOf(toolkit)) as {folder: string};
  const before = readdirSync(folder);
  expect(start(toolkit, "hello", "--out", "x")).toMatchObject({stdout: "good day --out x 9\n", stderr: "", status: 0});
  expect(readdirSync(folder)).toEqual(before);
});

test("two commands that start at once, with no bundle yet, do not meet", async () => {
  const toolkit = smallToolkit();
  const one = (): Promise<string> =>
    new Promise((done, fail) => {
      execFile(process.execPath, [join(toolkit, "scripts/start.mjs"), "hello"], (error, stdout) =>
        error ? fail(error) : done(stdout)
      );
    });
  expect(await Promise.all([one(), one(), one()])).toEqual(["good day  9\n", "good day  9\n", "good day  9\n"]);
});

test("where no bundle can be kept, the command does the same without", () => {
  const toolkit = smallToolkit();
  writeFileSync(join(toolkit, "node_modules/.cache"), "a file where a folder is wanted");
  expect(start(toolkit, "hello", "--out", "x")).toMatchObject({stdout: "good day --out x 9\n", stderr: "", status: 0});
});

test("a fault names the line as it was written", () => {
  const toolkit = smallToolkit();
  for (let time = 0; time < 2; time++) {
    const {stderr, status} = start(toolkit, "hello", "--fail");
    expect(status).toBe(1);
    expect(stderr).toContain("Error: on purpose");
    expect(stderr).toMatch(/scripts\/hello\.ts:5:\d+/);
  }
});

test.each([[], ["nothing-so-named"], ["../scripts/hello"]])("start %s is wrong usage", (...args: string[]) => {
  const {status, stderr} = start(root, ...args);
  expect(status).toBe(2);
  expect(stderr).toContain("a command must be named, like “node scripts/start.mjs check”");
});

test("every command that reads a book is run by start, and its npm script is no other", () => {
  const {scripts} = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as {scripts: Record<string, string>};
  const commands = readdirSync(join(root, "scripts"))
    .filter((name) => name.endsWith(".ts"))
    .filter((name) => readFileSync(join(root, "scripts", name), "utf8").includes("void command"))
    .map((name) => name.slice(0, -".ts".length));
  expect(commands).toContain("check");
  for (const name of commands) expect(scripts[name]).toBe(`node scripts/start.mjs ${name}`);
});

/** The files that a command loads, started from its bundle and by tsx. */
function loadedBy(...args: string[]): [string, string[]][] {
  const more = args.includes("--help") ? [] : ["--book", folderOf(texts()), "--out", folderOf({})];
  const [name, ...options] = args;
  return [
    ["start", ["scripts/start.mjs", name!]] as const,
    ["tsx", ["--import", "tsx", `scripts/${name}.ts`]] as const
  ].map(([how, command]) => {
    const {before, env} = listing();
    const {status, stderr} = spawnSync(process.execPath, [...before, ...command, ...options, ...more], {
      cwd: root,
      env: {...process.env, ...env},
      encoding: "utf8",
      maxBuffer: 1e8
    });
    expect(status, stderr).toBe(0);
    return [how, filesLoaded(env)];
  });
}

const heavy = /node_modules\/(jsdom|@observablehq\/plot|danfojs)\//;
const slashed = (path: string) => path.replaceAll("\\", "/");
const commands = "check counts labels monthly rack report season seasoning stocktake suppliers yard-card".split(" ");

test.concurrent.each([
  ...commands.map((name) => [name, "--help"]),
  ["check", "--strict"],
  ["check", "--json"],
  ...["monthly", "suppliers", "season", "seasoning", "rack", "yard-card", "counts", "report"].map((name) => [
    name,
    "--json"
  ])
])("%s %s loads neither jsdom nor Plot nor danfo", {timeout: 600_000}, (...args: string[]) => {
  for (const [how, files] of loadedBy(...args)) {
    expect(
      files.some((file) => slashed(file).endsWith("lib/book/parseBook.ts")),
      how
    ).toBe(true);
    expect(
      files.filter((file) => heavy.test(slashed(file))),
      how
    ).toEqual([]);
  }
});

test("the list tells of jsdom and Plot where they are loaded", {timeout: 600_000}, () => {
  for (const [how, files] of loadedBy("rack"))
    expect(
      files.some((file) => heavy.test(slashed(file))),
      how
    ).toBe(true);
});
