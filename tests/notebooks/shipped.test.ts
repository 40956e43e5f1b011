import {readdirSync} from "node:fs";
import {basename, join} from "node:path";
import {fileURLToPath} from "node:url";
import {JSDOM} from "jsdom";
import {beforeAll, describe, expect, test} from "vitest";
import {settingsOf, texts} from "../book/smallBook.ts";
import {folderOf, type Ran, run} from "../scripts/run.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));
const names = readdirSync(join(root, "notebooks"))
  .filter((name) => /^\d+-.*\.ts$/.test(name))
  .map((name) => basename(name, ".ts"));

/** A number with its interval, or that the data cannot tell. */
const answer = /\d\S*(\s\S+)?\sto\s\D?\d|\b(cannot (tell|say|be said)|too early|too few)\b/;

interface Page {
  heading: string;
  /** What the last cell shows, as one text for each paragraph. */
  last: string[];
  /** The heading above it. */
  above: string | undefined;
}

function pageOf({written}: Ran, name: string): Page {
  const {document} = new JSDOM(written.get(join("notebooks", `${name}.html`)) ?? "").window;
  const headings = [...document.querySelectorAll("main h2")].map((node) => node.textContent!.trim());
  const cell = [...document.querySelectorAll("main .cell")].at(-1);
  const last = [...(cell?.querySelectorAll(":scope > :not(h3, .label, .code)") ?? [])].map((node) =>
    node.textContent!.trim()
  );
  return {heading: document.querySelector("h1")?.textContent?.trim() ?? "", last, above: headings.at(-1)};
}

/** The full stops, question and exclamation marks that end a sentence: not those inside numbers or names. */
const sentences = (text: string) => text.split(/[.?!](?=\s+\p{Lu}|$)/u).filter((part) => part.trim() !== "");

describe("on the sample book", {timeout: 60_000}, () => {
  let ran: Ran;
  beforeAll(async () => {
    ran = await run("notebook", [...names, "--timeout", "300"]);
  }, 900_000);

  test("every notebook runs to its end and has its page", () => {
    expect(ran.stderr).not.toMatch(/Cell \d/);
    expect(ran.code).toBe(0);
    expect([...ran.written.keys()].sort()).toEqual(names.map((name) => join("notebooks", `${name}.html`)).sort());
  });

  test.each(names)("%s opens with a question and ends with its answer and how sure it is", (name) => {
    const {heading, above, last} = pageOf(ran, name);
    expect(heading).toMatch(/\?$/);
    expect(above).toBe("Answer");
    expect(last).toHaveLength(1);
    expect(sentences(last[0]!)).toHaveLength(1);
    expect(last[0]).toMatch(answer);
    expect(last[0]).not.toMatch(/undefined|NaN|Infinity/);
  });
});

const small = folderOf({...texts(), "workshop.json": JSON.stringify(settingsOf())});
const young: [string, string[]][] = [
  ["a week of the sample book", ["--as-of", "2021-11-26"]],
  ["two squares", ["--book", small]]
];

describe.each(young)("on %s", (_, options) => {
  test("every notebook runs to its end and says how sure its answer is", {timeout: 900_000}, async () => {
    const ran = await run("notebook", [...names, "--timeout", "300", ...options]);
    expect(ran.stderr).not.toMatch(/Cell \d/);
    expect(ran.code).toBe(0);
    for (const name of names) expect(pageOf(ran, name).last.join(" "), name).toMatch(answer);
  });
});
