import {mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {build} from "esbuild";

/** Packages that read files of their own or start processes, so that they must lie where they were put. */
const apart = ["jsdom", "esbuild", "tsx", "typescript", "danfojs"];

/** A bundle that nobody has made use of for so long, ms, is of a command that has ended. */
const old = 24 * 3600 * 1000;

/**
 * Bundles a command of scripts/ into a new folder of the cache, and notes the files that went in. Two at once do not meet: each writes a folder
 * of its own, and the note, put in its place last, names one of them.
 *
 * @returns the path of the bundle's first file
 * @throws Error when a file cannot be read as TypeScript, or the cache not be written
 */
export async function bundle({name, root, cache}) {
  mkdirSync(cache, {recursive: true});
  const folder = mkdtempSync(join(cache, `${name}-`));
  const lock = join(root, "node_modules", ".package-lock.json");
  // Stamped before they are read: what is saved meanwhile is found to have changed.
  const stamps = new Map(
    [lock, join(root, "package.json"), fileURLToPath(import.meta.url)].map((path) => [path, stampOf(path)])
  );
  const ownPlace = {
    name: "each file keeps its own import.meta.url",
    setup(builder) {
      builder.onLoad({filter: /\.ts$/}, ({path}) => {
        if (path.includes("node_modules")) return undefined;
        stamps.set(path, stampOf(path));
        const text = readFileSync(path, "utf8");
        return {contents: text.replaceAll("import.meta.url", JSON.stringify(pathToFileURL(path).href)), loader: "ts"};
      });
    }
  };
  await build({
    entryPoints: [join(root, "scripts", `${name}.ts`)],
    absWorkingDir: root,
    outdir: folder,
    outExtension: {".js": ".mjs"},
    bundle: true,
    splitting: true,
    format: "esm",
    platform: "node",
    target: "node20",
    mainFields: ["module", "main"],
    external: apart,
    minifySyntax: true,
    minifyWhitespace: true,
    lineLimit: 160,
    sourcemap: "external",
    sourcesContent: false,
    banner: {js: 'import {createRequire as requireFrom} from "node:module"; const require = requireFrom(import.meta.url);'},
    plugins: [ownPlace],
    tsconfigRaw: {},
    logLevel: "silent"
  });
  const entry = join(folder, `${name}.mjs`);
  const note = join(folder, "note.json");
  writeFileSync(note, JSON.stringify({made: {node: process.version, root, entry}, files: Object.fromEntries(stamps)}));
  renameSync(note, join(cache, `${name}.json`));
  sweep(cache, name, folder);
  return entry;
}

function stampOf(path) {
  const {size, mtimeMs} = statSync(path);
  return `${size} ${mtimeMs}`;
}

/** Takes away what earlier bundles left, once no command can be running on them any more. */
function sweep(cache, name, kept) {
  for (const one of readdirSync(cache)) {
    const path = join(cache, one);
    if (!one.startsWith(`${name}-`) || path === kept || Date.now() - statSync(path).mtimeMs < old) continue;
    rmSync(path, {recursive: true, force: true});
  }
}
