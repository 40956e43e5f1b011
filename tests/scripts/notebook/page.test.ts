import * as Plot from "@observablehq/plot";
import {HtmlValidate} from "html-validate";
import {JSDOM} from "jsdom";
import {expect, test} from "vitest";
import {html, htmlText} from "../../../lib/report/html.ts";
import {livePage} from "../../../scripts/live/livePage.ts";
import {cells} from "../../../scripts/notebook/cells.ts";
import {codeHtml} from "../../../scripts/notebook/codeHtml.ts";
import {outputs} from "../../../scripts/notebook/outputs.ts";
import {notebookPage} from "../../../scripts/notebook/page.ts";
import type {NotebookRun} from "../../../scripts/notebook/runNotebook.ts";
import {densityDots, spread} from "../../browser/demoFigures.ts";

const hostile = '</title></code></pre><script>alert("x")</script><img src=x onerror=alert(1)>';

const text = `// %% [markdown]
// # Why ${hostile}?
// Prose ${hostile} and [a link](javascript:alert(1)) ![picture](https://example.com/a.png)
//
// ## Part ${hostile}

// %% Code ${hostile}
const a = ${JSON.stringify(hostile)}; // ${hostile}
// %%
throw a;
// %%
a;
`;

function run(changes: Partial<NotebookRun> = {}): NotebookRun {
  const shown = outputs();
  const piece = (value: unknown, table?: {caption: string}) => htmlText(shown.html(value, table ? {table} : {}));
  return {
    name: "01-x",
    lines: text.split("\n"),
    cells: cells(text).cells,
    shown: new Map([
      [
        1,
        [
          piece(hostile),
          piece({hostile}),
          piece([{[hostile]: hostile}], {caption: hostile}),
          piece({
            title: hostile,
            subtitle: hostile,
            caption: hostile,
            marks: [Plot.dot([{x: 1, y: 2}], {x: "x", y: "y"})]
          }),
          piece({...spread, title: hostile, alt: hostile}),
          piece({...densityDots})
        ]
      ]
    ]),
    bookFault: false,
    ...changes
  };
}
const read = (changes: Partial<NotebookRun> = {}) => new JSDOM(notebookPage(run(changes))).window.document;

test("a page shows hostile prose, headings, code and values as they are written, and obeys none", () => {
  const document = read({fault: {message: hostile, lines: [10], cell: 2}});
  expect(document.querySelectorAll("script, img, [onerror], a[href^=javascript]")).toHaveLength(0);
  expect(
    document.querySelectorAll(
      "h1, title, h2, .cell h3, .text, .printed, caption, th[scope], td, .code .string, .code .comment, .fault p"
    ).length
  ).toBeGreaterThan(12);
  for (const place of [
    "h1",
    "title",
    ".prose h2",
    ".prose p",
    ".cell > h3",
    ".contents a",
    ".text",
    "caption",
    "tbody th",
    ".figure h3",
    ".figure .subtitle",
    ".figure figcaption",
    ".code .comment",
    ".fault p"
  ])
    expect([place, document.querySelector(place)?.textContent]).toEqual([
      place,
      expect.stringContaining("<script>alert(")
    ]);
});

test("a page is valid HTML, has the first heading for its title and the others in its contents", async () => {
  const validator = new HtmlValidate({
    extends: ["html-validate:recommended"],
    rules: {
      "doctype-style": "off",
      "no-inline-style": "off",
      "long-title": "off", // the hostile one is
      "prefer-native-element": ["error", {exclude: ["img"]}]
    }
  });
  const report = await validator.validateString(notebookPage(run()));
  expect(report.results.flatMap(({messages}) => messages.map(({ruleId, message}) => `${ruleId}: ${message}`))).toEqual(
    []
  );
  const document = read();
  expect([...document.querySelectorAll(".contents a")].map((link) => link.getAttribute("href"))).toEqual(["#part-1"]);
  expect(document.querySelector("#part-1")?.localName).toBe("h2");
});

test("a page loads nothing and has no script; the watcher's has one, which its policy knows", () => {
  const policy = (document: Document) => document.querySelector("meta[http-equiv]")!.getAttribute("content")!;
  const document = read();
  expect(policy(document)).toContain("default-src 'none'");
  expect(policy(document)).not.toMatch(/script-src|connect-src/);
  expect(document.querySelectorAll("script, link, [src]")).toHaveLength(0);
  const live = new JSDOM(livePage(notebookPage(run()))).window.document;
  expect(live.querySelectorAll("script")).toHaveLength(1);
  expect(policy(live)).toMatch(/script-src 'sha256-\S+'.*connect-src 'self'$/);
});

test("figures are numbered as they come, and one shown twice gets an anchor of its own", () => {
  const shown = outputs();
  const document = new JSDOM([spread, spread].map((figure) => htmlText(shown.html(figure, {}))).join("")).window
    .document;
  expect([...document.querySelectorAll(".number")].map((node) => node.textContent)).toEqual(["Figure 1", "Figure 2"]);
  const ids = [...document.querySelectorAll("[id]")].map(({id}) => id);
  expect(ids.length).toBeGreaterThan(4);
  expect(new Set(ids).size).toBe(ids.length);
  expect(document.querySelectorAll(".wide svg, .narrow svg")).toHaveLength(4);
});

test("a page ends at the fault and says how many cells were not run", () => {
  const document = read({fault: {message: "It broke", lines: [10], cell: 2}});
  expect([...document.querySelectorAll(".cell")].map(({id}) => id)).toEqual(["cell-1", "cell-2"]);
  expect(document.querySelector(".fault")!.textContent).toMatch(/Cell 2, line 10: It broke.*1 cell below was not run/s);
});

test("codeHtml(text, line) numbers each line, marks what it is and loses no character", () => {
  const code = `const a = \`x\n\n  \${/* <b> */ 1}\`; // y\nlet b = "&";`;
  const document = new JSDOM(htmlText(html`${codeHtml(code, 7)}`)).window.document;
  expect([...document.querySelectorAll(".line")].map((line) => line.getAttribute("data-line"))).toEqual([
    "7",
    "8",
    "9",
    "10"
  ]);
  expect(document.querySelector("code")!.textContent).toBe(`${code}\n`);
  const marked = [...document.querySelectorAll(".line span")].map((node) => `${node.className} ${node.textContent}`);
  expect(marked).toEqual([
    "keyword const",
    "string `x",
    "string   ${",
    "comment /* <b> */",
    "number 1",
    "string }`",
    "comment // y",
    "keyword let",
    'string "&"'
  ]);
});
