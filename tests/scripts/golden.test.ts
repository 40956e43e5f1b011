import {cpSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {expect, it} from "vitest";
import {drawings} from "../../scripts/golden/drawings.ts";
import {findBrowser} from "../../scripts/golden/findBrowser.ts";
import {accept, changes, goldenFolder} from "../../scripts/golden/store.ts";
import {folderOf, runIn} from "./run.ts";

const changed = "monthly-where-squares-go-wide.svg";
const added = "monthly-stage-yields-narrow.svg";
const gone = "monthly-of-another-day-wide.svg";

it("golden tells what changed with code 1, shows it as a page and pictures, and takes it with --accept", async () => {
  const work = folderOf({});
  const golden = join(work, goldenFolder);
  cpSync("sample-data", join(work, "sample-data"), {recursive: true});
  const drawn = drawings();
  accept(changes(drawn, golden), golden);
  writeFileSync(join(golden, changed), readFileSync(join(golden, changed), "utf8").replace(">finished", ">begun"));
  writeFileSync(join(golden, gone), readFileSync(join(golden, added)));
  rmSync(join(golden, added));

  const differs = await runIn(work, "golden");
  expect(differs.code, differs.stderr).toBe(1);
  const [page, ...more] = differs.stdout.trimEnd().split("\n").reverse();
  expect(more.sort()).toEqual([`changed: ${changed}`, `gone: ${gone}`, `new: ${added}`]);
  expect(page!.replaceAll("\\", "/")).toBe("reports/golden/index.html");
  const text = readFileSync(join(work, "reports/golden/index.html"), "utf8");
  expect(text.split(">begun").length - 1).toBe(2);
  expect(readdirSync(join(work, "reports/golden")).sort()).toEqual(
    findBrowser() === undefined
      ? ["index.html"]
      : ["index.html", ...[changed, gone, added].map((name) => name.replace("svg", "png"))].sort()
  );
  expect(existsSync(join(golden, added)), "nothing is taken unasked").toBe(false);

  expect(await runIn(work, "golden", "--accept")).toMatchObject({code: 0});
  expect(changes(drawn, golden)).toEqual([]);
  expect(existsSync(join(golden, gone))).toBe(false);
  expect(await runIn(work, "golden")).toMatchObject({code: 0, stdout: ""});
}, 300_000);

it("golden --acept is refused with what was meant", async () => {
  const {code, stderr} = await runIn(folderOf({}), "golden", "--acept");
  expect(code).not.toBe(0);
  expect(stderr).toContain("--accept");
});
