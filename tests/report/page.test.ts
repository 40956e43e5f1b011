import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {html} from "../../lib/report/html.ts";
import {type Page, page} from "../../lib/report/page.ts";
import {style} from "../../lib/report/style.ts";
import {policyHash} from "../../scripts/io/policyHash.ts";

const parts: Page = {
  title: "Yield & loss",
  subtitle: "October 2026",
  lang: "en-GB",
  lead: ["First.", "Second."],
  summary: html`<dl id="key"></dl>`,
  sections: [
    {
      id: "loss",
      heading: "Drying <costs>",
      body: [html`<p id="text">${"<b>"}</p>`],
      parts: [{id: "text", heading: "Text"}]
    }
  ],
  footer: html`<p>End</p>`,
  others: [{href: "index.html", label: "All"}],
  styleHash: policyHash(style)
};
const read = (changes: Partial<Page> = {}) => new JSDOM(page({...parts, ...changes})).window.document;

it("page(parts) has one title, one h1, the main points first, then the sections", () => {
  const document = read();
  expect(document.title).toBe("Yield & loss");
  expect(document.documentElement.lang).toBe("en-GB");
  expect([...document.querySelectorAll("h1, h2")].map((node) => node.textContent)).toEqual([
    "Yield & loss",
    "Main points",
    "Drying <costs>"
  ]);
  expect([...document.querySelectorAll(".lead li")].map((node) => node.textContent)).toEqual(["First.", "Second."]);
  expect(document.querySelector("main #key")).not.toBeNull();
});

it("page(parts) has its landmarks and a skip link that leads to the main one", () => {
  const document = read();
  expect([...document.body.children].map((node) => node.localName)).toEqual([
    "a",
    "nav",
    "header",
    "nav",
    "main",
    "footer"
  ]);
  expect(document.querySelector(".skip")!.getAttribute("href")).toBe("#main");
  expect([...document.querySelectorAll("nav")].map((node) => node.getAttribute("aria-label"))).toEqual([
    "Other reports",
    "Contents"
  ]);
  expect(read({others: []}).querySelectorAll("nav")).toHaveLength(1);
});

it("page(parts) carries the style sheet whose hash its policy names, and no script", () => {
  const document = read();
  const policy = document.querySelector("meta[http-equiv]")!.getAttribute("content")!;
  expect(policy).toContain(policyHash(document.querySelector("style")!.textContent!));
  expect(document.querySelector("script")).toBeNull();
  expect(document.querySelector("head")!.firstElementChild!.getAttribute("charset")).toBe("utf-8");
});

it("page({script}) puts the script last and names its hash", () => {
  const code = "document.title = 'x < y'";
  const document = read({script: {code, hash: policyHash(code)}});
  expect(document.body.lastElementChild!.textContent).toBe(code);
  expect(document.querySelector("meta[http-equiv]")!.getAttribute("content")).toContain(
    `script-src '${policyHash(code)}'`
  );
});

it("page({script, ownScript}) puts both last, in their order, and names both hashes; neither may end itself", () => {
  const [code, own] = ["let a = 1", "let b = 2"];
  const document = read({script: {code, hash: policyHash(code)}, ownScript: {code: own, hash: policyHash(own)}});
  expect([...document.querySelectorAll("body > script")].map(({textContent}) => textContent)).toEqual([code, own]);
  expect(document.querySelector("meta[http-equiv]")!.getAttribute("content")).toContain(
    `script-src '${policyHash(code)}' '${policyHash(own)}';`
  );
  expect(() => page({...parts, ownScript: {code: "'<!--'", hash: policyHash("'<!--'")}})).toThrow(
    "page: script must be free of </script and <!--"
  );
});

it("page throws on a seventh main point, an anchor that is ill-formed or taken, and a script that could end itself", () => {
  const [section] = parts.sections;
  const seven = Array.from({length: 7}, () => "x");
  expect(() => page({...parts, lead: seven})).toThrow("page: lead must be at most six sentences, got 7.");
  expect(() => page({...parts, sections: [{...section!, id: "No good"}]})).toThrow(
    'page: section id must be small letters, digits and hyphens, got "No good".'
  );
  expect(() => page({...parts, sections: [section!, section!]})).toThrow(
    'page: section id must be used once, got "loss".'
  );
  expect(() => page({...parts, sections: [{...section!, id: "main-points"}]})).toThrow("must be used once");
  const code = "'</script>'";
  expect(() => page({...parts, script: {code, hash: policyHash(code)}})).toThrow(
    "page: script must be free of </script and <!--"
  );
});

it("page(parts) is the same text every time", () => {
  expect(page(parts)).toBe(page({...parts}));
});
