import {mkdtempSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {fileURLToPath} from "node:url";
import {type Case, measure, ratio, type Suite} from "./measure.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const yardstick = (name: string) => fileURLToPath(new URL(`atTheBench/${name}.mjs`, import.meta.url));
/** By npm's own path where npm runs this, as a shell has another name for it on each system. */
const npm = process.env.npm_execpath === undefined ? ["npm"] : ["node", process.env.npm_execpath];

/** What a user waits for at the bench, on the sample book, beside processes that only do what cannot be left out. */
export const atTheBench: Suite = {
  name: "at-the-bench",
  title: "At the bench: the sample book",
  run: (rounds) => {
    const place = mkdtempSync(join(tmpdir(), "bench-"));
    try {
      const parse = [yardstick("parse"), join(root, "sample-data")];
      const scripts = {parse: `node "${parse.join('" "')}"`};
      writeFileSync(join(place, "package.json"), JSON.stringify({scripts}));
      const own = (name: string, ...args: string[]): Case => ({
        name: [name, ...args].join(" "),
        command: ["node", "scripts/start.mjs", name, ...args, "--out", join(place, name)],
        cwd: root
      });
      const cases: Case[] = [
        {name: "Node.js alone", command: ["node", "--eval", "0"]},
        {name: "PapaParse parses the files", command: ["node", ...parse]},
        own("check"),
        own("check", "--help"),
        {name: "npm run: PapaParse parses the files", command: [...npm, "run", "--silent", "parse"], cwd: place},
        {name: "npm run check", command: [...npm, "run", "--silent", "check"], cwd: root},
        {name: "Plot and jsdom, one document", command: ["node", yardstick("open")]},
        own("monthly"),
        own("rack"),
        own("monthly", "--json"),
        own("report"),
        {
          name: "report --watch, a changed book",
          command: ["node", yardstick("watch"), join(root, "sample-data")],
          tells: true
        }
      ];
      // Once before anything is timed: the bundles are made then.
      measure(cases.slice(0, 3), 1);
      const measured = measure(cases, rounds);
      const of = (upper: string, lower: string, goal?: number) =>
        ratio(measured, upper, lower, `${upper} : ${lower}`, goal);
      return {
        cases: measured,
        ratios: [
          of("check", "PapaParse parses the files", 2),
          of("npm run check", "npm run: PapaParse parses the files", 2),
          of("check --help", "Node.js alone"),
          of("monthly", "Plot and jsdom, one document", 1.5),
          of("rack", "Plot and jsdom, one document", 1.5),
          of("monthly --json", "PapaParse parses the files"),
          of("report", "monthly", 2),
          of("report --watch, a changed book", "report", 0.4)
        ],
        notes: [
          "The yardsticks are plain JavaScript run by Node.js itself, without a compiler or a bundle; they read the packages that the toolkit reads, in the same versions.",
          "The commands run as `npm run` starts them (`node scripts/start.mjs check`), from bundles made before the first round.",
          "`npm run` takes a third of a second for itself; it is measured against a yardstick that npm starts too.",
          "Watching: from the saving of the book, the pause in which an editor may save more included, to the last page."
        ]
      };
    } finally {
      rmSync(place, {recursive: true, force: true});
    }
  }
};
