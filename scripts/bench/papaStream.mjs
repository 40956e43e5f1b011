// Bare PapaParse on a book: every CSV file as a stream, with headings, rows dropped. The yardstick of “steady”.
import {createReadStream, readdirSync} from "node:fs";
import {join} from "node:path";
import Papa from "papaparse";

const [folder] = process.argv.slice(2);
let rows = 0;
for (const name of readdirSync(folder).filter((one) => one.endsWith(".csv"))) {
  await new Promise((complete, error) => {
    const step = () => {
      rows++;
    };
    Papa.parse(createReadStream(join(folder, name), "utf8"), {header: true, step, complete, error});
  });
}
console.log(JSON.stringify({rows}));
