import {spawn} from "node:child_process";
import {readFileSync, renameSync, rmSync, symlinkSync, writeFileSync} from "node:fs";
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
  files: Record<string, string> = texts({events}),
  outOf = (_book: string) => join(folderOf({}), "out")
): Promise<void> {
  const book = folderOf(files);
  const out = outOf(book);
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

/** The pages that the server says were made, up to the index, once it has said so. */
async function made(address: string, change: () => Promise<void> | void): Promise<string[]> {
  const reader = (await fetch(`${address}made`)).body!.pipeThrough(new TextDecoderStream()).getReader();
  await change();
  let heard = "";
  while (!heard.includes("data: index.html")) heard += (await reader.read()).value;
  await reader.cancel();
  return heard.match(/(?<=data: ).*/g)!;
}

const timeout = 200_000;

test(
  "report --watch serves the pages, makes them anew after a save, and outlives a book that cannot be used",
  {
    timeout
  },
  () =>
    watched(async ({address, book, out, stderr}) => {
      const page = async (name: string) => (await fetch(address + name)).text();
      expect(await page("monthly.html")).toContain("of 2 bought 1 are still on their way");
      expect(await page("index.html")).toContain("new EventSource");
      expect(readFileSync(join(out, "index.html"), "utf8")).not.toContain("EventSource");

      const path = join(book, "events.csv");
      const before = readFileSync(path, "utf8");
      const told = await made(address, () => writeFileSync(path, `${before}2025-06-01,A1,discarded,,,,split,\n`));
      expect(told).toContain("monthly.html");
      const changed = await page("monthly.html");
      expect(changed).toContain("split</th>");

      // While the book cannot be used the pages stay, and say so.
      expect(await made(address, () => writeFileSync(path, "date,square\n"))).toContain("monthly.html");
      expect(stderr()).toContain("cannot be used as it is");
      const stale = await page("monthly.html");
      expect(stale).toContain("This page is of the book as it was before.");
      const bare = (text: string) => text.replace(/<p role="alert">.*<\/p>/, "").replace(/ data-told="\d+"|\n/g, "");
      expect(bare(stale)).toBe(bare(changed));
      const mended = await made(address, () => writeFileSync(path, before));
      expect(mended.length).toBe(new Set(mended).size);
      const last = await page("monthly.html");
      expect(last).not.toContain("split</th>");
      expect(last).not.toContain("as it was before");
    })
);

test("report --watch serves whatever its pages lead to, as it lies there, and nothing else", {timeout}, () =>
  watched(async ({address, book, out}) => {
    const seen = new Map([["index.html", ""]]);
    for (const [name] of seen) {
      const answer = await fetch(address + name);
      expect(answer.status, name).toBe(200);
      if (!name.endsWith(".html")) {
        const bytes = Buffer.from(await answer.arrayBuffer());
        expect(bytes.equals(readFileSync(join(out, decodeURI(name)))), name).toBe(true);
        continue;
      }
      for (const [, href] of (await answer.text()).matchAll(/href="([^"#:]+)(?:#[^"]*)?"/g)) seen.set(href!, name);
    }
    expect([...seen.keys()]).toEqual(
      expect.arrayContaining(["monthly.xlsx", "monthly.json", "report.schema.json", "guide.html", "season.html"])
    );

    for (const path of [
      "kept/monthly-2025-05-01.json",
      "tables",
      "faults.txt",
      "..%2fout%2findex.html",
      "index.html%00"
    ])
      expect((await fetch(address + path)).status, path).toBe(404);
    const secret = join(book, "lots.csv");
    rmSync(join(out, "monthly.json"));
    symlinkSync(secret, join(out, "monthly.json"));
    expect((await fetch(`${address}monthly.json`)).status).toBe(404);
  })
);

test("report --watch that writes inside the book makes the reports once for each save", {timeout}, () =>
  watched(
    async ({address, book, stderr}) => {
      const times = () => stderr().match(/^Read /gm)!.length;
      for (const saves of [1, 2]) {
        const beside = join(
          folderOf({"orders.csv": `${texts({events})["orders.csv"]}${"\n".repeat(saves)}`}),
          "orders.csv"
        );
        await made(address, () => renameSync(beside, join(book, "orders.csv")));
        expect(times()).toBe(1 + saves);
      }
    },
    undefined,
    (book) => join(book, "out")
  )
);

test("report --watch of a book that cannot be used waits for it", {timeout}, () => {
  const {"orders.csv": orders, ...files} = texts({events});
  return watched(async ({address, book}) => {
    expect(await (await fetch(`${address}index.html`)).text()).toContain("The book cannot be used yet");
    expect((await fetch(`${address}monthly.html`)).status).toBe(404);
    await made(address, () => writeFileSync(join(book, "orders.csv"), orders));
    expect(await (await fetch(`${address}index.html`)).text()).toContain("Main points");
  }, files);
});

test("report --watch ends quietly by Ctrl-C while it makes the first reports", {timeout}, async () => {
  const args = ["--import", "tsx", "scripts/report.ts", "--out", join(folderOf({}), "out"), "--watch"];
  const child = spawn(process.execPath, args, {cwd: root});
  let stderr = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
    if (stderr.includes("Read ")) child.kill("SIGINT");
  });
  expect(await new Promise((done) => child.once("close", done))).toBe(0);
  expect(stderr).not.toContain("Made anew when");
});

test("report --watch of no book, or to a place that cannot be written, is wrong usage and ends", {
  timeout
}, async () => {
  const nowhere = await run("report", ["--watch", "--book", join(folderOf({}), "none")]);
  expect([nowhere.code, nowhere.stderr]).toEqual([2, expect.stringContaining("--book must be a folder")]);
  const folder = folderOf({...texts({events}), file: "not a folder"});
  const blocked = await run("report", ["--watch", "--book", folder], {}, join(folder, "file", "out"));
  expect([blocked.code, blocked.stderr]).toEqual([2, expect.stringContaining("could not be written")]);
});

test("report --watch with --json is wrong usage", async () => {
  const {code, stderr} = await run("report", ["--watch", "--json"]);
  expect(code).toBe(2);
  expect(stderr).toContain("--watch' cannot be used with option '--json'");
});

describeInBrowser("a served page", (browser) => {
  test("reloads itself when it was made anew, and keeps its place and what was open", {timeout}, () =>
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
