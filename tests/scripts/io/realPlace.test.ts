import {realpathSync, symlinkSync} from "node:fs";
import {join, sep} from "node:path";
import {expect, test} from "vitest";
import {liesIn, realPlace} from "../../../scripts/io/realPlace.ts";
import {folderOf} from "../run.ts";

test("realPlace(path) follows links, and keeps the names of what is not there yet", () => {
  const folder = realpathSync.native(folderOf({"book/lots.csv": "a"}));
  symlinkSync(join(folder, "book"), join(folder, "link"), "junction");
  expect(realPlace(join(folder, "link", "lots.csv"))).toBe(join(folder, "book", "lots.csv"));
  expect(realPlace(join(folder, "link", "new", "lots.csv"))).toBe(join(folder, "book", "new", "lots.csv"));
  expect(realPlace(sep)).toBe(realpathSync.native(sep));
});

test("liesIn(path, folder) tells what is in a folder from what only begins like it", () => {
  const folder = join(sep, "a", "out");
  expect([folder, join(folder, "x"), `${folder}-old`, join(sep, "a")].map((path) => liesIn(path, folder))).toEqual([
    true,
    true,
    false,
    false
  ]);
});
