import {mkdirSync, mkdtempSync, readdirSync, readFileSync, writeFileSync} from "node:fs";
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

/** Writes what is refused of a book into a folder; gives the paths written and the lines said. */
function write(out: string, book: string) {
  const {problems, sources} = readBook(book);
  const said: string[] = [];
  const paths = writeRefused(out, problems, sources, (line) => said.push(line));
  return {paths, said};
}

/** What is refused of a book, written into a new folder. */
function refused(book: string) {
  const out = newFolder();
  const {paths, said} = write(out, book);
  expect(said).toEqual([]);
  expect(paths).toEqual(readdirSync(out).map((name) => join(out, name)));
  return {out, names: readdirSync(out), text: (name: string) => readFileSync(join(out, name), "utf8")};
}

const squares = ["A1,A,1500,40,40,1680,12", "A2,A,1500,40,40,heavy,12", "A3,A,1500,40,40,1690,12"];
const lots = ["A,2025-01-10,Quillmoor Sawpit,ash,3,10"];
const faulty = texts({lots, squares});

test("writeRefused writes nothing, and no folder, where no row is refused", () => {
  const out = join(newFolder(), "reports");
  expect(write(out, bookOf(texts()))).toEqual({paths: [], said: []});
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
  const [head, row, ...rest] = refused(book).text("refused-squares.csv").split("\r\n");
  const [firstHead, firstRow = "", ...none] = first.split("\r\n");
  expect([head, rest]).toEqual([firstHead, none]);
  // The same cells, row and mark; behind them the mark as it is now and what is wrong.
  const upToMark = /^A2,A,1500,40,40,heavy,12,3,m[0-9a-f]{8}/.exec(firstRow)![0];
  expect(row!.slice(0, upToMark.length)).toBe(upToMark);
  expect(row).toContain("squares.csv row 3 (F3): mass_g must be a number");
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
  const file = join(newFolder(), "reports");
  writeFileSync(file, "");
  expect(() => write(file, bookOf(faulty))).toThrow(UserError);
  expect(readFileSync(file, "utf8")).toBe("");
});

test("writeRefused takes away what it wrote before once no row of that file is refused any more, and nothing else", () => {
  const {out} = refused(bookOf(faulty));
  writeFileSync(join(out, "mended-squares.csv"), "mine");
  expect(write(out, bookOf(texts()))).toEqual({paths: [], said: []});
  expect(readdirSync(out)).toEqual(["mended-squares.csv"]);
});

const kept = (path: string) =>
  `Rows set aside before had been edited and are kept in ${path}. To have them read, save that file as mended-squares.csv (mended-squares-2.csv if there is one) in the book's folder.`;

test("writeRefused keeps what an owner mended where it lay, whether rows are refused again or not, and says so", () => {
  const {out, text} = refused(bookOf(faulty));
  const path = join(out, "refused-squares.csv");
  const first = text("refused-squares.csv");
  const mended = first.replace("heavy", "1685");
  writeFileSync(path, mended);
  expect(write(out, bookOf(faulty))).toEqual({paths: [path], said: [kept(join(out, "refused-squares-edited.csv"))]});
  expect(text("refused-squares.csv")).toBe(first);
  expect(text("refused-squares-edited.csv")).toBe(mended);

  const again = first.replace("heavy", "1686");
  writeFileSync(path, again);
  expect(write(out, bookOf(texts()))).toEqual({paths: [], said: [kept(join(out, "refused-squares-edited-2.csv"))]});
  expect(readdirSync(out)).toEqual(["refused-squares-edited-2.csv", "refused-squares-edited.csv"]);
  expect([text("refused-squares-edited.csv"), text("refused-squares-edited-2.csv")]).toEqual([mended, again]);
});

test("writeRefused: what it kept does what it says: saved in the book's folder the rows are read", () => {
  const book = bookOf(faulty);
  const {out, text} = refused(book);
  writeFileSync(join(out, "refused-squares.csv"), text("refused-squares.csv").replace("heavy", "1685"));
  write(out, book);
  writeFileSync(join(book, "mended-squares.csv"), text("refused-squares-edited.csv"));
  expect(readBook(book).book?.squares.map(({massG}) => massG)).toEqual([1680, 1685, 1690]);
});

test("writeRefused writes over rows that nobody edited, opened and saved by a spreadsheet or not, and over none that lost its marks", () => {
  const {out, text} = refused(bookOf(faulty));
  const path = join(out, "refused-squares.csv");
  // As a continental spreadsheet saves it: semicolons, no byte order mark, bare line feeds.
  const bare = text("refused-squares.csv").replace("\ufeff", "").replaceAll("\r\n", "\n");
  const saved = bare.replaceAll(/("[^"]*")|,/g, (_, quoted) => quoted ?? ";");
  expect(saved).toMatch(/\nA2;A;1500;40;40;heavy;12;3;m[0-9a-f]{8};"squares\.csv row 3/);
  for (const before of [text("refused-squares.csv"), bare, saved]) {
    writeFileSync(path, before);
    expect(write(out, bookOf(faulty)), before).toEqual({paths: [path], said: []});
  }
  writeFileSync(path, "my own notes");
  expect(write(out, bookOf(faulty)).said).toEqual([kept(join(out, "refused-squares-edited.csv"))]);
  expect(text("refused-squares-edited.csv")).toBe("my own notes");
});

test("writeRefused: a folder in the place of a file is said, whether there is anything to write or not", () => {
  for (const files of [faulty, texts()]) {
    const out = newFolder();
    mkdirSync(join(out, "refused-squares.csv", "inner"), {recursive: true});
    expect(() => write(out, bookOf(files))).toThrow(UserError);
    expect(() => write(out, bookOf(files))).toThrow(/refused-squares\.csv could not be read \(E[A-Z]+\): /);
    expect(readdirSync(join(out, "refused-squares.csv"))).toEqual(["inner"]);
  }
});

test("writeRefused: a row mended twice over, each round in a file of its own, is read at last", () => {
  // 168 g for 1680 g is a number, but one that no timber weighs: the first round mends the cell, the second the sense.
  const book = bookOf(faulty);
  const first = refused(book).text("refused-squares.csv");
  writeFileSync(join(book, "mended-squares.csv"), first.replace("heavy", "168"));
  const {names, text} = refused(book);
  expect(names).toEqual(["refused-squares.csv"]);
  const second = text("refused-squares.csv");
  expect(second).toContain("the density at 12 % is 250 to 1250");
  expect(second).toContain("A2,A,1500,40,40,168,12,3,");
  writeFileSync(join(book, "Mended-squares-2.csv"), second.replace(",168,", ",1685,"));
  const read = readBook(book);
  expect(read.problems.map(brief)).toEqual(["rows-mended squares.csv", "rows-mended squares.csv"]);
  expect(read.book?.squares.map(({square, massG}) => [square, massG])).toEqual([
    ["A1", 1680],
    ["A2", 1685],
    ["A3", 1690]
  ]);
  expect(refused(book).names).toEqual([]);
});
