import {isDeepStrictEqual} from "node:util";
import {parse} from "csv-parse/sync";
import type {Grid} from "../../lib/book/grid.ts";
import type {Problem} from "../../lib/book/problem.ts";
import {type FileName, fileNames} from "../../lib/book/records.ts";
import type {Intake} from "./intake.ts";

/** What may begin a cell of a file for a spreadsheet though it begins like a formula. */
const number = /^[+-][.,]*\d[\d.,]*$/;

/** The markup of the list of faults; everything else in it is text. */
const markup = /<\/?(?:ul|li|p|b|code)(?: class="(?:faults|muted)")?>/g;

/**
 * The promises of intake that a reading of a book breaks, each in one line; none where all is well.
 *
 * - every row read is used, refused or recognised as no data; csv-parse, another reader, counts as many rows
 * - a refused row is written out with every cell as it was, and read back it is the same row and the book the same book
 * - nothing written is a formula in a spreadsheet, but a number is as it was; nothing is markup in a page
 * - a fault says where, what was wanted and how to mend it, in one plain line
 * - without a blocking fault there is a book, with one there is none, and a book's balance closes
 */
export function brokenPromises(intake: Intake): string[] {
  return [
    ...ofBook(intake),
    ...ofProblems(intake),
    ...ofPage(intake.faultHtml),
    ...fileNames.flatMap((name) => ofFile(name, intake))
  ];
}

function ofBook({parsed, closes, accounts, again, problems}: Intake): string[] {
  const blocked = parsed.problems.some(({severity}) => severity === "blocking");
  return lines([
    [parsed.book === undefined && !blocked, "no book though nothing is blocking"],
    [parsed.book !== undefined && blocked, "a book though something is blocking"],
    [closes === false, "the balance does not close"],
    [
      again !== undefined && !isDeepStrictEqual(again.accounts, accounts),
      "refused rows read back change what became of the rows"
    ],
    [
      again !== undefined && !isDeepStrictEqual(refusals(again.problems), refusals(problems)),
      "refused rows read back have other faults"
    ],
    [Object.keys(Object.prototype).length > 0 || "polluted" in {}, "every object was changed"]
  ]);
}

function isRefusal({severity}: Problem): boolean {
  return severity === "refused";
}

/** The refusals, without the remark that a cell stands in a mended file. */
function refusals(problems: readonly Problem[]): Problem[] {
  return problems
    .filter(isRefusal)
    .map((problem) => ({...problem, mend: problem.mend.replace(/ It stands so in the mended file\.$/, "")}));
}

function ofProblems({problems, sentences}: Intake): string[] {
  return problems.flatMap(({code, severity, file, wanted, mend}, index) => {
    const sentence = sentences[index]!;
    const found = /, got “(.*?)”\. /.exec(sentence)?.[1] ?? "";
    return lines([
      [file === "" || wanted === "" || (mend === "" && severity !== "note"), `${code} lacks file, wanted or mend`],
      [found.length > 81, `${code} repeats ${found.length} characters of a cell`],
      [sentence.length > 3000, `${code} takes ${sentence.length} characters to say`],
      [/[\p{Cc}\p{Cs}\u2028-\u202e\u2066-\u2069]/u.test(sentence), `${code} is not one plain line`]
    ]);
  });
}

