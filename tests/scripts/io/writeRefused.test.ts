import {mkdtempSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, test} from "vitest";
import {readBook} from "../../../scripts/io/readBook.ts";
import {writeRefused} from "../../../scripts/io/writeRefused.ts";
import {UserError} from "../../../scripts/io/writeReport.ts";
import {workbookBytes} from "../../../scripts/io/writeWorkbook.ts";
import {brief, texts} from "../../book/smallBook.ts";

const newFolder = () => mkdtempSync(join(tmpdir(), "refused-"));

function bookOf(contents: Record<string, string | Uint8Array>): string {
  const folder = newFolder();
  for (const [name, content] of Object.entries(contents)) writeFileSync(join(folder, name), content);
  return folder;
}

/** What is refused of a book, written into a new folder. */
function refused(book: string) {
  const out = newFolder();
  const {problems, sources} = readBook(book);
  const paths = writeRefused(out, problems, sources);
  expect(paths).toEqual(readdirSync(out).map((name) => join(out, name)));
  return {out, names: readdirSync(out), text: (name: string) => readFileSync(join(out, name), "utf8")};
}

const squares = ["A1,A,1500,40,40,1680,12", "A2,A,1500,40,40,heavy,12", "A3,A,1500,40,40,1690,12"];
const lots = ["A,2025-01-10,Quillmoor Sawpit,ash,3,10"];
const faulty = texts({lots, squares});

test("writeRefused writes nothing, and no folder, where no row is refused", () => {
  const {problems, sources} = readBook(bookOf(texts()));
  const out = join(newFolder(), "reports");
  expect(writeRefused(out, problems, sources)).toEqual([]);
  expect(() => readdirSync(out)).toThrow("ENOENT");
});

test("writeRefused writes the refused rows of each file beside where they stood and why, and no other rows", () => {
  const {names, text} = refused(bookOf(faulty));
  expect(names).toEqual(["refused-squares.csv"]);
  const [head, row, ...rest] = text("refused-squares.csv").split("\r\n");
  expect(head).toBe("\ufeffsquare,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct,_row,_mark,_problem");
  expect(row).toMatch(/^A2,A,1500,40,40,heavy,12,3,m[0-9a-f]{8},"?squares\.csv row 3 \(F3\): mass_g must be a number /);
  expect(rest).toEqual([""]);
});

test("writeRefused: rows mended and put into the book are read in their place, and nothing is refused any more", () => {
  const book = bookOf(faulty);
  const {text} = refused(book);
  writeFileSync(join(book, "mended-squares.csv"), text("refused-squares.csv").replace("heavy", "1685"));
  const read = readBook(book);
  expect(read.book?.squares.map(({square, massG, row}) => [square, massG, row])).toEqual([
    ["A1", 1680, 2],
    ["A2", 1685, 3],
    ["A3", 1690, 4]
  ]);
  expect(read.problems.filter(({severity}) => severity === "refused")).toEqual([]);
  expect(read.problems.map(brief)).toContain("rows-mended squares.csv");
  expect(refused(book).names).toEqual([]);
});

test("writeRefused: rows put back as they were are refused as they were", () => {
  const book = bookOf(faulty);
  const first = refused(book).text("refused-squares.csv");
  writeFileSync(join(book, "mended-squares.csv"), first);
  expect(refused(book).text("refused-squares.csv")).toBe(first);
});

test("writeRefused keeps what stands between the cells, and the owner's headings and marks", () => {
  const text = [
    "Nr;Los;Länge (mm);Breite;width_mm;thickness_mm;mass_g;mc_pct",
    "A1;A;1500;b;40;40,5;1680;12",
    "A2;A;1500;b;40;40.5;1680;12",
    "A3;A;1500;b;40;40,25;1680;12"
  ].join("\n");
  const book = bookOf({
    ...texts({lots}),
    "squares.csv": text,
    "workshop.json": JSON.stringify({
      reading: {squares: {headings: {square: "Nr", lot: "Los", length_mm: "Länge (mm)"}}}
    })
  });
  const [head, row, ...rest] = refused(book).text("refused-squares.csv").split("\r\n");
  expect(head).toBe("\ufeffNr;Los;Länge (mm);Breite;width_mm;thickness_mm;mass_g;mc_pct;_row;_mark;_problem");
  expect(row).toMatch(/^A2;A;1500;b;40;40\.5;1680;12;3;m[0-9a-f]{8};.*Write a decimal comma: 40,5\./);
  expect(rest).toEqual([""]);
});

test("writeRefused: the rows of a workbook's sheet are mended the same way", () => {
  const rows = faulty["squares.csv"]
    .trim()
    .split("\n")
    .map((line) => line.split(","));
  const {"squares.csv": _, ...others} = faulty;
  const book = bookOf({...others, "stock.xlsx": workbookBytes([{name: "Squares", rows}])});
  const {names, text} = refused(book);
  expect(names).toEqual(["refused-squares.csv"]);
  expect(text("refused-squares.csv")).toContain("stock.xlsx, sheet Squares row 3 (F3)");
  writeFileSync(join(book, "mended-squares.csv"), text("refused-squares.csv").replace("heavy", "1685"));
  expect(readBook(book).book?.squares.map(({massG}) => massG)).toEqual([1680, 1685, 1690]);
});

test("writeRefused: a row that fell with another is written too, so that nothing is lost", () => {
  const book = bookOf(
    texts({lots: ["A,2025-13-10,Quillmoor Sawpit,ash,3,10", "B,2025-01-10,Quillmoor Sawpit,ash,1,10"]})
  );
  const {names, text} = refused(book);
  expect(names).toEqual(["refused-lots.csv", "refused-squares.csv"]);
  expect(
    text("refused-squares.csv")
      .split("\r\n")
      .slice(1, -1)
      .map((line) => line.slice(0, 3))
  ).toEqual(["A1,", "A2,"]);
});

test("writeRefused: where a heading is missing no row was judged, so none is written", () => {
  const book = bookOf({...faulty, "squares.csv": faulty["squares.csv"].replace("mass_g", "mass of it")});
  expect(readBook(book).book).toBeUndefined();
  expect(refused(book).names).toEqual([]);
});

test("writeRefused says what is wrong with a folder that is a file", () => {
  const {problems, sources} = readBook(bookOf(faulty));
  const file = join(newFolder(), "reports");
  writeFileSync(file, "");
  expect(() => writeRefused(file, problems, sources)).toThrow(UserError);
  expect(readFileSync(file, "utf8")).toBe("");
});

test("writeRefused takes away what it wrote before once no row of that file is refused any more, and nothing else", () => {
  const {out} = refused(bookOf(faulty));
  writeFileSync(join(out, "mended-squares.csv"), "mine");
  const {problems, sources} = readBook(bookOf(texts()));
  expect(writeRefused(out, problems, sources)).toEqual([]);
  expect(readdirSync(out)).toEqual(["mended-squares.csv"]);
});
