import {mkdtempSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {AxeBuilder} from "@axe-core/playwright";
import type {Page} from "playwright-core";
import {expect, it} from "vitest";
import {figureHtml} from "../../lib/report/figureHtml.ts";
import {html} from "../../lib/report/html.ts";
import {page as pageOf} from "../../lib/report/page.ts";
import type {Table} from "../../lib/report/table.ts";
import {tableHtml} from "../../lib/report/tableHtml.ts";
import {draw} from "../../scripts/draw.ts";
import {pageScript, styleHash} from "../../scripts/io/policyHash.ts";
import {demoFigures} from "./demoFigures.ts";
import {hostileName} from "./demoPage.ts";
import {describeInBrowser} from "./needsBrowser.ts";
import {openPage} from "./openPage.ts";

const table: Table = {
  id: "by-supplier",
  caption: "Density by supplier",
  columns: [
    {key: "supplier", heading: "Supplier", unit: "text"},
    {key: "species", heading: "Species", unit: "text"},
    {key: "squares", heading: "Squares", unit: "count"},
    {key: "mean", heading: "Mean", unit: "kg/m³", low: "low", high: "high"}
  ],
  rows: [
    {supplier: "Fennaby Yard", species: "ash", squares: 1284, mean: 690, low: 680, high: 700},
    {supplier: hostileName, species: "maple", squares: 9, mean: 702, low: 650, high: 750},
    {supplier: "Quillmoor Sawpit", species: "ash", squares: undefined, mean: 655, low: 640, high: 670},
    {supplier: "Fennaby Yard", species: "maple", squares: 120, mean: 710, low: 700, high: 720}
  ]
};

const figures = demoFigures.map((figure, i) => figureHtml(figure, draw(figure), {number: i + 1}));

const path = join(mkdtempSync(join(tmpdir(), "square-")), "page.html");
writeFileSync(
  path,
  pageOf({
    title: "Suppliers",
    subtitle: "An invented workshop",
    lang: "en-GB",
    lead: ["One."],
    styleHash,
    script: pageScript,
    sections: [
      {id: "figures", heading: "Figures", body: figures},
      {id: "table", heading: "Table", body: [tableHtml(table)]}
    ],
    footer: html`<p>The end.</p>`
  })
);

const rows = (page: Page, column: number) =>
  page.locator(`#table ~ .table tbody tr:not([hidden]) > :nth-child(${column})`).allTextContents();

describeInBrowser("the page's script", (browser) => {
  const opened = (look: (page: Page) => Promise<void>, options = {}) =>
    openPage(browser(), path, options, async ({page, messages, requests}) => {
      await look(page);
      expect(messages).toEqual([]);
      expect(requests).toHaveLength(1);
    });

  it("folds the contents where they would stand before the main points, and has them beside the text otherwise", () =>
    opened(async (page) => {
      const [list, fold] = [page.locator(".contents ol"), page.locator(".contents summary")];
      expect([await list.isVisible(), await fold.isVisible()]).toEqual([true, false]);
      await page.setViewportSize({width: 390, height: 800});
      await page.waitForFunction(() => !document.querySelector<HTMLDetailsElement>(".contents details")!.open);
      expect([await list.isVisible(), await fold.isVisible()]).toEqual([false, true]);
      expect((await page.locator("#main-points").boundingBox())!.y).toBeLessThan(400);
      await fold.click();
      await page.getByRole("link", {name: "Table", exact: true}).click();
      expect(page.url()).toMatch(/#table$/);
      await page.setViewportSize({width: 1280, height: 800});
      await page.waitForFunction(() => document.querySelector<HTMLDetailsElement>(".contents details")!.open);
    }));

  it("leaves the contents open for who reads without it", () =>
    opened(async (page) => expect(await page.locator(".contents ol").isVisible()).toBe(true), {
      viewport: {width: 390, height: 800},
      javaScriptEnabled: false
    }));

  it("sorts a table by numbers, up and down, nothing last, and back to how it stood", () =>
    opened(async (page) => {
      const head = page.locator("#table ~ .table thead th").nth(2);
      await head.locator("button").click();
      expect(await rows(page, 3)).toEqual(["9", "120", "1\u202f284", "–"]);
      expect(await head.getAttribute("aria-sort")).toBe("ascending");
      await head.locator("button").click();
      expect(await rows(page, 3)).toEqual(["1\u202f284", "120", "9", "–"]);
      expect(await head.getAttribute("aria-sort")).toBe("descending");
      await head.locator("button").click();
      expect(await rows(page, 3)).toEqual(["1\u202f284", "9", "–", "120"]);
      expect(await head.getAttribute("aria-sort")).toBeNull();
    }));

  it("sorts by the value, not by the interval beside it, and by the keyboard too", () =>
    opened(async (page) => {
      await page.locator("#table ~ .table thead th button").nth(3).focus();
      await page.keyboard.press("Enter");
      expect((await rows(page, 4)).map((text) => text.slice(0, 3))).toEqual(["655", "690", "702", "710"]);
    }));

  it("shows the rows of one supplier, of one species, of both, and says that figures speak of all", () =>
    opened(async (page) => {
      const [supplier, species] = [
        page.getByLabel("Supplier", {exact: true}),
        page.getByLabel("Species", {exact: true})
      ];
      await supplier.selectOption("Fennaby Yard");
      expect(await rows(page, 2)).toEqual(["ash", "maple"]);
      await species.selectOption("maple");
      expect(await rows(page, 3)).toEqual(["120"]);
      expect(await page.getByRole("status").textContent()).toContain("figures and sentences speak of all");
      await supplier.selectOption(hostileName);
      expect(await rows(page, 3)).toEqual(["9"]);
      await supplier.selectOption("");
      await species.selectOption("");
      expect(await rows(page, 3)).toHaveLength(4);
      expect(await page.title()).toBe("Suppliers");
    }));

  it("shows the value of a mark beside the pointer, on a tap, and no native one besides", () =>
    opened(async (page) => {
      expect(await page.locator(".drawing title").count()).toBe(0);
      const drawing = page.locator(".drawing[tabindex]").first();
      await drawing.scrollIntoViewIfNeeded();
      const box = (await drawing.boundingBox())!;
      await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2, {steps: 3});
      await drawing.focus();
      await page.keyboard.press("ArrowRight");
      const first = await page.locator(".tip").textContent();
      expect(first).not.toBe("");
      expect(await page.locator(".tip").isVisible()).toBe(true);
      expect(await page.locator(".live").textContent()).toBe(first);
      const at = (await page.locator(".drawing .at").boundingBox())!;
      await page.keyboard.press("Escape");
      expect(await page.locator(".tip").isVisible()).toBe(false);
      await page.mouse.click(at.x + at.width / 2, at.y + at.height / 2);
      expect(await page.locator(".tip").isVisible()).toBe(true);
    }));

  it("keeps the value within the window, and walks marks both ways by the arrow keys", () =>
    opened(
      async (page) => {
        const drawing = page.locator(".drawing[tabindex]").first();
        await drawing.focus();
        await page.keyboard.press("ArrowLeft");
        const last = await page.locator(".tip").textContent();
        await page.keyboard.press("ArrowRight");
        await page.keyboard.press("ArrowLeft");
        expect(await page.locator(".tip").textContent()).toBe(last);
        const {x, width} = (await page.locator(".tip").boundingBox())!;
        expect(x).toBeGreaterThanOrEqual(0);
        expect(x + width).toBeLessThanOrEqual(390);
      },
      {viewport: {width: 390, height: 800}}
    ));

  it.each(["light", "dark"] as const)("leaves nothing for axe-core to say in the %s", (colorScheme) =>
    opened(
      async (page) => {
        await page.locator(".drawing[tabindex]").first().focus();
        await page.keyboard.press("ArrowRight");
        const {violations} = await new AxeBuilder({page}).analyze();
        expect(violations.map(({id, nodes}) => `${id}: ${nodes[0]?.html}`)).toEqual([]);
      },
      {colorScheme}
    )
  );
});
