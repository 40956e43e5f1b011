import {spawn} from "node:child_process";
import {readFileSync, writeFileSync} from "node:fs";
import {join} from "node:path";
import {fileURLToPath} from "node:url";
import {expect, test} from "vitest";
import {texts} from "../../book/smallBook.ts";
import {describeInBrowser} from "../../browser/needsBrowser.ts";
import {folderOf, run} from "../run.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const events = ["2025-04-01,A1,turned,rough-round,1100,11,,", "2025-05-01,A2,discarded,,,,warp,"];

/** `npm run report -- --watch` of a small book as its own process, until `look` is done with it. */
async function watched(
  look: (one: Watching) => Promise<void>,
  files: Record<string, string> = texts({events})
): Promise<void> {
  const book = folderOf(files);
  const out = join(folderOf({}), "out");
  const child = spawn(
    process.execPath,
    ["--import", "tsx", "scripts/report.ts", "--book", book, "--out", out, "--watch"],
    {cwd: root}
  );
  let [stdout, stderr] = ["", ""];
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
  });
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    stdout += text;
  });
  const closed = new Promise<number | null>((done) => child.once("close", done));
  try {
    const address = await until(() => /http:\/\/127\.0\.0\.1:\d+\//.exec(stdout)?.[0]);
    await look({address, book, out, stderr: () => stderr});
  } finally {
    child.kill("SIGINT");
    expect(await closed, stderr).toBe(0);
  }
}

interface Watching {
  address: string;
  book: string;
  out: string;
  stderr: () => string;
}

async function until<T>(look: () => T | undefined): Promise<T> {
  for (;;) {
    const found = look();
    if (found !== undefined) return found;
    await new Promise((later) => setTimeout(later, 50));
  }
}

/** The pages that the server says were made, once it has said so. */
async function made(address: string, change: () => void): Promise<string> {
  const reader = (await fetch(`${address}made`)).body!.pipeThrough(new TextDecoderStream()).getReader();
  change();
  let heard = "";
  while (!heard.includes("data: index.html")) heard += (await reader.read()).value;
  await reader.cancel();
  return heard;
}

test(
  "report --watch serves the pages, makes them anew after a save, and outlives a book that cannot be used",
  {timeout: 200_000},
  () =>
    watched(async ({address, book, out, stderr}) => {
      const page = async (name: string) => (await fetch(address + name)).text();
      expect(/of 2 bought 1 are still resting/.test(await page("monthly.html"))).toBe(true);
      expect(await page("index.html")).toContain("new EventSource");
      expect(readFileSync(join(out, "index.html"), "utf8")).not.toContain("EventSource");
      expect((await fetch(`${address}monthly.xlsx`)).headers.get("content-type")).toContain("spreadsheetml");
      expect((await fetch(`${address}kept/monthly-2025-05-01.json`)).status).toBe(404);

      const path = join(book, "events.csv");
      const before = readFileSync(path, "utf8");
      expect(await made(address, () => writeFileSync(path, `${before}2025-06-01,A1,discarded,,,,split,\n`))).toContain(
        "monthly.html"
      );
      expect(await page("monthly.html")).toContain("split");

      writeFileSync(path, "date,square\n");
      await until(() => (stderr().includes("cannot be used as it is") ? true : undefined));
      expect(await page("monthly.html")).toContain("split");

      await made(address, () => writeFileSync(path, before));
      expect(await page("monthly.html")).not.toContain("split</th>");
    })
);

test("report --watch of a book that cannot be used waits for it", {timeout: 200_000}, () => {
  const {"orders.csv": orders, ...files} = texts({events});
  return watched(async ({address, book}) => {
    expect(await (await fetch(`${address}index.html`)).text()).toContain("The book cannot be used yet");
    await made(address, () => writeFileSync(join(book, "orders.csv"), orders));
    expect(await (await fetch(`${address}index.html`)).text()).toContain("Main points");
  }, files);
});

test("report --watch with --json is wrong usage", async () => {
  const {code, stderr} = await run("report", ["--watch", "--json"]);
  expect(code).toBe(2);
  expect(stderr).toContain("--watch' cannot be used with option '--json'");
});

describeInBrowser("a served page", (browser) => {
  test("reloads itself when it was made anew, and keeps its place and what was open", {timeout: 200_000}, () =>
    watched(async ({address, book}) => {
      const page = await browser().newPage({viewport: {width: 1000, height: 600}});
      const said: string[] = [];
      page.on("console", (message) => said.push(message.text()));
      page.on("pageerror", (error) => said.push(error.message));
      await page.goto(`${address}monthly.html`);
      const folds = page.locator("details");
      await folds.nth(1).locator("summary").click();
      await page.evaluate(() => scrollTo(0, 1200));
      const path = join(book, "events.csv");
      writeFileSync(path, `${readFileSync(path, "utf8")}2025-06-01,A1,discarded,,,,split,\n`);
      await page.locator("tbody th", {hasText: "split"}).first().waitFor({state: "attached", timeout: 100_000});
      await page.waitForFunction(() => scrollY > 0);
      expect(await page.evaluate(() => scrollY)).toBe(1200);
      expect(await folds.nth(1).getAttribute("open")).not.toBeNull();
      expect(await folds.nth(0).getAttribute("open")).toBeNull();
      expect(said).toEqual([]);
      await page.close();
    })
  );
});
