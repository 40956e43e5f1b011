import {readFileSync} from "node:fs";
import ts from "typescript";
import {expect, test} from "vitest";
import {emptySettings} from "../../lib/book/emptySettings.ts";
import {parseSettings} from "../../lib/book/settings.ts";

const settingsSource = readFileSync(new URL("../../lib/book/settings.ts", import.meta.url), "utf8");

test("emptySettings() gives the defaults when read, by this reader and by the compiler's of JSON with remarks", () => {
  const text = emptySettings();
  const defaults = parseSettings("").settings;
  expect(defaults).toBeDefined();
  expect(parseSettings(text)).toEqual({settings: defaults, problems: []});
  const {config, error} = ts.parseConfigFileTextToJson("workshop.json", text);
  expect(error).toBeUndefined();
  expect(config).toEqual(defaults);
});

test("emptySettings() explains every setting, in the words of its declaration", () => {
  const remarks = emptySettings()
    .split("\n")
    .map((line) => line.trim())
    .filter((line) => line.startsWith("//"))
    .map((line) => line.slice(2).trim())
    .join(" ");
  const said = [...settingsSource.matchAll(/\.describe\(\s*"((?:[^"\\]|\\.)*)"/g)].map(([, text]) => text!);
  expect(said.length).toBe(settingsSource.split(".describe(").length - 1);
  expect(said.length).toBeGreaterThan(25);
  expect(said.filter((text) => !remarks.includes(text))).toEqual([]);
});

test("emptySettings() has a remark above each setting that stands by itself, and names the parts of the others", () => {
  const lines = emptySettings().split("\n");
  const own = lines.flatMap((line, index) => (/^( {2}){1,2}"\w+": (?!\{"|"european|"sugar)/.test(line) ? [index] : []));
  const unexplained = own.filter((index) => !lines[index - 1]!.trim().startsWith("//"));
  expect(own.length).toBeGreaterThan(14);
  expect(unexplained.map((index) => lines[index]!.trim())).toEqual([]);
  const parts = lines.flatMap((line) => /^ +\/\/ {3}(\w+)(?::|$)/.exec(line)?.[1] ?? []);
  expect(parts).toEqual(
    "bendTest name restDays largeMm smallMm lengthMm name group wood windowKgM3 minimum available tripCost discounts shafts sd low high growthPct bigOrder lostPct budget trips name demandPct usablePct squareCostPct shaftPricePct moisturePct file sheet delimiter decimal dates serialsFrom headings units words".split(
      " "
    )
  );
});

test("no line of emptySettings() is longer than 100 characters", () => {
  const lines = emptySettings().split("\n");
  expect(lines.filter((line) => [...line].length > 100)).toEqual([]);
  expect(lines.some((line) => [...line].length > 95)).toBe(true);
});
