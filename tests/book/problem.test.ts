import {expect, test} from "vitest";
import {at, byImportance, columnLetter, excerpt, type Problem, problemSentence} from "../../lib/book/problem.ts";

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

test('at("lots.csv", 14, 3, "species") is cell D14', () => {
  expect(at("lots.csv", 14, 3, "species")).toEqual({
    file: "lots.csv",
    row: 14,
    column: "D",
    cell: "D14",
    heading: "species"
  });
});

test("problemSentence(note) says how something is read, not how it must be", () => {
  const note: Problem = {
    code: "read-as",
    severity: "note",
    file: "lots.csv",
    wanted: "read with decimal commas",
    mend: ""
  };
  expect(problemSentence(note)).toBe("lots.csv: is read with decimal commas.");
});

test("excerpt(text) is one line of at most 80 characters and a mark that there was more", () => {
  expect(excerpt("a\n b")).toBe("a b");
  expect(excerpt("x".repeat(80))).toBe("x".repeat(80));
  expect(excerpt("x".repeat(10_000_000))).toBe(`${"x".repeat(80)}…`);
});

test("byImportance(problems) puts what stops everything first, what follows from others after what does not, notes last", () => {
  const of = (code: Problem["code"], severity: Problem["severity"], row: number): Problem => ({
    ...problem,
    code,
    severity,
    row
  });
  const given = [
    of("read-as", "note", 1),
    of("heading-unknown", "doubt", 1),
    of("lot-refused", "refused", 2),
    of("cell-unreadable", "refused", 9),
    of("number-twice", "refused", 3),
    of("heading-missing", "blocking", 1)
  ];
  expect(byImportance(given).map(({code}) => code)).toEqual([
    "heading-missing",
    "number-twice",
    "cell-unreadable",
    "lot-refused",
    "heading-unknown",
    "read-as"
  ]);
});

test("problemSentence(problem) is one line that a terminal only shows, and short, whatever heading and file are", () => {
  const odd = {...problem, file: "a\nb.csv", heading: `mass\u001b[31m${"x".repeat(1e5)}`, value: "1\u0000\u202e\ud83c"};
  const sentence = problemSentence(odd);
  // Unicode: categories Cc and Cs, and the controls of writing direction of UAX 9.
  expect(sentence).not.toMatch(/[\p{Cc}\p{Cs}\u202a-\u202e\u2066-\u2069]/u);
  expect(sentence).toContain("a b.csv row 14");
  expect(sentence).toContain("got “1\ufffd\ufffd\ufffd”");
  expect(sentence.length).toBeLessThan(300);
});

test("at(…) keeps of a long heading what a sentence holds", () => {
  expect(at("lots.csv", 1, 0, "x".repeat(1e6)).heading).toHaveLength(81);
});

test("excerpt(text) cuts no character in half that takes two places", () => {
  expect(excerpt("x".repeat(79) + "\u{1f333}".repeat(9))).toBe(`${"x".repeat(79)}…`);
  expect(excerpt("x".repeat(78) + "\u{1f333}".repeat(9))).toBe(`${"x".repeat(78)}\u{1f333}…`);
});
