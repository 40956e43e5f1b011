import {createHash} from "node:crypto";
import {mkdtempSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {pathToFileURL} from "node:url";
import {exitCodes, say, tell} from "./command.ts";
import {findBrowser, startBrowser} from "./golden/findBrowser.ts";
import {withPngText} from "./golden/pngText.ts";
import {bookAsOf, readBook} from "./io/readBook.ts";
import {monthlyReport} from "./pages/monthly.ts";

/** The picture of the monthly report that the README shows. */
const place = "sample-data/monthly-report.png";

const found = readBook("sample-data");
const {html} = monthlyReport(bookAsOf({...found, book: found.book!}), {notebooks: [], keptBefore: () => undefined});
const path = findBrowser();
if (path === undefined) {
  say("No Chromium, Chrome or Edge was found, and the picture is made with one. Install one, or set CHROME_PATH.");
  process.exitCode = exitCodes.usage;
} else {
  const file = join(mkdtempSync(join(tmpdir(), "picture-")), "monthly.html");
  writeFileSync(file, html);
  const browser = await startBrowser(path);
  try {
    const page = await browser.newPage({viewport: {width: 1180, height: 1290}, colorScheme: "light"});
    await page.goto(pathToFileURL(file).href);
    // What it was made from is written into it, so that a test can tell when it is stale.
    const hash = createHash("sha256").update(html, "utf8").digest("hex");
    const end = await page.evaluate(() => document.querySelector(".figure figure")!.getBoundingClientRect().bottom);
    const clip = {x: 0, y: 0, width: 1180, height: Math.ceil(end + 16)};
    writeFileSync(place, withPngText(await page.screenshot({fullPage: true, clip}), "page", hash));
    tell(place);
  } finally {
    await browser.close();
  }
}
