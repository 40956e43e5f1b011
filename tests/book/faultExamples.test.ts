import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {type ProblemCode, problemCodes, problemSentence, severities} from "../../lib/book/problem.ts";
import {faultExamples} from "./faultExamples.ts";

const codes = Object.keys(problemCodes) as ProblemCode[];

/** The example of a code: the first problem of it. */
const example = (code: ProblemCode) => faultExamples[code]().find((problem) => problem.code === code);

test.each(codes)("%s is found, with what was wanted and how to mend it", (code) => {
  const problem = example(code);
  expect(problem).toBeDefined();
  const {severity, wanted, mend, row, value} = problem!;
  expect(severities).toContain(severity);
  expect(wanted).not.toMatch(/^\s|[.]$|^$/);
  if (severity !== "note") expect(mend).toMatch(/[.?]$/);
  if (severity === "refused") expect(row).toBeGreaterThan(0);
  expect(value ?? "").not.toContain("undefined");
});

test("the guide's table of faults is made of the examples", () => {
  const row = (code: ProblemCode) => {
    const problem = example(code)!;
    const cells = [`\`${code}\``, problem.severity, problemCodes[code], problemSentence(problem)];
    return `| ${cells.map((cell) => cell.replaceAll("|", "\\|")).join(" | ")} |`;
  };
  const table = ["| code | severity | what | example |", "|---|---|---|---|", ...codes.map(row)].join("\n");
  const guide = readFileSync("DEVELOPERS.md", "utf8").replaceAll("\r\n", "\n");
  expect(guide).toContain(table);
});
