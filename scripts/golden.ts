import {existsSync, readdirSync, rmSync} from "node:fs";
import {join, resolve} from "node:path";
import {pathToFileURL} from "node:url";
import {Command} from "commander";
import {exitCodes, relative, say, tell} from "./command.ts";
import {changesPage} from "./golden/changesPage.ts";
import {drawings} from "./golden/drawings.ts";
import {findBrowser, startBrowser} from "./golden/findBrowser.ts";
import {accept, changes, goldenFolder} from "./golden/store.ts";
import {writeReport} from "./io/writeReport.ts";

const program = new Command("golden")
  .description(
    `Compare every figure of the sample book with the drawing kept of it in ${goldenFolder}, and show what changed as pictures. Ends with code 1 when something did.`
  )
  .option("--accept", "take the drawings as they are now as golden")
  .option("--out <folder>", "where the pictures go", "reports/golden")
  .parse();
const options = program.opts<{accept?: boolean; out: string}>();

const changed = changes(drawings());
for (const {name, before, after} of changed)
  tell(`${before === undefined ? "new" : after === undefined ? "gone" : "changed"}: ${name}`);
if (changed.length === 0) say(`Every drawing is as it was in ${goldenFolder}.`);
else if (options.accept) {
  accept(changed);
  say(`Taken as golden: ${changed.length}.`);
} else {
  removeOld(resolve(options.out));
  const page = writeReport(resolve(options.out), "index.html", changesPage(changed));
  tell(relative(page));
  await pictures(page);
  say("Look at them; npm run golden -- --accept (npx tsx scripts/golden.ts --accept) takes them as they are.");
  process.exitCode = exitCodes.ourFault;
}

/** Takes away the pictures of an earlier run, and nothing else. */
function removeOld(folder: string): void {
  if (!existsSync(folder)) return;
  for (const name of readdirSync(folder)) if (/-(wide|narrow)\.png$/.test(name)) rmSync(join(folder, name));
}

/** A picture of each change beside the page, where a browser is installed. */
async function pictures(page: string): Promise<void> {
  const path = findBrowser();
  if (path === undefined) {
    say("No Chromium, Chrome or Edge was found, so there are no pictures: open the page.");
    return;
  }
  const browser = await startBrowser(path);
  try {
    const view = await browser.newPage({viewport: {width: 1800, height: 900}});
    await view.goto(pathToFileURL(page).href);
    for (const {name} of changed) {
      const picture = join(resolve(options.out), name.replace(/svg$/, "png"));
      await view.locator(`#${name.replace(/\W/g, "-")}`).screenshot({path: picture});
    }
  } finally {
    await browser.close();
  }
}
