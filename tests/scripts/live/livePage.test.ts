import {createHash} from "node:crypto";
import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {livePage} from "../../../scripts/live/livePage.ts";
import {demoPage} from "../../browser/demoPage.ts";

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
  expect(livePage(page).replace(/<script>[\s\S]*<\/script>\n/, "")).toBe(page);
});
