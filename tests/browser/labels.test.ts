import {mkdtempSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {AxeBuilder} from "@axe-core/playwright";
import {HtmlValidate} from "html-validate";
import type {Page} from "playwright-core";
import {expect, it} from "vitest";
import type {LabelRow} from "../../lib/rack/labelRows.ts";
import {type LabelLayout, labelLayout} from "../../scripts/pages/labelFit.ts";
import {labelsPage} from "../../scripts/pages/labels.ts";
import {readCode} from "../readCode.ts";
import {describeInBrowser} from "./needsBrowser.ts";
import {openPage} from "./openPage.ts";

const usual = {species: "ash", stage: "rough-round", state: "about" as const, day: "2026-11-20", densityAt12KgM3: 690};
const hostile = `</b><script>alert("1")</script>'&amp;`;
const rows: LabelRow[] = [
  {square: "A0001", ...usual},
  {square: "L031-07", ...usual, day: undefined} as never,
  {square: "0007", ...usual, species: "maple", stage: "finished", finishedOn: "2026-09-30"},
  {square: "Ö-9 «ясень» 梣", ...usual},
  {square: "مربع-12", ...usual},
  {square: `A"1'`, ...usual},
  {square: hostile, ...usual, species: `<i>"ash"</i>`, stage: "<img src=x onerror=alert(1)>"},
  {square: "WWWW-MMMM-WWWW-MMMM-WWWW-MMMM-0123456789", ...usual},
  {square: "AAAA-".repeat(20), ...usual},
  {square: "W".repeat(120), ...usual},
  {
    square: "A1",
    ...usual,
    species: "a species of a very long name that goes on",
    stage: "second-rough-round-before-the-last-one"
  },
  {square: "B2", ...usual, species: "Unbroken".repeat(10), stage: "x"},
  ...Array.from({length: 20}, (_, i) => ({square: `B${String(i).padStart(4, "0")}`, ...usual}))
];

/** A page of these labels as a file. */
function fileOf(layout: LabelLayout, some: readonly LabelRow[] = rows): string {
  const path = join(mkdtempSync(join(tmpdir(), "labels-")), "labels.html");
  writeFileSync(path, labelsPage(some, layout, {workshop: "Two Benches", asOf: "2026-10-31"}).html);
  return path;
}

/** Labels whose text or code reaches beyond them, or text beneath a code; and texts that are not whole. */
async function labelFaults(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const faults: string[] = [];
    for (const label of document.querySelectorAll(".label")) {
      const box = label.getBoundingClientRect();
      const name = label.querySelector("b")!.textContent!.slice(0, 30);
      const code = label.querySelector(".code")?.getBoundingClientRect();
      const walker = document.createTreeWalker(label, NodeFilter.SHOW_TEXT);
      for (let node = walker.nextNode(); node; node = walker.nextNode()) {
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const rect of range.getClientRects()) {
          const within =
            rect.left >= box.left &&
            rect.right <= box.right + 0.5 &&
            rect.top >= box.top - 0.5 &&
            rect.bottom <= box.bottom + 0.5;
          if (!within) faults.push(`${name}: “${node.textContent!.slice(0, 30)}” reaches out of its label`);
          if (code && rect.left < code.right - 0.5)
            faults.push(`${name}: “${node.textContent!.slice(0, 30)}” lies on the code`);
        }
      }
      if (
        code &&
        (code.left < box.left || code.right > box.right || code.top < box.top - 0.5 || code.bottom > box.bottom + 0.5)
      )
        faults.push(`${name}: the code reaches out of its label`);
    }
    return [...new Set(faults)];
  });
}

/** The pixels of a picture, drawn in another page. */
async function pixelsOf(page: Page, png: Buffer): Promise<{data: number[]; width: number; height: number}> {
  return page.evaluate(async (base64) => {
    const blob = new Blob([Uint8Array.from(atob(base64), (character) => character.charCodeAt(0))]);
    const picture = await createImageBitmap(blob);
    const {width, height} = picture;
    const context = new OffscreenCanvas(width, height).getContext("2d")!;
    context.drawImage(picture, 0, 0);
    return {data: [...context.getImageData(0, 0, width, height).data], width, height};
  }, png.toString("base64"));
}

const layouts: [string, LabelLayout][] = [
  ["3 × 8, edge to edge", labelLayout()],
  ["2 × 4", labelLayout({columns: 2, rows: 4})],
  ["4 × 10 with gaps", labelLayout({columns: 4, rows: 10, widthMm: 48, heightMm: 25, gapAcrossMm: 2, gapDownMm: 1})],
  ["5 × 13", labelLayout({columns: 5, rows: 13})],
  ["1 × 3", labelLayout({columns: 1, rows: 3})],
  ["8 × 20", labelLayout({columns: 8, rows: 20})]
];

it("labelsPage is valid HTML, and says which numbers are small or too long for their code", async () => {
  const report = await new HtmlValidate({
    extends: ["html-validate:recommended"],
    rules: {"doctype-style": "off", "prefer-native-element": ["error", {exclude: ["img"]}], "no-inline-style": "off"}
  }).validateString(readFileSync(fileOf(labelLayout({skip: 5})), "utf8"));
  expect(report.results.flatMap(({messages}) => messages.map(({ruleId, message}) => `${ruleId} ${message}`))).toEqual(
    []
  );
  const {small, fine} = labelsPage([...rows, {square: "x".repeat(3000), ...usual}], labelLayout(), {
    workshop: "Two Benches",
    asOf: "2026-10-31"
  });
  expect(small).toContain("W".repeat(120));
  expect(small).not.toContain("A0001");
  expect(fine).toEqual(["x".repeat(3000)]);
});

