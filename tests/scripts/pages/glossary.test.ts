import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {htmlText} from "../../../lib/report/html.ts";
import {glossary, words} from "../../../scripts/pages/glossary.ts";

test("the words of the README stand in every page's list of words", () => {
  const readme = readFileSync("README.md", "utf8").replaceAll("\r\n", "\n");
  const table = readme.slice(readme.indexOf("| word | meaning |")).split("\n\n")[0]!;
  const named = table
    .split("\n")
    .slice(2)
    .map((line) => line.split("|")[1]!.trim());
  expect(named.length).toBeGreaterThan(6);
  expect(named.filter((word) => !words.some((one) => one.word === word))).toEqual([]);
});

test("glossary() is a list of words and meanings, each once", () => {
  expect(new Set(words.map(({word}) => word)).size).toBe(words.length);
  expect(htmlText(glossary()).match(/<dt>/g)).toHaveLength(words.length);
});
