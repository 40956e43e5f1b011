import {mkdtempSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {JSDOM} from "jsdom";
import type {Page} from "playwright-core";
import {expect, it} from "vitest";
import {baseState, parseState, whatIfAnswer} from "../../lib/buying/whatIf.ts";
import {htmlText} from "../../lib/report/html.ts";
import {bookAsOf, readBook} from "../../scripts/io/readBook.ts";
import {planSeason} from "../../scripts/season/planSeason.ts";
import {panel, type WhatIfData} from "../../scripts/whatIf/panel.ts";
import {describeInBrowser} from "./needsBrowser.ts";
import {openPage} from "./openPage.ts";
import {whatIfPage} from "./whatIfPage.ts";

const found = readBook("sample-data");
const season = planSeason(bookAsOf({...found, book: found.book!}));
const data: WhatIfData = {
  input: season.input!,
  species: season.species.map(({species}) => species),
  serviceGoal: 0.9,
  currency: "£",
  endsOn: season.endsOn
};
const path = join(mkdtempSync(join(tmpdir(), "what-if-")), "page.html");
writeFileSync(path, whatIfPage(data));

/** What stands in the panel when Node works the state out, as text. */
function byNode(link: string): {says: string; table: string} {
  const first = whatIfAnswer(data, baseState(data))!;
  const state = parseState(data, link);
  const {says, table} = panel(data, state, whatIfAnswer(data, state, first.plan), first);
  const text = (part: typeof says) =>
    new JSDOM(htmlText(part)).window.document.body.textContent!.replace(/\s+/g, " ").trim();
  return {says: text(says), table: text(table)};
}

async function inPage(page: Page): Promise<{says: string; table: string}> {
  const text = async (id: string) => (await page.locator(id).textContent())!.replace(/\s+/g, " ").trim();
  return {says: await text("#what-if-says"), table: await text("#what-if-table")};
}

const set = async (page: Page, label: string, value: string, group: string) => {
  await page.getByRole("group", {name: group}).getByLabel(label, {exact: true}).fill(value);
  await page.evaluate(() => new Promise((done) => requestAnimationFrame(() => setTimeout(done, 0))));
};

describeInBrowser("the what-if panel", (browser) => {
  it("says unchanged what the command line says, with no message, no request but the page, and one figure a species", () =>
    openPage(browser(), path, {}, async ({page, requests, messages}) => {
      expect(await inPage(page)).toEqual(byNode(""));
      expect(await page.locator("#what-if-figures svg").count()).toBeGreaterThanOrEqual(data.species.length);
      expect(requests).toHaveLength(1);
      expect(messages).toEqual([]);
    }));

  it("says for other inputs the numbers of the library in Node, draws the figure anew and keeps to the security policy", () =>
    openPage(browser(), path, {}, async ({page, messages}) => {
      const title = await page.locator("#what-if-ash-title").textContent();
      await set(page, "Demand to come", "-20", "Ash, % more or less");
      await set(page, "Price of a shaft", "10", "Ash, % more or less");
      await set(page, "Usable share", "-15", "Maple, % more or less");
      await set(page, "Budget, £ (empty: no limit)", "12000", "All species");
      await set(page, "Haskerdene Mill", "60", "Least lot, squares of a species");
      const link = new URL(await page.locator("#what-if-link").inputValue()).hash.replace("#what-if:", "");
      expect(link).toContain("demand.ash=-20");
      expect(await inPage(page)).toEqual(byNode(link));
      expect(await page.locator("#what-if-ash-title").textContent()).not.toBe(title);
      expect(await page.locator("#what-if-state").textContent()).toContain("A trial, not the plan");
      expect(messages).toEqual([]);
    }));

  it("opens from a link with the state in it, and says which part it does not understand", () =>
    openPage(browser(), path, {}, async ({page}) => {
      await page.goto(`${page.url()}#what-if:goal=95&demand.maple=30`);
      await page.reload();
      expect(await inPage(page)).toEqual(byNode("goal=95&demand.maple=30"));
      await page.evaluate(() => {
        location.hash = "#what-if:demand.oak=10";
      });
      await page.waitForFunction(
        () => document.querySelector(".said[role=status]:last-of-type, form .said")!.textContent !== ""
      );
      expect(await page.locator("#what-if-form .said").textContent()).toContain("demand.oak=10");
    }));

  it("says what is wrong with a number and leaves the answer as it was", () =>
    openPage(browser(), path, {}, async ({page}) => {
      const before = await inPage(page);
      await set(page, "Demand to come", "999", "Ash, % more or less");
      expect(await page.locator("#what-if-form .said").textContent()).toContain("from -90 to 200");
      expect(await page.locator('[aria-invalid="true"]').count()).toBe(1);
      expect(await inPage(page)).toEqual(before);
    }));

  it("shows without scripts the plan as printed, and no form", () =>
    openPage(browser(), path, {javaScriptEnabled: false}, async ({page}) => {
      expect(await inPage(page)).toEqual(byNode(""));
      expect(await page.locator("#what-if-panel input").count()).toBe(0);
    }));
});