function ofPage(html: string): string[] {
  const text = html.replaceAll(markup, "");
  return lines([
    [/[<>]/.test(text), "markup from a file in the list of faults"],
    [/&(?!amp;|lt;|gt;|quot;|#39;)/.test(text), "a half-written character in the list of faults"],
    [html.includes("\0"), "NUL in the list of faults"],
    [html.length > 3_000_000, `a list of faults of ${html.length} characters`]
  ]);
}

function ofFile(
  name: FileName,
  {texts, grids, parsed, problems, accounts, refused, readBack, exported}: Intake
): string[] {
  const grid = grids[name];
  if (!grid) return [];
  const account = accounts.find((one) => one.name === name)!;
  const rows = rowsCounted(texts[name]!, grid);
  const fallen = new Set(problems.filter((one) => one.file === grid.file && isRefusal(one)).map(({row}) => row));
  const source = parsed.sources[name]!;
  const refusedRows = source.rows.filter(({row}) => fallen.has(row));
  const mended = readBack[name]!;
  const isNoted = refusedRows.length === 0 || mended.problems.some(({code}) => code === "rows-mended");
  return lines([
    [
      account.read !== account.used + account.refused + account.notData,
      `rows do not add up: ${JSON.stringify(account)}`
    ],
    [account.read !== rows, `${account.read} rows read, csv-parse counts ${rows}`],
    [
      parsed.book !== undefined && refusedRows.length !== account.refused,
      `${refusedRows.length} rows have a fault, ${account.refused} are refused`
    ],
    [!isNoted || mended.problems.some(({code}) => code === "mended-lost"), "a refused row is not known again"],
    [!isDeepStrictEqual(trimmedRows(mended), trimmedRows(grid)), "a refused row reads back otherwise"],
    ...refusedFaults(refused[name], source, refusedRows),
    ...exportFaults(exported[name]!, grid)
  ]).map((line) => `${name}: ${line}`);
}

type Claim = [isBroken: boolean, line: string];

function lines(promises: readonly Claim[]): string[] {
  return promises.filter(([isBroken]) => isBroken).map(([, line]) => line);
}

/** The rows of a grid without blank cells at their ends. */
function trimmedRows({rows}: Grid) {
  return rows.map(({row, cells}) => ({
    row,
    cells: cells.slice(0, cells.findLastIndex((cell) => cell.trim() !== "") + 1)
  }));
}

/** The rows below and above the headings as another reader counts them; those of the grid where it found a quote left open. */
function rowsCounted(text: string, grid: Grid): number {
  if (grid.rows.length === 0) return 0;
  const body = text.replace(/^\ufeff/, "").replace(/^"?sep=."?[;,\t ]*(\r\n|\n|\r)/i, "");
  const rows: string[][] = parse(body, {
    delimiter: grid.delimiter!,
    record_delimiter: ["\r\n", "\n", "\r"],
    relax_column_count: true,
    relax_quotes: true
  });
  // Two readers differ in one thing: an empty cell in quotes after the last line end is a row to one and none to the other.
  if (!/[\r\n]$/.test(body) && rows.at(-1)?.join("|") === "") rows.pop();
  return rows.length - (rows.some((cells) => cells.some((cell) => cell.trim() !== "")) ? 1 : 0);
}

function refusedFaults(
  text: string | undefined,
  {headings, delimiter}: {headings: string[]; delimiter?: string},
  rows: Grid["rows"]
): Claim[] {
  if (text === undefined) return [[rows.length > 0, "refused rows are not written out"]];
  const [first, ...lines]: string[][] = parse(text, {bom: true, delimiter: delimiter!, relax_column_count: true});
  const untouched = rows.every(({row, cells}, index) => {
    const line = lines[index] ?? [];
    const own = [...line.slice(0, headings.length), ...line.slice(headings.length + 3)].map(withoutGuard);
    return (
      line[headings.length] === String(row) &&
      own.every((cell, at) => cell === (cells[at] ?? "")) &&
      own.length >= cells.length
    );
  });
  return [
    [lines.length !== rows.length, `${rows.length} rows refused, ${lines.length} written out`],
    [!untouched, "a refused row is not written out as it was"],
    [lines.some(hasFormula) || hasFormula(first ?? []), "a formula among the refused rows"]
  ];
}

/** A cell without the apostrophe put before what looks like a formula, or like a guarded one. */
function withoutGuard(cell: string): string {
  return /^'+[=+\-@\t\r]/.test(cell) ? cell.slice(1) : cell;
}

function exportFaults(text: string, {rows}: Grid): Claim[] {
  const cells: string[][] = parse(text, {bom: true, relax_column_count: true});
  const isAsItWas = rows.every(({cells: own}, row) =>
    own.every((cell, index) => !/^[+-]?\d+([.,]\d+)?$/.test(cell) || cells[row]?.[index] === cell)
  );
  return [
    [cells.some(hasFormula), "a formula in what is exported"],
    [!isAsItWas, "a number is exported otherwise"]
  ];
}

function hasFormula(cells: readonly string[]): boolean {
  return cells.some((cell) => /^[=+\-@\t\r]/.test(cell) && !number.test(cell));
}
