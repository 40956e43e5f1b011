import {createHash} from "node:crypto";
import {writeFileSync} from "node:fs";
import {exitCodes, say, tell} from "./command.ts";
import {draw} from "./draw.ts";
import {findBrowser, startBrowser} from "./golden/findBrowser.ts";
import {withPngText} from "./golden/pngText.ts";
import {smaller} from "./golden/smaller.ts";
import {bookAsOf, readBook} from "./io/readBook.ts";
import {monthlyReport} from "./pages/monthly.ts";

/** The picture of the monthly report that the README shows. */
const place = "sample-data/monthly-report.png";

const found = readBook("sample-data");
const {html} = monthlyReport(bookAsOf({...found, book: found.book!}), {
  notebooks: [],
  keptBefore: () => undefined,
  draw
});
const path = findBrowser();
if (path === undefined) {
  say("No Chromium, Chrome or Edge was found, and the picture is made with one. Install one, or set CHROME_PATH.");
  process.exitCode = exitCodes.usage;
} else {
  const browser = await startBrowser(path);
  try {
    const page = await browser.newPage({viewport: {width: 1180, height: 1290}, colorScheme: "light"});
    await page.setContent(html);
    // Down to the end of the first figure, so that no line is cut through.
    const end = await page.evaluate(() => document.querySelector(".figure figure")!.getBoundingClientRect().bottom);
    const png = await page.screenshot({fullPage: true, clip: {x: 0, y: 0, width: 1180, height: Math.ceil(end + 4)}});
    // What it was made from is written into it, so that a test can tell when it is stale.
    const hash = createHash("sha256").update(html, "utf8").digest("hex");
    writeFileSync(place, withPngText(smaller(png), "page", hash));
    tell(place);
  } finally {
    await browser.close();
  }
}
