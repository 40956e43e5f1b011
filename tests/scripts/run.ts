import {execFile} from "node:child_process";
import {existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, statSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {dirname, join, relative} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

/** How a command ended, and what it said and wrote. */
export interface Ran {
  code: number;
  stdout: string;
  stderr: string;
  /** The text of every file written, by its path in the folder given as --out. */
  written: Map<string, string>;
}

/** A new folder that holds these files. */
export function folderOf(files: Readonly<Record<string, string>>): string {
  const folder = mkdtempSync(join(tmpdir(), "book-"));
  for (const [name, text] of Object.entries(files)) {
    mkdirSync(dirname(join(folder, name)), {recursive: true});
    writeFileSync(join(folder, name), text);
  }
  return folder;
}

/** Runs a command of scripts/ as its own process, in the repository, with a new folder to write to where no other is given. */
export function run(
  script: string,
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
  out = join(folderOf({}), "out")
): Promise<Ran> {
  const command = [
    "--import",
    "tsx",
    `scripts/${script}.ts`,
    ...args,
    ...(args.includes("--help") ? [] : ["--out", out])
  ];
  const options = {cwd: root, env: {...process.env, ...env}, maxBuffer: 1e8};
  return new Promise((done) => {
    execFile(process.execPath, command, options, (error, stdout, stderr) => {
      const code = error ? (typeof error.code === "number" ? error.code : -1) : 0;
      done({code, stdout, stderr, written: filesOf(out)});
    });
  });
}

/** Runs a command of scripts/ in another folder. */
export function runIn(
  cwd: string,
  script: string,
  ...args: string[]
): Promise<{code: number; stdout: string; stderr: string}> {
  const tsx = pathToFileURL(join(root, "node_modules/tsx/dist/loader.mjs")).href;
  return new Promise((done) => {
    execFile(
      process.execPath,
      ["--import", tsx, join(root, "scripts", `${script}.ts`), ...args],
      {cwd},
      (error, stdout, stderr) => done({code: error ? Number(error.code) : 0, stdout, stderr})
    );
  });
}

/** Every file below a folder, by its path there, in order. */
export function filesOf(folder: string): Map<string, string> {
  if (!existsSync(folder)) return new Map();
  const paths = (inside: string): string[] =>
    readdirSync(inside).flatMap((name) => {
      const path = join(inside, name);
      return statSync(path).isDirectory() ? paths(path) : [path];
    });
  return new Map(
    paths(folder)
      .sort()
      .map((path) => [relative(folder, path), readFileSync(path, "utf8")])
  );
}
