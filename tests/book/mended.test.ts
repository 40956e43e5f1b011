import fc from "fast-check";
import {expect, test} from "vitest";
import {isEdited, refusedText, rowMark, withMended} from "../../lib/book/mended.ts";
import {gridOf, parseBook} from "../../lib/book/parseBook.ts";
import {brief, settingsOf, smallest, texts} from "./smallBook.ts";

const [a1, a2] = smallest.squares;
const settings = settingsOf();
const bad = "A2,A,1500,40,40,168o,12";
const gridOfSquares = (text: string, label = "squares.csv") => gridOf(text, "squares.csv", settings, label);

/** Rows without the mark by which a mended one is known. */
const bare = (rows: readonly {row: number; cells: string[]}[]) => rows.map(({row, cells}) => ({row, cells}));

/** The refused squares of a book of these rows. */
function refusedOf(squares: readonly string[]): string {
  const {sources, problems} = parseBook(texts({squares}), settings);
  return refusedText(sources["squares.csv"]!, problems)!;
}

// FNV-1a, 32 bits: the values of "", "a" and "foobar" are those of its authors' list (Fowler, Noll, Vo; from memory).
test.each([
  [[""], "m811c9dc5"],
  [["a"], "me40c292c"],
  [["foobar"], "mbf9cf968"],
  [["foobar", "", " "], "mbf9cf968"]
])("rowMark(%j) is %s", (cells, mark) => expect(rowMark(cells)).toBe(mark));

test("rowMark tells apart cells that only join to the same text", () => {
  expect(rowMark(["a", "bc"])).not.toBe(rowMark(["ab", "c"]));
});

test("refusedText gives the refused rows whole, each with its row, its mark and what was wrong", () => {
  const [head, row, ...rest] = refusedOf([a1, bad]).replace("\ufeff", "").trimEnd().split("\r\n");
  expect(rest).toEqual([]);
  expect(head).toBe("square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct,_row,_mark,_problem");
  expect(row).toMatch(
    /^A2,A,1500,40,40,168o,12,3,m[0-9a-f]{8},"squares\.csv row 3 \(F3\): mass_g must be a number .*Type 1680\."$/
  );
});

test("refusedText keeps what stood between the cells", () => {
  const semicolons = texts({squares: [a1, bad]})["squares.csv"].replaceAll(",", ";");
  const {sources, problems} = parseBook({...texts(), "squares.csv": semicolons}, settings);
  expect(refusedText(sources["squares.csv"]!, problems)).toMatch(/\r\nA2;A;1500;40;40;168o;12;3;/);
});

test("refusedText of a file without a refused row is nothing", () => {
  const {sources, problems} = parseBook(texts(), settings);
  expect(refusedText(sources["squares.csv"]!, problems)).toBeUndefined();
});

// OWASP, CSV Injection: cells that begin with = + - @, tab or carriage return (from memory).
test.each(['=HYPERLINK("http://x")', "+cmd", "-cmd", "@sum", "'=1", "''-x"])(
  "refusedText puts an apostrophe before %j, and reading back takes it away",
  (cell) => {
    const quoted = `"${cell.replaceAll('"', '""')}"`;
    const text = refusedOf([a1, `${quoted},A,1500,40,40,168o,12`]);
    const [, row] = gridOfSquares(text).rows;
    expect(row?.cells[0]).toBe(`'${cell}`);
    const base = gridOfSquares(texts({squares: [a1, `${quoted},A,1500,40,40,168o,12`]})["squares.csv"]);
    expect(bare(withMended(base, gridOfSquares(text)).rows)).toEqual(base.rows);
  }
);

test.each(["-5", "+4.5", "-0,5", "-1.234,5"])("refusedText leaves the number %s a number", (cell) => {
  const text = refusedOf([a1, `A2,A,1500,40,40,"${cell}",12x`]);
  expect(gridOfSquares(text).rows[1]?.cells[5]).toBe(cell);
});

test("withMended reads a mended row in the place of the one it came from", () => {
  const book = texts({squares: [a1, bad]});
  const mended = refusedOf([a1, bad]).replace("168o", "1680");
  const grid = withMended(gridOfSquares(book["squares.csv"]), gridOfSquares(mended, "mended-squares.csv"));
  const {book: sound, problems} = parseBook({...book, "squares.csv": grid}, settings);
  expect(problems.map(brief)).toEqual(["rows-mended squares.csv"]);
  expect(sound?.squares.map(({square, massG, row}) => [square, massG, row])).toEqual([
    ["A1", 1680, 2],
    ["A2", 1680, 3]
  ]);
});

