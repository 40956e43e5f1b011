import {existsSync, readFileSync} from "node:fs";
import {dirname, join} from "node:path";
import {AxeBuilder} from "@axe-core/playwright";
import {HtmlValidate} from "html-validate";
import type {Page} from "playwright-core";
import {expect, it} from "vitest";
import {dark, light} from "../../lib/report/tokens.ts";
import {demoPage, hostileName} from "./demoPage.ts";
import {drawingFaults} from "./drawingFaults.ts";
import {describeInBrowser} from "./needsBrowser.ts";
import {openPage} from "./openPage.ts";
import {reportFolder} from "./reportFolder.ts";

const files = reportFolder();

const validator = new HtmlValidate({
  extends: ["html-validate:recommended"],
  rules: {
    // Lower case, as HTML itself writes it.
    "doctype-style": "off",
    // A drawing is an image made of two SVGs, of which one is shown; no element means that.
    "prefer-native-element": ["error", {exclude: ["img"]}],
    // Plot writes SVG as an HTML serialiser does.
    "no-inline-style": "off"
  }
});

/** Most A4 pages that a page may print on; 16 where nothing is said. */
const mostPages: Record<string, number> = {"demo.html": 4, "monthly.html": 9, "season.html": 18, "yard-card.html": 1};

it("reportFolder() makes at least the demo page", () => {
  expect(files.map(({name}) => name)).toContain("demo.html");
});

it.each(files)("$name is valid HTML", async ({path}) => {
  const report = await validator.validateString(readFileSync(path, "utf8"));
  expect(
    report.results.flatMap(({messages}) => messages.map(({ruleId, message, line}) => `${ruleId} ${line}: ${message}`))
  ).toEqual([]);
});

/** Most KiB of a page; the season's holds the what-if panel's script. */
const mostKiB: Record<string, number> = {"monthly.html": 200, "season.html": 700};

it.each(files)("$name is smaller than 300 KiB, the monthly report than 200, the season's than 700", ({name, path}) => {
  expect(readFileSync(path).byteLength).toBeLessThan((mostKiB[name] ?? 300) * 1024);
});

