import {expect, test} from "vitest";
import {adviceTable, coverageTable} from "../../../scripts/calibrate/tables.ts";

test("coverageTable: of 100 intervals, how many held the truth; too few are not judged", () => {
  const coverage = new Map([
    [
      "calm",
      new Map([
        ["yield", {intervals: 200, held: 190}],
        ["cost", {intervals: 29, held: 29}]
      ])
    ],
    ["wild", new Map([["yield", {intervals: 30, held: 27}]])]
  ]);
  expect(coverageTable(coverage)).toBe(
    "| 95 % interval of | calm | wild |\n| --- | --: | --: |\n| cost | – | – |\n| yield | 95.0 | 90.0 |\n"
  );
});

// Missed 100 and 300 of 2000 each year: mean 200 of 2000 is 10 %, its standard error √(100²/(2 − 1)) = 100 of 2000, 5 %.
test("adviceTable: profit missed in % of the best, with its standard error", () => {
  const lost = new Map([
    ["calm", new Map([["advice", {years: 2, lost: 400, squares: 100 ** 2 + 300 ** 2, best: 4000}]])]
  ]);
  expect(adviceTable(lost)).toBe("| profit missed, %, by | calm |\n| --- | --: |\n| advice | 10.0 ± 5.0 |\n");
});
