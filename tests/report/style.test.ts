import {readFileSync} from "node:fs";
import {describe, expect, it} from "vitest";
import {script} from "../../lib/report/script.ts";
import {style} from "../../lib/report/style.ts";
import {dark, light} from "../../lib/report/tokens.ts";
import {demoPage} from "../browser/demoPage.ts";

// How it looks is tested in tests/browser: here, that the sheet is sound and nothing in it is dead.

const markup = demoPage().replace(/<style>.*?<\/style>/s, "");

it("every custom property that is used is set, and every colour of the palette is in both themes", () => {
  const set = new Set([...style.matchAll(/(--[a-z0-9-]+):/g)].map(([, name]) => name));
  const used = new Set([...`${style}${markup}`.matchAll(/var\((--[a-z0-9-]+)/g)].map(([, name]) => name));
  expect([...used].filter((name) => !set.has(name))).toEqual([]);
  expect(Object.keys(dark)).toEqual(Object.keys(light));
});

it("every class in the sheet is in a page, and every class of a page in the sheet", () => {
  const bare = style.replace(/\d+\.\d+/g, "").replace(/\/\*.*?\*\//gs, "");
  const styled = new Set([...bare.matchAll(/\.([a-z][a-z-]*)/g)].map(([, name]) => name));
  const worn = new Set([...markup.matchAll(/ class="([^"]*)"/g)].flatMap(([, names]) => names!.split(" ")));
  // Those that the page's script gives are worn once it runs.
  const panel = ["scripts/whatIf/client.ts", "scripts/pages/season/whatIf.ts"].map((file) =>
    readFileSync(file, "utf8")
  );
  const scripts = [script, ...panel].join("\n");
  const given = new Set(
    [...scripts.matchAll(/class(?:Name: |=)"([\w-]+)"|classList\.(?:add|toggle)\("(\w+)"/g)].map(
      ([, made, added]) => made ?? added
    )
  );
  expect([...styled].filter((name) => !worn.has(name!) && !given.has(name))).toEqual([]);
  expect([...worn].filter((name) => !styled.has(name))).toEqual(["table-block", "provenance"]);
});

describe("the text of the sheet", () => {
  it("closes every brace and could end no style element", () => {
    expect(style.split("{")).toHaveLength(style.split("}").length);
    expect(style).not.toMatch(/<\/|<!--/);
  });

  it("fetches nothing", () => {
    expect(style).not.toMatch(/url\(|@import|@font-face/);
  });
});
