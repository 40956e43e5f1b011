import {spawnSync} from "node:child_process";
import {mkdtempSync, readdirSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, test} from "vitest";

const run = (...words: string[]) =>
  spawnSync(process.execPath, ["--import", "tsx", "scripts/sample-book.ts", ...words], {encoding: "utf8"});

test("sample-book --out DIR writes the book and what describes it: twelve files into an empty folder", () => {
  const folder = mkdtempSync(join(tmpdir(), "book-"));
  expect(run("--out", folder).status).toBe(0);
  expect(readdirSync(folder).length).toBe(12);
});

test("sample-book --out DIR leaves a folder with other files alone and says so", () => {
  const folder = mkdtempSync(join(tmpdir(), "book-"));
  writeFileSync(join(folder, "my-own.csv"), "");
  const {status, stderr} = run("--out", folder);
  expect(status).toBe(2);
  expect(stderr).toContain("holds my-own.csv");
  expect(readdirSync(folder)).toEqual(["my-own.csv"]);
});