describeInBrowser("a report in the browser", (browser) => {
  it.each(files.filter(({name}) => name === "yard-card.html"))(
    "no weight of the yard card is cut at any width",
    async ({path}) => {
      for (const width of [320, 360, 390, 480, 600, 900, 1280]) {
        await openPage(browser(), path, {viewport: {width, height: 900}}, async ({page}) => {
          const cut = await page.evaluate(
            () =>
              [...document.querySelectorAll(".panel .table")].filter((node) => node.scrollWidth > node.clientWidth)
                .length
          );
          expect([width, cut]).toEqual([width, 0]);
        });
      }
    }
  );

  it.each(files)("$name opens without scripts, asks for nothing else and says nothing", async ({path}) => {
    await openPage(browser(), path, {javaScriptEnabled: false}, async ({page, requests, messages}) => {
      expect(requests).toEqual([page.url()]);
      expect(messages).toEqual([]);
      expect(await page.locator("h1").count()).toBe(1);
      expect(await page.locator("main").count()).toBe(1);
      expect(await page.title()).not.toBe("");
      expect(await page.locator("html").getAttribute("lang")).toMatch(/^[a-z]{2}(-[A-Z]{2})?$/);
    });
  });

  it.each(files)("$name obeys its own security policy with scripts on", async ({path}) => {
    await openPage(browser(), path, {}, async ({requests, messages}) => {
      expect(requests).toHaveLength(1);
      expect(messages).toEqual([]);
    });
  });

  it.each(files)("$name skips no level of heading", async ({path}) => {
    await openPage(browser(), path, {}, async ({page}) => {
      const levels = await page
        .locator("h1, h2, h3, h4, h5, h6")
        .evaluateAll((nodes) => nodes.map((node) => Number(node.tagName[1])));
      expect(levels[0]).toBe(1);
      for (const [i, level] of levels.entries()) expect(level).toBeLessThanOrEqual((levels[i - 1] ?? 0) + 1);
    });
  });

  it.each(files)(
    "$name: every link leads somewhere: in the page, to a file beside it, to a place in that file",
    async ({path}) => {
      await openPage(browser(), path, {}, async ({page}) => {
        const links = await page
          .locator("a[href]")
          .evaluateAll((nodes) => nodes.map((node) => node.getAttribute("href") ?? ""));
        expect(links.filter((href) => !leadsFrom(path, href))).toEqual([]);
      });
    }
  );

  it.each(files)("$name: labels of drawings are whole, apart and readable on desk and phone", async ({path}) => {
    await openPage(browser(), path, {javaScriptEnabled: false}, async ({page}) => {
      expect(await drawingFaults(page)).toEqual([]);
      await page.setViewportSize({width: 390, height: 844});
      expect(await drawingFaults(page)).toEqual([]);
    });
  });

  // 320 px is a desk of 1280 px at 400 % (WCAG 2.2, 1.4.10 Reflow).
  it.each(files)("$name does not scroll sideways on desk, tablet and phone, nor at 400 %%", async ({path}) => {
    await openPage(browser(), path, {}, async ({page}) => {
      for (const width of [1280, 768, 390, 320]) {
        await page.setViewportSize({width, height: 800});
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      }
    });
  });

  it.each(files.flatMap((file) => (["light", "dark"] as const).map((colorScheme) => ({...file, colorScheme}))))(
    "$name has no fault that axe can find, $colorScheme",
    {timeout: 120_000},
    async ({name, path, colorScheme}) => {
      await openPage(browser(), path, {colorScheme}, async ({page}) => {
        if (name === "demo.html") await openData(page);
        // What is drawn is hidden from screen readers, and its colours have a test of their own.
        // In the dark only colours differ from the light page.
        const builder = new AxeBuilder({page}).exclude(".drawing svg");
        if (colorScheme === "dark") builder.withRules(["color-contrast", "link-in-text-block"]);
        const {violations} = await builder.analyze();
        expect(violations.map(({id, nodes}) => `${id}: ${nodes.map(({html}) => html).join(" ")}`)).toEqual([]);
        const ground = await page.evaluate(() => getComputedStyle(document.documentElement).backgroundColor);
        expect(ground).toBe(rgb((colorScheme === "dark" ? dark : light).ground));
      });
    }
  );

  it.each(files)(
    "$name: Tab walks through all that can be used, in reading order, and shows where it is",
    async ({path}) => {
      await openPage(browser(), path, {}, async ({page}) => {
        const count = await page.evaluate(() => {
          const all = [
            ...document.querySelectorAll<HTMLElement>("a[href], button, input, select, summary, [tabindex='0']")
          ];
          const used = all.filter((node) => node.checkVisibility());
          for (const [i, node] of used.entries()) node.dataset.place = String(i);
          return used.length;
        });
        const walked: {place: number; seen: boolean}[] = [];
        for (let i = 0; i < count; i++) {
          await page.keyboard.press("Tab");
          walked.push(
            await page.evaluate(() => {
              const node = document.activeElement as HTMLElement;
              const {outlineStyle, outlineWidth} = getComputedStyle(node);
              const {top, bottom, left, width, height} = node.getBoundingClientRect();
              const inView = bottom > 0 && top < innerHeight && left >= 0 && width > 0 && height > 0;
              return {
                place: Number(node.dataset.place),
                seen: inView && outlineStyle !== "none" && Number.parseFloat(outlineWidth) >= 2
              };
            })
          );
        }
        expect(walked.map(({place}) => place)).toEqual(Array.from({length: count}, (_, i) => i));
        expect(walked.filter(({seen}) => !seen)).toEqual([]);
      });
    }
  );

  it.each(files)("$name: running text is at most 75 figures wide", async ({path}) => {
    await openPage(browser(), path, {viewport: {width: 1600, height: 900}}, async ({page}) => {
      const widths = await page.locator("main > section > p, .lead").evaluateAll((nodes) =>
        nodes.map((node) => {
          const probe = node.appendChild(document.createElement("span"));
          probe.textContent = "0".repeat(100);
          probe.style.cssText = "position: absolute; white-space: nowrap";
          const figure = probe.getBoundingClientRect().width / 100;
          probe.remove();
          return node.getBoundingClientRect().width / figure;
        })
      );
      expect(Math.max(...widths)).toBeLessThanOrEqual(75);
    });
  });

  it.each(files)("$name prints on few tagged A4 pages with closed data left out", async ({name, path}) => {
    await openPage(browser(), path, {colorScheme: "dark", javaScriptEnabled: false}, async ({page}) => {
      const pdf = (
        await page.pdf({preferCSSPageSize: true, tagged: true, outline: true, printBackground: true})
      ).toString("latin1");
      expect(pdf.match(/\/Type\s*\/Page\b(?!s)/g)?.length).toBeLessThanOrEqual(mostPages[name] ?? 16);
      expect(pdf).toContain("/StructTreeRoot");
      // A4 is 210 × 297 mm (ISO 216), 595 × 842 pt.
      for (const [, width, height] of pdf.matchAll(/\/MediaBox\s*\[0 0 ([\d.]+) ([\d.]+)\]/g)) {
        expect(Number(width)).toBeCloseTo(595.3, -0.5);
        expect(Number(height)).toBeCloseTo(841.9, -0.5);
      }
      await page.emulateMedia({media: "print", colorScheme: "dark"});
      const seen = await page.evaluate(() =>
        [...document.querySelectorAll<HTMLElement>(".contents, .others, details")]
          .filter((node) => node.offsetHeight > 0)
          .map((node) => node.className)
      );
      expect(seen).toEqual([]);
      expect(await page.evaluate(() => getComputedStyle(document.documentElement).color)).toBe(rgb(light.ink));
    });
  });
});