describeInBrowser("a sheet of labels in the browser", (browser) => {
  it.each(layouts)(
    "%s: on paper every text and code lies within its label, and every label on its sheet",
    async (_, layout) => {
      await openPage(
        browser(),
        fileOf(layout),
        {viewport: {width: 794, height: 1123}},
        async ({page, messages, requests}) => {
          expect(messages).toEqual([]);
          expect(requests).toHaveLength(1);
          await page.emulateMedia({media: "print"});
          expect(await labelFaults(page)).toEqual([]);
          const shown = await page.locator(".label b").evaluateAll((nodes) => nodes.map((node) => node.textContent));
          expect(shown).toEqual(rows.map(({square}) => square));
          const mm = await page.evaluate(() =>
            [...document.querySelectorAll(".sheet")].map((sheet) => {
              const [from, first] = [sheet, sheet.querySelector(".label")!].map((node) => node.getBoundingClientRect());
              return [first!.left - from!.left, first!.top - from!.top, first!.width, first!.height].map(
                (px) => (px * 25.4) / 96
              );
            })
          );
          const left = (210 - layout.columns * layout.widthMm - (layout.columns - 1) * layout.gapAcrossMm) / 2;
          const above = (297 - layout.rows * layout.heightMm - (layout.rows - 1) * layout.gapDownMm) / 2;
          for (const sheet of mm) {
            for (const [i, want] of [left, above, layout.widthMm, layout.heightMm].entries())
              expect(Math.abs(sheet[i]! - want)).toBeLessThan(0.05);
            expect(sheet[1]).toBeGreaterThan(-0.005);
          }
        }
      );
    }
  );

  it.each(layouts)("%s: prints on as many A4 sheets as it says, with every number", async (_, layout) => {
    await openPage(browser(), fileOf(layout), {}, async ({page}) => {
      const pdf = (await page.pdf({preferCSSPageSize: true, tagged: true})).toString("latin1");
      const sheets = Math.ceil(rows.length / (layout.columns * layout.rows));
      expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)).toHaveLength(sheets);
      // A code that fell off the paper has no words for it in the file.
      expect(pdf.match(/\/Alt\b/g)).toHaveLength(rows.length);
      const boxes = [...pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)];
      // A4 is 210 × 297 mm (ISO 216), 595 × 842 pt.
      for (const [, width, height] of boxes)
        expect([Number(width), Number(height)].map(Math.round)).toEqual([595, 842]);
    });
  });

  it("skips what is used up of the first sheet, and goes on with the next", async () => {
    const layout = labelLayout({skip: 22});
    await openPage(
      browser(),
      fileOf(layout, rows.slice(12, 16)),
      {viewport: {width: 794, height: 1123}},
      async ({page}) => {
        await page.emulateMedia({media: "print"});
        const places = await page.evaluate(() =>
          [...document.querySelectorAll(".sheet")].map((sheet) => {
            const from = sheet.getBoundingClientRect();
            return [...sheet.querySelectorAll(".label")].map((label) => {
              const {left, top} = label.getBoundingClientRect();
              return [left - from.left, top - from.top].map((px) => (px * 25.4) / 96);
            });
          })
        );
        expect(places.map((sheet) => sheet.map(([x, y]) => [Math.round(x! / 70), Math.round(y! / 37.125)]))).toEqual([
          [
            [1, 7],
            [2, 7]
          ],
          [
            [0, 0],
            [1, 0]
          ]
        ]);
      }
    );
  });

  it.each(["light", "dark"] as const)(
    "every code is read off the screen, %s, and says its number and nothing else",
    async (colorScheme) => {
      await openPage(browser(), fileOf(labelLayout()), {colorScheme, deviceScaleFactor: 2}, async ({page}) => {
        const blank = await page.context().newPage();
        for (const [i, {square}] of rows.slice(0, 13).entries()) {
          const png = await page.locator(".label .code").nth(i).screenshot();
          const {data, width, height} = await pixelsOf(blank, png);
          expect(readCode(Uint8ClampedArray.from(data), width, height)).toBe(square);
        }
      });
    }
  );

  it.each(["light", "dark"] as const)(
    "nothing is found by axe, nothing scrolls sideways, nothing is cut off on a telephone, %s",
    async (colorScheme) => {
      for (const layout of [labelLayout(), labelLayout({columns: 1, rows: 3})]) {
        await openPage(browser(), fileOf(layout), {colorScheme}, async ({page}) => {
          const {violations} = await new AxeBuilder({page}).analyze();
          expect(violations.map(({id, nodes}) => `${id}: ${nodes.map(({html}) => html).join(" ")}`)).toEqual([]);
          for (const width of [1280, 390, 320]) {
            await page.setViewportSize({width, height: 800});
            expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
            expect(await labelFaults(page)).toEqual([]);
          }
        });
      }
    }
  );
});