test("withMended knows a row again after rows above it came or went, and after a spreadsheet saved it its own way", () => {
  const mended = refusedOf([a1, bad]).replace("168o", "1680").replaceAll(",", ";").replaceAll("\r\n", "\n");
  const moved = texts({squares: ["A9,A,1500,40,40,1700,12", a1, "", bad]})["squares.csv"];
  const grid = withMended(gridOfSquares(moved), gridOfSquares(mended, "mended-squares.csv"));
  expect(bare(grid.rows)[4]).toEqual({row: 5, cells: "A2,A,1500,40,40,1680,12".split(",")});
});

test("withMended tells two rows that are alike apart by their numbers", () => {
  const rows = ["A3,A,1500,40,40,168o,12", "A3,A,1500,40,40,168o,12"];
  const lines = refusedOf([a1, ...rows]).split("\r\n");
  const onlySecond = [lines[0], lines[2]!.replace("A3", "A4").replace("168o", "1680")].join("\n");
  const grid = withMended(gridOfSquares(texts({squares: [a1, ...rows]})["squares.csv"]), gridOfSquares(onlySecond));
  expect(grid.rows.map(({cells}) => cells[0])).toEqual(["square", "A1", "A3", "A4"]);
});

test("withMended says of a mended row whose original was changed that it is not used", () => {
  const mended = refusedOf([a1, bad]).replace("168o", "1680");
  const changed = texts({squares: [a1, a2]})["squares.csv"];
  const {rows, problems} = withMended(gridOfSquares(changed), gridOfSquares(mended, "mended-squares.csv"));
  expect(rows.map(({cells}) => cells[5])).toEqual(["mass_g", "1680", "1680"]);
  expect(problems).toMatchObject([{code: "mended-lost", severity: "refused", file: "mended-squares.csv", row: 2}]);
});

test("withMended wants the columns by which rows are known", () => {
  const {problems} = withMended(
    gridOfSquares(texts()["squares.csv"]),
    gridOfSquares(texts()["squares.csv"], "mended-squares.csv")
  );
  expect(problems).toMatchObject([{code: "heading-missing", severity: "blocking", file: "mended-squares.csv"}]);
});

test("a ragged row is given back whole and can be mended", () => {
  const ragged = "A2,A,1500,40,40,1680,12,knot, small";
  const text = refusedOf([a1, ragged]);
  const base = gridOfSquares(texts({squares: [a1, ragged]})["squares.csv"]);
  expect(bare(withMended(base, gridOfSquares(text)).rows)).toEqual(base.rows);
  const cut = text.replace(/,knot," small"\r\n$/, "\r\n");
  expect(withMended(base, gridOfSquares(cut)).rows[2]?.cells).toEqual(a2.split(","));
});

test("refused rows read back unmended are the rows they were, whatever is in them", () => {
  const cell = fc.string({unit: fc.constantFrom("=", "+", "-", "@", "'", '"', ",", ";", "\t", "\n", "a", "1", " ")});
  fc.assert(
    fc.property(fc.array(cell, {minLength: 6, maxLength: 6}), (cells) => {
      const row = ["x", ...cells].map((one) => `"${one.replaceAll('"', '""')}"`).join(",");
      const base = gridOfSquares(texts({squares: [a1, row]})["squares.csv"]);
      const text = refusedOf([a1, row]);
      expect(bare(withMended(base, gridOfSquares(text)).rows)).toEqual(base.rows);
    })
  );
});

test.each(["=1+1", "@12", "-", "+1+2"])(
  "refusedText puts an apostrophe before the heading or cell %j, and it is read back",
  (text) => {
    const [head, ...rows] = texts({squares: [a1, bad]})
      ["squares.csv"].trimEnd()
      .split("\n");
    const squares = [`${head},${text}`, ...rows.map((row) => `${row},${text}`)].join("\n");
    const {sources, problems} = parseBook({...texts(), "squares.csv": squares}, settings);
    const mended = gridOfSquares(refusedText(sources["squares.csv"]!, problems)!);
    expect(mended.rows.map(({cells}) => cells[7])).toEqual([`'${text}`, `'${text}`]);
    expect(bare(withMended(gridOfSquares(squares), mended).rows)).toEqual(gridOfSquares(squares).rows);
  }
);

