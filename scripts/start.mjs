// Starts a command that reads a book without a compiler: node scripts/start.mjs check --book my-book
// All of them are bundled once, into node_modules/.cache, and anew when a file that went in has changed. `npx tsx scripts/check.ts` does the
// same without a bundle. Measured side by side: --help takes a fifth of the time that it takes with tsx, jsdom and Plot open in six tenths.
import {readFileSync, renameSync, rmSync, statSync, writeFileSync} from "node:fs";
import module from "node:module";
import {join} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import vm from "node:vm";
import {threadId} from "node:worker_threads";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = fileURLToPath(new URL("..", import.meta.url));
const cache = join(root, "node_modules", ".cache", "square-to-shaft");

const [name = ""] = process.argv.splice(2, 1);
const script = join(here, `${name}.ts`);
if (!/^[\w-]+$/.test(name) || !isThere(script)) {
  process.stderr.write(`start: a command must be named, like “node scripts/start.mjs check”, got “${name}”.\n`);
  process.exit(2);
}
process.argv[1] = script;

// From Node.js 22 on, what was compiled of this file is kept too.
module.enableCompileCache?.(join(cache, "compiled"));
const bundles = foundBundles() ?? (await newBundles());
if (bundles?.commands.includes(name)) {
  nameSourceLines();
  loaderOf(bundles)("program.cjs")[name]();
} else {
  await import("tsx");
  await import(pathToFileURL(script).href);
}

function isThere(path) {
  return statSync(path, {throwIfNoEntry: false}) !== undefined;
}

/** The bundles made before, if they are of this Node.js, each file that went in is as it was, and nobody took them away. */
function foundBundles() {
  try {
    const found = JSON.parse(readFileSync(join(cache, "bundles.json"), "utf8"));
    const isAsItWas = ([path, stamp]) => {
      const {size, mtimeMs} = statSync(path);
      return stamp === `${size} ${mtimeMs}`;
    };
    const isCurrent = found.version === process.version && Object.entries(found.stamps).every(isAsItWas);
    return isCurrent && isThere(join(found.folder, "program.cjs")) ? found : undefined;
  } catch {
    return undefined;
  }
}

/** New bundles; undefined where none can be made or kept, say as nothing may be written there. */
async function newBundles() {
  try {
    return await (await import("./start/bundle.mjs")).bundle(root, cache);
  } catch {
    return undefined;
  }
}

/**
 * Loads bundles with what V8 made of them in an earlier run of the same kind, and keeps what it makes of them in the first: a command then compiles
 * next to nothing. Measured side by side: jsdom and Plot with a document made take 0.2 s of 0.45, a check 0.1 s less of 0.45.
 */
function loaderOf({folder, packages}) {
  const ownRequire = module.createRequire(join(root, "package.json"));
  // What a command compiles hangs on what it is asked for: --help little, --json no drawings.
  const way = [name, ...process.argv.slice(2).filter((one) => /^--?[a-z-]+$/.test(one))].join("");
  const load = (file) => {
    const path = join(folder, file);
    const before = ownRequire.cache[path];
    if (before) return before.exports;
    const compiled = join(folder, file === "program.cjs" ? `${way}.compiled` : `${file}.compiled`);
    const cachedData = bytesOf(compiled);
    const text = `(function (exports, require, module, __filename, __dirname) {\n${readFileSync(path, "utf8")}\n})`;
    const script = new vm.Script(text, {
      filename: path,
      lineOffset: -1,
      cachedData,
      importModuleDynamically: vm.constants.USE_MAIN_CONTEXT_DEFAULT_LOADER
    });
    if (!cachedData || script.cachedDataRejected) keepAtExit(script, compiled);
    const made = new module.Module(path);
    made.filename = path;
    ownRequire.cache[path] = made;
    const inBundle = (wanted) => (Object.hasOwn(packages, wanted) ? load(packages[wanted]) : ownRequire(wanted));
    script.runInThisContext()(made.exports, inBundle, made, path, folder);
    return made.exports;
  };
  return load;
}

function bytesOf(path) {
  try {
    return readFileSync(path);
  } catch {
    return undefined;
  }
}

/** Keeps what V8 has made of a script when the command has done its work (0, 4). Without it the next takes longer, and nothing else. */
function keepAtExit(script, path) {
  process.once("exit", (code) => {
    if (code !== 0 && code !== 4) return;
    const own = `${path}-${process.pid}-${threadId}`;
    try {
      writeFileSync(own, script.createCachedData());
      renameSync(own, path);
    } catch {
      rmSync(own, {force: true});
    }
  });
}

/** Lets a fault name the lines of the files as they were written. Their map is read when a fault is told, not before. */
function nameSourceLines() {
  const maps = new Map();
  Error.prepareStackTrace = (error, calls) => [error, ...calls.map((call) => `    at ${placed(call)}`)].join("\n");

  function placed(call) {
    const file = call.getFileName();
    if (!file?.startsWith(cache)) return String(call);
    const [line, column] = [call.getLineNumber(), call.getColumnNumber()];
    const {originalSource, originalLine, originalColumn} = mapOf(file)?.findEntry(line - 1, column - 1) ?? {};
    if (originalSource === undefined) return String(call);
    const source = new URL(originalSource, pathToFileURL(file)).href;
    return String(call).replace(`${file}:${line}:${column}`, `${source}:${originalLine + 1}:${originalColumn + 1}`);
  }

  function mapOf(file) {
    if (!maps.has(file)) {
      try {
        maps.set(file, new module.SourceMap(JSON.parse(readFileSync(`${file}.map`, "utf8"))));
      } catch {
        maps.set(file, undefined);
      }
    }
    return maps.get(file);
  }
}
