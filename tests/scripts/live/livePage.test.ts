import {createHash} from "node:crypto";
import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {livePage} from "../../../scripts/live/livePage.ts";
import {liveServer} from "../../../scripts/live/liveServer.ts";
import {demoPage} from "../../browser/demoPage.ts";
import {describeInBrowser} from "../../browser/needsBrowser.ts";

const policyOf = (page: string) =>
  new JSDOM(page).window.document.querySelector("meta[http-equiv]")!.getAttribute("content")!;
const hashOf = (text: string) => `'sha256-${createHash("sha256").update(text, "utf8").digest("base64")}'`;

test("livePage(page) adds one script, which the policy knows by its hash beside the page's own", () => {
  const page = demoPage();
  const live = livePage(page);
  const scripts = [...new JSDOM(live).window.document.querySelectorAll("script")].map((node) => node.textContent!);
  expect(scripts).toHaveLength(2);
  for (const script of scripts) expect(policyOf(live)).toContain(hashOf(script));
  expect(policyOf(live)).toMatch(/; connect-src 'self'$/);
  expect(policyOf(page)).not.toContain("connect-src");
});

test("livePage(page) gives a page without scripts leave for this one", () => {
  const bare = demoPage()
    .replace(/<script>[\s\S]*?<\/script>/, "")
    .replace(/ script-src [^;]*;/, "");
  expect(policyOf(bare)).not.toContain("script-src");
  const live = livePage(bare);
  const [script] = [...new JSDOM(live).window.document.querySelectorAll("script")].map((node) => node.textContent!);
  expect(policyOf(live)).toContain(`script-src ${hashOf(script!)}`);
});

test("livePage(page) leaves all else as it is, also text that looks like the end of a page", () => {
  const page = "<!doctype html><html><body><p>$& &lt;/body&gt;</p></body></html>";
  expect(livePage(page).replace(/<script data-told="0">[\s\S]*<\/script>\n/, "")).toBe(page);
});

describeInBrowser("livePage(page)", (browser) => {
  test("listens while it is seen only, so that many may be open, and learns then what it missed", {
    timeout: 120_000
  }, async () => {
    let text = "first";
    const server = await liveServer((path) =>
      path === "a.html" ? {page: `<!doctype html><body>${text}</body>`} : undefined
    );
    const context = await browser().newContext();
    try {
      const asked: string[] = [];
      context.on("request", (request) => asked.push(new URL(request.url()).pathname));
      const hide = (hidden: boolean) => {
        Object.defineProperty(document, "hidden", {value: hidden, configurable: true});
        document.dispatchEvent(new Event("visibilitychange"));
      };
      const pages = [];
      // A browser keeps six connections to one server: the ninth page would wait for ever.
      for (let i = 0; i < 9; i++) {
        const page = await context.newPage();
        await page.goto(`${server.address}a.html`);
        await page.evaluate(hide, true);
        pages.push(page);
      }
      text = "second";
      server.tell(["a.html"]);
      expect(await pages[0]!.textContent("body")).toContain("first");
      expect(asked.filter((path) => path === "/a.html")).toHaveLength(9);
      await pages[0]!.evaluate(hide, false);
      await pages[0]!.getByText("second").waitFor();
    } finally {
      await context.close();
      server.close();
    }
  });
});
