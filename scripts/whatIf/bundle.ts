import {createRequire} from "node:module";
import {fileURLToPath} from "node:url";
import type Esbuild from "esbuild";
import {policyHash} from "../io/policyHash.ts";

const path = (file: string) => fileURLToPath(new URL(file, import.meta.url));

/** Packages that lib/stats and Plot take in beside what a plan needs, and that a plan never calls. */
const absent = [
  "d3-geo",
  "d3-scale-chromatic",
  "@stdlib/math-base-special-digamma",
  "@stdlib/stats-base-dists-beta-cdf",
  "@stdlib/stats-base-dists-beta-quantile",
  "@stdlib/stats-base-dists-gamma-cdf"
];

/** The packages within keep their names and licences. */
const banner =
  "/* With parts of @observablehq/plot and d3 (ISC licence) and of @stdlib (Apache licence 2.0, The Stdlib Authors). */";

let made: {code: string; hash: string; files: string[]} | undefined;

/**
 * The what-if panel's script with its hash: lib/ and Plot in one text, the same bytes every time; and the files it was made from. A command that
 * is started from a bundle has it in there (`scripts/start/bundle.mjs`).
 */
export function whatIfScript(): {code: string; hash: string; files: string[]} {
  if (made) return made;
  // Loaded here, as what only tells numbers needs none.
  const {buildSync}: typeof Esbuild = createRequire(import.meta.url)("esbuild");
  const {outputFiles, metafile} = buildSync({
    entryPoints: [path("client.ts")],
    absWorkingDir: path("../.."),
    alias: Object.fromEntries(absent.map((name) => [name, path("absent.ts")])),
    // Plot moves a drawing by half a pixel on coarse screens: here as on the command line, not.
    define: {"window.devicePixelRatio": "2"},
    bundle: true,
    minify: true,
    charset: "utf8",
    format: "iife",
    target: "es2020",
    platform: "browser",
    legalComments: "none",
    banner: {js: banner},
    write: false,
    metafile: true,
    logLevel: "error",
    tsconfigRaw: {}
  });
  const code = outputFiles[0]!.text;
  made = {code, hash: policyHash(code), files: Object.keys(metafile.inputs).map((file) => path(`../../${file}`))};
  return made;
}
