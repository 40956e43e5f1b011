import {createHash} from "node:crypto";
import {readFileSync, statSync} from "node:fs";
import {expect, it} from "vitest";
import {draw} from "../../scripts/draw.ts";
import {pngText} from "../../scripts/golden/pngText.ts";
import {bookAsOf, readBook} from "../../scripts/io/readBook.ts";
import {monthlyReport} from "../../scripts/pages/monthly.ts";

const picture = "sample-data/monthly-report.png";

it("the README's picture is of the monthly report as it is made today", () => {
  const found = readBook("sample-data");
  const {html} = monthlyReport(bookAsOf({...found, book: found.book!}), {
    notebooks: [],
    keptBefore: () => undefined,
    draw
  });
  const hash = createHash("sha256").update(html, "utf8").digest("hex");
  expect(pngText(readFileSync(picture), "page"), "it is stale: npm run picture makes it anew").toBe(hash);
});

it("the README shows it, with words for who cannot see it, and it is not heavy", () => {
  expect(readFileSync("README.md", "utf8")).toMatch(/!\[[^\]]{60,}\]\(sample-data\/monthly-report\.png\)/);
  expect(statSync(picture).size).toBeLessThan(200 * 1024);
});
