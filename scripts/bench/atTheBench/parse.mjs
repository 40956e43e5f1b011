// The yardstick of reading: the files of a book parsed by PapaParse into arrays of text, and nothing else. node parse.mjs <folder>
import {readdirSync, readFileSync} from "node:fs";
import {join} from "node:path";
import Papa from "papaparse";

const [folder] = process.argv.slice(2);
for (const name of readdirSync(folder).filter((one) => one.endsWith(".csv")))
  Papa.parse(readFileSync(join(folder, name), "utf8"));
