// Reads the bytes of a book's CSV files and counts the line ends: no reader can be faster.
import {createReadStream, readdirSync} from "node:fs";
import {join} from "node:path";

const lineEnd = 10;
const [folder] = process.argv.slice(2);
let lines = 0;
for (const name of readdirSync(folder).filter((one) => one.endsWith(".csv")))
  for await (const bytes of createReadStream(join(folder, name), {highWaterMark: 1 << 20}))
    for (let at = bytes.indexOf(lineEnd); at >= 0; at = bytes.indexOf(lineEnd, at + 1)) lines++;
console.log(JSON.stringify({lines}));
