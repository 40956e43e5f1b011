import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {kept} from "../../lib/report/kept.ts";

it("kept(text) keeps each date in one piece, and escapes the rest", () => {
  expect(htmlText(kept("<b> 2021-11-19 to 2026-10-31"))).toBe(
    '&lt;b&gt; <span class="kept">2021-11-19</span> to <span class="kept">2026-10-31</span>'
  );
});

it("kept(text) leaves a text without a date as it is", () => {
  expect(htmlText(kept("lot 12-34-56"))).toBe("lot 12-34-56");
  expect(htmlText(kept(""))).toBe("");
});
