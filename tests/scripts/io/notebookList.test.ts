import {readdirSync} from "node:fs";
import {expect, test} from "vitest";
import {notebookList} from "../../../scripts/io/notebookList.ts";
import {folderOf} from "../run.ts";

test("notebookList has every notebook in order, under the question it opens with", () => {
  const list = notebookList(folderOf({}));
  expect(list.map(({name}) => `${name}.ts`)).toEqual(
    readdirSync("notebooks")
      .filter((file) => file.endsWith(".ts"))
      .sort()
  );
  for (const {name, question} of list) expect(question, name).toMatch(/^[A-Z].*\?$/);
  expect(list.every(({made}) => !made)).toBe(true);
});

test("notebookList knows which pages have been made", () => {
  const [first, ...others] = notebookList(folderOf({"notebooks/01-monthly-yield-by-hand.html": "<p>"}));
  expect(first).toMatchObject({name: "01-monthly-yield-by-hand", made: true});
  expect(others.every(({made}) => !made)).toBe(true);
});
