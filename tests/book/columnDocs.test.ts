import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {columnDocs, columnTables} from "../../lib/book/columnDocs.ts";
import {type FileName, files} from "../../lib/book/records.ts";
import {recordsOf} from "./smallBook.ts";

test("columnTables() is what the README says of the columns", () => {
  const readme = readFileSync("README.md", "utf8").replaceAll("\r\n", "\n");
  expect(readme).toContain(columnTables());
});

test("columnDocs(): the example of each column is a cell that its file takes", () => {
  for (const file of Object.keys(files) as FileName[]) {
    const own = columnDocs().filter((doc) => doc.file === file);
    const text = `${own.map(({heading}) => heading).join(",")}\n${own.map(({example}) => example).join(",")}\n`;
    const {records, problems} = recordsOf(text, file);
    expect(problems).toEqual([]);
    expect(records).toHaveLength(1);
  }
});

test("columnDocs(): a row without a required column's cell is refused, without an optional one's is used", () => {
  for (const file of Object.keys(files) as FileName[]) {
    const own = columnDocs().filter((doc) => doc.file === file);
    for (const left of own) {
      // The mass may follow from the density, so both are left blank together.
      const blank = left.heading === "mass_g" ? ["mass_g", "density_kgm3"] : [left.heading];
      const cells = own.map((doc) => (blank.includes(doc.heading) ? "" : doc.example));
      const text = `${own.map(({heading}) => heading).join(",")}\n${cells.join(",")}\n`;
      expect(recordsOf(text, file).records).toHaveLength(left.required ? 0 : 1);
    }
  }
});
