import {existsSync, mkdtempSync, readFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {dirname, join} from "node:path";
import {fileURLToPath} from "node:url";

/** Notes in a file every module that an import leads to, and at the end every file that was required. */
const notes = `import {appendFileSync} from "node:fs"; import module from "node:module";
const hooks = \`import {appendFileSync} from "node:fs";
export async function resolve(name, context, next) {
  const found = await next(name, context);
  appendFileSync(process.env.LOADED, found.url + "\\\\n");
  return found;
}\`;
module.register("data:text/javascript," + encodeURIComponent(hooks));
const {cache} = module.createRequire(process.cwd() + "/");
process.on("exit", () => appendFileSync(process.env.LOADED, Object.keys(cache).join("\\n")));`;

/** What is put before a command so that `filesLoaded` can tell of it, and the name of its list. */
export function listing(): {before: string[]; env: {LOADED: string}} {
  const LOADED = join(mkdtempSync(join(tmpdir(), "loaded-")), "list");
  return {before: ["--import", `data:text/javascript,${encodeURIComponent(notes)}`], env: {LOADED}};
}

/** The files that a process loaded; for a bundle those that went into it. */
export function filesLoaded({LOADED}: {LOADED: string}): string[] {
  return readFileSync(LOADED, "utf8")
    .split("\n")
    .filter((line) => line !== "")
    .map((line) => (line.startsWith("file:") ? fileURLToPath(line) : line))
    .flatMap((path) => [path, ...sourcesOf(`${path}.map`)]);
}

function sourcesOf(map: string): string[] {
  if (!map.includes("square-to-shaft") || !existsSync(map)) return [];
  const {sources}: {sources: string[]} = JSON.parse(readFileSync(map, "utf8"));
  return sources.map((source) => join(dirname(map), source));
}
