// How long `report --watch` takes from the saving of a changed book until its last page is written: node watch.mjs <folder of a book>
import {spawn} from "node:child_process";
import {cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {fileURLToPath} from "node:url";

const place = mkdtempSync(join(tmpdir(), "watch-"));
const book = join(place, "book");
cpSync(process.argv[2], book, {recursive: true});
const root = fileURLToPath(new URL("../../..", import.meta.url));
const command = ["scripts/start.mjs", "report", "--watch", "--book", book, "--out", join(place, "reports")];
const watching = spawn(process.execPath, command, {cwd: root, stdio: ["ignore", "pipe", "ignore"]});
const events = join(book, "events.csv");

let saved;
let told = "";
watching.stdout.setEncoding("utf8").on("data", (text) => {
  told += text;
  // The first time the address comes last, afterwards the path of the page that leads to the others.
  if (saved === undefined && /^http:.*\n/m.test(told)) {
    told = "";
    saved = performance.now();
    writeFileSync(events, readFileSync(events, "utf8").replace(/\r?\n[^\n]+\n$/, "\n"));
  } else if (saved !== undefined && /index\.html\n/.test(told)) {
    console.log(JSON.stringify({seconds: (performance.now() - saved) / 1000}));
    watching.kill();
  }
});
watching.on("close", () => rmSync(place, {recursive: true, force: true}));