test.each(["rack,rack", "Rack,rack", ",", "_mark,_row"])(
  "refused rows with the headings %j are read back into their own columns",
  (headings) => {
    const [head, ...rows] = texts({squares: [a1, bad]})
      ["squares.csv"].trimEnd()
      .split("\n");
    const squares = [`${head},${headings}`, ...rows.map((row) => `${row},left,right`)].join("\n");
    const {sources, problems} = parseBook({...texts(), "squares.csv": squares}, settings);
    const mended = gridOfSquares(refusedText(sources["squares.csv"]!, problems)!);
    const {rows: back, problems: after} = withMended(gridOfSquares(squares), mended);
    expect(bare(back)).toEqual(gridOfSquares(squares).rows);
    expect(after.map(brief)).toEqual(["rows-mended squares.csv"]);
  }
);

test("a ragged row below headings that end in blanks is read back as it was", () => {
  const [head, ...rows] = texts({squares: [a1, a2]})
    ["squares.csv"].trimEnd()
    .split("\n");
  const squares = [`${head},,`, `${rows[0]},,`, `${rows[1]},,,stray`].join("\n");
  const {sources, problems} = parseBook({...texts(), "squares.csv": squares}, settings);
  const mended = gridOfSquares(refusedText(sources["squares.csv"]!, problems)!);
  expect(bare(withMended(gridOfSquares(squares), mended).rows)[2]).toEqual(gridOfSquares(squares).rows[2]);
});

test("a mended file whose columns were put in another order is read by its headings", () => {
  const lines = refusedOf([a1, bad]).replace("\ufeff", "").replace("168o", "1680").trimEnd().split("\r\n");
  const turned = lines.map((line) => line.replace(/^([^,]*),([^,]*),/, "$2,$1,")).join("\n");
  const {rows} = withMended(gridOfSquares(texts({squares: [a1, bad]})["squares.csv"]), gridOfSquares(turned));
  expect(rows[2]?.cells).toEqual(["A2", "A", "1500", "40", "40", "1680", "12"]);
});

test("a row mended once and refused again keeps its first mark, and is found by it in a second round", () => {
  const worst = "A2,A,1500,40,40,168o,l2";
  const base = gridOfSquares(texts({squares: [a1, worst]})["squares.csv"]);
  const first = refusedOf([a1, worst]).replace("168o", "1680");
  const once = withMended(base, gridOfSquares(first, "mended-squares.csv"));
  const {sources, problems} = parseBook({...texts(), "squares.csv": once}, settings);
  const again = refusedText(sources["squares.csv"]!, problems)!;
  const [mark, now] = /,3,(\w+)\.(\w+),/.exec(again)!.slice(1);
  expect(mark).toBe(rowMark(worst.split(",")));
  expect(now).toBe(rowMark("A2,A,1500,40,40,1680,l2".split(",")));
  const second = gridOfSquares(again.replace(",l2,", ",12,"), "mended-squares-2.csv");
  const twice = withMended(once, second);
  expect(twice.problems.map(({code}) => code)).toEqual(["rows-mended", "rows-mended"]);
  expect(bare(twice.rows)[2]?.cells).toEqual(a2.split(","));
});

test("isEdited tells a text as it was written from one in which a cell was changed", () => {
  const text = refusedOf([a1, bad, "=A3,A,1500,40,40,1680,x"]);
  expect(isEdited(text)).toBe(false);
  expect(isEdited(text.replaceAll(",", ";"))).toBe(false);
  expect(isEdited(text.replace("168o", "1680"))).toBe(true);
  expect(isEdited(text.replace("_mark", "mark"))).toBe(true);
});

test("withMended takes a hundred thousand blank rows in its stride", () => {
  const rows = [...gridOfSquares(texts({squares: [bad]})["squares.csv"]).rows];
  for (let row = 3; row < 100_000; row++) rows.push({row, cells: ["", ""]});
  const grid = {...gridOfSquares(""), rows};
  const mended = gridOfSquares(refusedOf([bad]).replace("168o", "1680"));
  expect(withMended(grid, mended).rows[1]?.cells).toEqual(a2.split(","));
});