/** Whether a link of a page leads to a place in it, to a file held in it, or to a file beside it and a place there. */
function leadsFrom(path: string, href: string): boolean {
  if (href.startsWith("data:text/csv")) return true;
  const [, file, anchor] = /^([\w./-]*)(?:#([\w-]+))?$/.exec(href) ?? [];
  if (file === undefined) return false;
  const target = file === "" ? path : join(dirname(path), file);
  return existsSync(target) && (anchor === undefined || readFileSync(target, "utf8").includes(` id="${anchor}"`));
}

const demo = files.filter(({name}) => name === "demo.html");

describeInBrowser("the demo page in the browser", (browser) => {
  it.each(demo)("shows a hostile name as text and obeys none of it", async ({path}) => {
    await openPage(browser(), path, {}, async ({page}) => {
      expect(await page.title()).toBe("Yield in October 2026");
      expect(await page.locator("#lots-table td").allTextContents()).toContain(hostileName);
      expect(await page.locator("img").count()).toBe(0);
      // The page's own.
      expect(await page.locator("script").count()).toBe(1);
    });
  });

  it.each(demo)("saves the table as the CSV that tableCsv writes, without a server", async ({path}) => {
    await openPage(browser(), path, {acceptDownloads: true}, async ({page}) => {
      const waiting = page.waitForEvent("download");
      await page.locator("#lots-table a.csv").click();
      const download = await waiting;
      expect(download.suggestedFilename()).toBe("lots-table-2026-10.csv");
      const text = readFileSync((await download.path())!, "utf8");
      expect(text.startsWith("\ufeffLot,Bought,Supplier,")).toBe(true);
      expect(text).toContain("A-031,2026-01-16,Alder Lane Yard,48,2,66.7,52,78.1,19.41\r\n");
      expect(text).toContain(`"${hostileName.replaceAll('"', '""')}"`);
    });
  });

  it.each(demo)("shows the wide drawing on a desk and in print, the narrow one on a phone", async ({path}) => {
    const shown = (width: number) =>
      openPage(browser(), path, {viewport: {width, height: 800}}, ({page}) =>
        page
          .locator(".drawing > div")
          .evaluateAll((nodes) => nodes.filter((node) => node.clientHeight > 0).map((node) => node.className))
      );
    expect(new Set(await shown(1280))).toEqual(new Set(["wide"]));
    expect(new Set(await shown(390))).toEqual(new Set(["narrow"]));
  });

  it.each(files.filter(({name}) => name !== "demo.html"))(
    "$name is whole under forced colours: text in the system's, marks in their own",
    async ({path}) => {
      await openPage(browser(), path, {forcedColors: "active"}, async ({page}) => {
        const [ink, ground, muted] = await page.evaluate(() => {
          const probe = document.body.appendChild(document.createElement("p"));
          probe.style.cssText = "color: CanvasText; background: Canvas; forced-color-adjust: none";
          const {color, backgroundColor} = getComputedStyle(probe);
          probe.remove();
          return [color, backgroundColor, getComputedStyle(document.querySelector("header p, .note")!).color];
        });
        expect(ink).not.toBe(ground);
        expect(muted).toBe(ink);
        const fills = await page
          .locator(".drawing svg [fill^='var(--c']")
          .evaluateAll((nodes) => nodes.map((node) => getComputedStyle(node).fill));
        expect(fills.filter((fill) => fill === ink || fill === ground)).toEqual([]);
      });
    }
  );

  it.each(demo)("keeps the classes apart under forced colours", async ({path}) => {
    await openPage(browser(), path, {forcedColors: "active"}, async ({page}) => {
      const fills = await page
        .locator("#where-squares-go .key rect")
        .evaluateAll((nodes) => nodes.map((node) => getComputedStyle(node).fill));
      expect(new Set(fills).size).toBe(5);
    });
  });

  it.each(demo)("leads with the keyboard from the skip link to the data of a figure", async ({path}) => {
    await openPage(browser(), path, {}, async ({page}) => {
      await page.keyboard.press("Tab");
      expect(await page.evaluate(() => document.activeElement?.className)).toBe("skip");
      await page.keyboard.press("Enter");
      expect(await page.evaluate(() => document.activeElement?.id)).toBe("main");
      await page.locator("main summary").first().focus();
      await page.keyboard.press("Enter");
      expect(await page.locator("#where-squares-go-data-caption").isVisible()).toBe(true);
    });
  });

  it("is the same bytes when made again", () => {
    expect(readFileSync(demo[0]!.path, "utf8")).toBe(demoPage());
  });
});

function openData(page: Page): Promise<void> {
  return page.locator("details").evaluateAll((nodes) => {
    for (const node of nodes) node.setAttribute("open", "");
  });
}

function rgb(hex: string): string {
  return `rgb(${[1, 3, 5].map((i) => Number.parseInt(hex.slice(i, i + 2), 16)).join(", ")})`;
}
