import {existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {expect, test} from "vitest";
import {cells} from "../../../scripts/notebook/cells.ts";
import {folderOf, runIn} from "../run.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));

test("new-notebook takes the next number, never one that was used, and its notebook runs as it is", {
  timeout: 120_000
}, async () => {
  const folder = folderOf({"notebooks/02-two.ts": "2;\n", "notebooks/09-nine.md": "", "notebooks/notes.ts": ""});
  const {code, stdout} = await runIn(folder, "new-notebook", "ash-by-month");
  expect([code, stdout.trim()]).toEqual([0, "notebooks/10-ash-by-month.ts"]);
  const path = join(folder, "notebooks/10-ash-by-month.ts");
  const text = readFileSync(path, "utf8");
  expect(cells(text).cells.map(({kind}) => kind)).toEqual(["prose", "code", "prose"]);
  expect(text).toMatch(/^\/\/ # Ash by month\?$/m);
  expect(text).toMatch(/^\/\/ ## Answer$/m);
  expect(readFileSync(join(folder, "notebooks/02-two.ts"), "utf8")).toBe("2;\n");

  // As it stands in the repository, its imports lead from notebooks/ to lib/ and scripts/.
  writeFileSync(path, text.replaceAll('"../', `"${pathToFileURL(root).href}`));
  const ran = await runIn(folder, "notebook", "10-ash-by-month", "--book", join(root, "sample-data"));
  expect(ran).toMatchObject({code: 0, stdout: `${join("reports", "notebooks", "10-ash-by-month.html")}\n`});
  expect(readFileSync(join(folder, "reports/notebooks/10-ash-by-month.html"), "utf8")).toContain("squares of");
});

test("new-notebook begins with 01 where there is no folder yet", async () => {
  const folder = folderOf({});
  expect(await runIn(folder, "new-notebook", "a1")).toMatchObject({code: 0, stdout: "notebooks/01-a1.ts\n"});
  expect(readdirSync(join(folder, "notebooks"))).toEqual(["01-a1.ts"]);
});

test.each(["Ash", "ash_by_month", "-ash", "ash--month", "../ash", "01-ash", "ash.ts", ""])(
  "new-notebook refuses the name “%s” with a sentence and 2, and writes nothing",
  async (name) => {
    const folder = folderOf({});
    mkdirSync(join(folder, "notebooks"));
    const {code, stderr} = await runIn(folder, "new-notebook", "--", name);
    expect([code, stderr.trim()]).toEqual([
      2,
      `A notebook's name must be words of small letters and digits with hyphens between, like ash-by-month, got “${name}”.`
    ]);
    expect(readdirSync(join(folder, "notebooks"))).toEqual([]);
    expect(existsSync(join(folder, "ash.ts"))).toBe(false);
  }
);
