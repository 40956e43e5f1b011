import fc from "fast-check";
import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {escaped, type Html, html, htmlText, raw} from "../../lib/report/html.ts";

const {document} = new JSDOM("").window;

it("html`…` escapes what is put in, and leaves what html made", () => {
  expect(htmlText(html`<td>${"Ash & <b>sons</b>"}</td>`)).toBe("<td>Ash &amp; &lt;b&gt;sons&lt;/b&gt;</td>");
  expect(htmlText(html`<p>${html`<b>${"<"}</b>`}</p>`)).toBe("<p><b>&lt;</b></p>");
});

it("html`…` joins lists, and takes undefined and false for nothing but 0 for a number", () => {
  expect(htmlText(html`${[html`<i></i>`, "&", [1, undefined]]}|${undefined}|${false}|${0}`)).toBe("<i></i>&amp;1|||0");
});

it("raw(text) passes text on; nothing read from a file can pose as it", () => {
  expect(htmlText(html`${raw("<svg></svg>")}`)).toBe("<svg></svg>");
  const posing = JSON.parse('{"html": "<script>"}') as Html;
  expect(htmlText(html`${posing}`)).not.toContain("<script>");
});

it("a browser’s parser reads any text back as it was, in text and in an attribute", () => {
  fc.assert(
    fc.property(fc.string({unit: "binary"}), (text) => {
      const element = document.createElement("div");
      element.innerHTML = htmlText(html`<p title="${text}">${text}</p>`);
      // HTML has no null character, and takes a carriage return for a line feed in both places.
      const wanted = text.replaceAll("\0", "\ufffd").replace(/\r\n?/g, "\n");
      expect(element.children).toHaveLength(1);
      expect(element.firstElementChild!.textContent).toBe(wanted);
      expect(element.firstElementChild!.getAttribute("title")).toBe(wanted);
    })
  );
});

it('escaped("<b>") is "&lt;b&gt;", and closes no quoted attribute', () => {
  expect(escaped("<b>")).toBe("&lt;b&gt;");
  expect(escaped(`"'`)).toBe("&quot;&#39;");
});
