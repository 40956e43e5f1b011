import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {columnLetter, type Problem, problemCodes, problemSentence} from "../../lib/book/problem.ts";

const problem: Problem = {
  code: "cell-unreadable",
  severity: "refused",
  file: "lots.csv",
  row: 14,
  column: "D",
  cell: "D14",
  heading: "price_each",
  value: "12,50",
  wanted: "a number with a decimal point, like 12.5",
  mend: "Write a decimal point: 12.50."
};

test("problemSentence(problem) says where, what, what was wanted and how to mend it", () => {
  expect(problemSentence(problem)).toBe(
    "lots.csv row 14 (D14): price_each must be a number with a decimal point, like 12.5, got “12,50”. Write a decimal point: 12.50."
  );
});

test("problemSentence(problem) leaves out what is not known, yet shows an empty cell", () => {
  expect(
    problemSentence({code: "file-missing", severity: "blocking", file: "a.csv", wanted: "there", mend: "Add it."})
  ).toBe("a.csv: must be there. Add it.");
  expect(problemSentence({...problem, value: ""})).toContain("got “”");
});

test.each([
  [0, "A"],
  [25, "Z"],
  [26, "AA"],
  [51, "AZ"],
  [52, "BA"],
  [701, "ZZ"],
  [702, "AAA"]
])("columnLetter(%i) is %s, as spreadsheets count", (index, letter) => expect(columnLetter(index)).toBe(letter));

test("every code of problemCodes is looked for in the tests of the book", () => {
  const tests = ["cells", "readRecords", "settings", "parseBook", "histories"]
    .map((name) => readFileSync(new URL(`./${name}.test.ts`, import.meta.url), "utf8"))
    .join("\n");
  expect(Object.keys(problemCodes).filter((code) => !new RegExp(`["\`]${code}[ "\`]`).test(tests))).toEqual([]);
});
