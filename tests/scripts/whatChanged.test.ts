import {cpSync, mkdtempSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {run} from "./run.ts";

test("a monthly report tells what an earlier one in its folder printed, and which months the book tells otherwise", {
  timeout: 300_000
}, async () => {
  const folder = mkdtempSync(join(tmpdir(), "changed-"));
  const [book, out] = [join(folder, "book"), join(folder, "out")];
  cpSync("sample-data", book, {recursive: true});
  const made = (asOf: string) => run("monthly", ["--book", book, "--as-of", asOf], {}, out);
  const first = await made("2026-09-30");
  expect(first.code).toBe(0);
  const printed = new JSDOM(first.written.get("monthly.html")!).window.document.querySelector(
    ".key-figures .value"
  )!.textContent;

  // Fifty finished shafts of August lose their last turning: the yield of September is told otherwise.
  const path = join(book, "events.csv");
  const lines = readFileSync(path, "utf8").split(/\r?\n/);
  let taken = 0;
  const kept = lines.filter((line) => !(/^2026-08-\d\d,/.test(line) && line.includes(",finished,") && ++taken <= 50));
  expect(lines.length - kept.length).toBe(Math.min(50, taken));
  expect(taken).toBeGreaterThan(10);
  writeFileSync(path, kept.join("\n"));

  const second = await made("2026-10-31");
  const {document} = new JSDOM(second.written.get("monthly.html")!).window;
  const row = [...document.querySelectorAll("#what-changed tbody tr")][0]!;
  expect(`${row.querySelector("td")!.textContent}\u00a0%`).toBe(printed);
  expect(row.querySelectorAll("td")[1]!.textContent).not.toBe(row.querySelector("td")!.textContent);
  const revised = [...document.querySelectorAll("#rows-revised tbody tr")].map((one) => one.textContent!.trim());
  expect(revised.map((text) => /events.*2026-08/.test(text))).toEqual([true]);
  // Made again, the page is the same: its own month is not what it is compared with.
  const again = await made("2026-10-31");
  expect(again.written.get("monthly.html")).toBe(second.written.get("monthly.html"));
});
