import {existsSync, mkdirSync, readdirSync, writeFileSync} from "node:fs";
import {Command, CommanderError} from "commander";
import {exitCodes, relative, say, tell} from "./command.ts";

const folder = "notebooks";

try {
  const program = new Command("new-notebook")
    .description(`Begin a notebook in ${folder}/, with the next free number.`)
    .argument("<name>", "the question in words of small letters and digits with hyphens between, like ash-by-month")
    .exitOverride()
    .parse();
  process.exitCode = begin(program.args[0]!);
} catch (error) {
  if (!(error instanceof CommanderError)) throw error;
  process.exitCode = error.exitCode === 0 ? exitCodes.done : exitCodes.usage;
}

function begin(name: string): number {
  if (!/^[a-z][a-z0-9]*(-[a-z0-9]+)*$/.test(name)) {
    say(
      `A notebook's name must be words of small letters and digits with hyphens between, like ash-by-month, got “${name}”.`
    );
    return exitCodes.usage;
  }
  const numbers = existsSync(folder) ? readdirSync(folder).map((file) => Number(/^(\d+)-/.exec(file)?.[1] ?? 0)) : [];
  const number = String(Math.max(0, ...numbers) + 1).padStart(2, "0");
  const path = `${folder}/${number}-${name}.ts`;
  mkdirSync(folder, {recursive: true});
  writeFileSync(path, beginning(name), {flag: "wx"}); // never over another
  tell(relative(path));
  say(`Write it, and look at it with: npx tsx scripts/notebook.ts ${number}-${name} --watch`);
  return exitCodes.done;
}

function beginning(name: string): string {
  const words = name.replaceAll("-", " ");
  const question = `${words[0]!.toUpperCase()}${words.slice(1)}?`;
  return `// %% [markdown]
// # ${question}
//
// What is asked, and what would be done differently if the answer were another.

// %%
import {shown} from "../lib/report/quantity.ts";
import {open} from "../scripts/notebook/book.ts";
import {show} from "../scripts/notebook/show.ts";

const {histories, asOf} = open();
show(\`\${shown(histories.pieces.length, "count")} squares of \${histories.lots.length} lots, data to \${asOf}\`);

// %% [markdown]
// ## Answer
//
// One sentence, with its uncertainty.
`;
}
