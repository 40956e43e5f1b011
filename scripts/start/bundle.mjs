import {mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, statSync, writeFileSync} from "node:fs";
import {dirname, join, relative} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {build} from "esbuild";
import {tsImport} from "tsx/esm/api";

/** Packages that start programs of their own or are hardly ever wanted: they stay where they were put. */
const apart = ["esbuild", "tsx", "typescript", "danfojs"];

/** Packages that only drawings want: each is a bundle of its own, loaded when it is first asked for. */
const forDrawings = {jsdom: "jsdom.cjs", "@observablehq/plot": "plot.cjs"};

/** How long, ms, a folder of earlier bundles is kept, as a command that was started from it may be running still. */
const kept = 3600 * 1000;

/**
 * Bundles all commands that read a book into a new folder of the cache, and notes the files that went in. Two at once do not meet: each writes a
 * folder of its own, and the note, put in its place last, names one of them.
 *
 * @param {string} root the folder of the toolkit
 * @param {string} cache where the folders of bundles lie
 * @returns {Promise<Bundles>}
 * @throws Error when a file cannot be read as TypeScript, or nothing may be written
 *
 * @typedef {object} Bundles
 * @property {string} folder where they lie: program.cjs, which exports a function for each command that runs it, and the packages
 * @property {readonly string[]} commands
 * @property {Record<string, string>} packages the files of packages that are bundles of their own, by the name that imports say
 * @property {string} version of Node.js
 * @property {Record<string, string>} stamps size and time of each file that went in
 */
export async function bundle(root, cache) {
  mkdirSync(cache, {recursive: true});
  const folder = mkdtempSync(join(cache, "bundles-"));
  try {
    const made = {folder, version: process.version, ...(await bundled(root, folder))};
    const note = join(folder, "bundles.json");
    writeFileSync(note, JSON.stringify(made));
    renameSync(note, join(cache, "bundles.json"));
    tidy(cache, folder);
    return made;
  } catch (error) {
    rmSync(folder, {recursive: true, force: true});
    throw error;
  }
}

/** Takes away folders that are older, and in use no more. */
function tidy(cache, folder) {
  for (const name of readdirSync(cache)) {
    const path = join(cache, name);
    const isOld = name.startsWith("bundles-") && Date.now() - statSync(path).mtimeMs > kept;
    if (isOld && path !== folder) rmSync(path, {recursive: true, force: true});
  }
}

/** Writes the bundles, and gives the commands, the packages, and size and time of each file that they were made from. */
async function bundled(root, folder) {
  const scripts = join(root, "scripts");
  const commands = readdirSync(scripts)
    .filter(
      (name) => name.endsWith(".ts") && /^void (command|inThread)/m.test(readFileSync(join(scripts, name), "utf8"))
    )
    .map((name) => name.slice(0, -".ts".length));
  const lock = join(root, "node_modules", ".package-lock.json");
  const stamps = Object.fromEntries([lock, fileURLToPath(import.meta.url)].map((path) => [path, stampOf(path)]));
  const ownPlaces = {
    name: "each file keeps its own place",
    setup({onLoad}) {
      onLoad({filter: /\.(ts|[cm]?js)$/}, ({path}) => {
        const isOurs = /^(lib|scripts)\b/.test(relative(root, path));
        // Stamped before it is read: what is saved meanwhile is found to have changed. Of packages the lock file tells.
        if (isOurs) stamps[path] = stampOf(path);
        if (path === join(scripts, "whatIf", "bundle.ts")) return panelScript(path);
        if (path === join(scripts, "pages", "guide.ts")) return guide(path);
        return {contents: placed(readFileSync(path, "utf8"), path), loader: isOurs ? "ts" : "js"};
      });
    }
  };
  /** The script of the what-if panel, made now, as it takes half a second. */
  async function panelScript(path) {
    const {whatIfScript} = await tsImport(pathToFileURL(path).href, import.meta.url);
    const {code, hash, files} = whatIfScript();
    for (const file of files) stamps[file] = stampOf(file);
    return {contents: `export const whatIfScript = () => (${JSON.stringify({code, hash, files: []})});`, loader: "js"};
  }

  /** The page of the guide, made now, as it is the same for every book. */
  async function guide(path) {
    const {guidePage, guideText} = await tsImport(pathToFileURL(path).href, import.meta.url);
    const text = join(root, "DEVELOPERS.md");
    stamps[text] = stampOf(text);
    const made = JSON.stringify(guidePage(guideText()));
    return {contents: `export const guideText = () => ""; export const guidePage = () => ${made};`, loader: "js"};
  }

  const write = (file, contents, external) =>
    build({
      stdin: {contents, resolveDir: root},
      outfile: join(folder, file),
      bundle: true,
      format: "cjs",
      platform: "node",
      target: "node20",
      mainFields: ["module", "main"],
      external,
      minifySyntax: true,
      minifyWhitespace: true,
      legalComments: "none",
      lineLimit: 160,
      sourcemap: "external",
      sourcesContent: false,
      banner: {js: 'const requireFrom = require("node:module").createRequire;'},
      plugins: [ownPlaces],
      tsconfigRaw: {},
      logLevel: "silent"
    });
  const isHere = ([name]) => statSync(join(root, "node_modules", name), {throwIfNoEntry: false}) !== undefined;
  const packages = Object.fromEntries(Object.entries(forDrawings).filter(isHere));
  const program = commands.map((name) => `exports[${JSON.stringify(name)}] = () => import("./scripts/${name}.ts");`);
  await Promise.all([
    write("program.cjs", program.join("\n"), [...apart, ...Object.keys(packages)]),
    ...Object.entries(packages).map(([name, file]) =>
      write(file, `module.exports = require(${JSON.stringify(name)});`, apart)
    )
  ]);
  return {commands, packages, stamps};
}

/** A file's text with its place written into it, as it may look for others beside it: jsdom for its style sheet, ours for package.json. */
function placed(text, path) {
  const url = JSON.stringify(pathToFileURL(path).href);
  const own = text.replaceAll("import.meta.url", url).replaceAll("require.resolve(", `requireFrom(${url}).resolve(`);
  const isOpen = /\b__dirname\b/.test(text) && !/\b(const|let|var) __dirname\b/.test(text);
  return isOpen ? `var __dirname = ${JSON.stringify(dirname(path))};${own}` : own;
}

function stampOf(path) {
  const {size, mtimeMs} = statSync(path);
  return `${size} ${mtimeMs}`;
}
