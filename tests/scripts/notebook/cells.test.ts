import {expect, test} from "vitest";
import {cellOfLine, cells} from "../../../scripts/notebook/cells.ts";

const told = (text: string) =>
  cells(text).cells.map(({kind, number, heading, line, text}) => [kind, number, heading, line, text]);

test("cells(text) parts code and prose at the markers, each with its line in the file", () => {
  expect(told("// %% [markdown]\n// # Why\n//\n// Because.\n\n// %%\nlet a = 1;\n\n// %% Twice\n\na * 2;\n")).toEqual([
    ["prose", 0, "", 2, "# Why\n\nBecause."],
    ["code", 1, "", 7, "let a = 1;"],
    ["code", 2, "Twice", 11, "a * 2;"]
  ]);
});

test("cells(text) takes what stands before the first marker, or a text without one, for a code cell", () => {
  expect(told("let a = 1;\n// %%\na;")).toEqual([
    ["code", 1, "", 1, "let a = 1;"],
    ["code", 2, "", 3, "a;"]
  ]);
  expect(told("\n\na;\n")).toEqual([["code", 1, "", 3, "a;"]]);
  expect(told("")).toEqual([]);
});

test.each([
  ["a template", `const a = \`\n// %%\n\${\`\n// %% [markdown]\n\`}\n// %%\n\`;`],
  ["a block comment", "/*\n// %%\n*/\nlet a = 1;"],
  ["a doc comment", "/**\n// %%\n */\nlet a = 1;"],
  ["a text", "const a = '\\\n// %%\\\n';"],
  ["a comment behind code", "let a = 1; // %%\na = 2;"],
  ["a comment that only speaks of it", "// see // %%\n// %%x\nlet a = 1;"]
])("cells(text) finds no marker in %s", (_, text) => {
  const {cells: found, fault} = cells(text);
  expect([found.length, fault]).toEqual([1, undefined]);
});

test("cells(text) finds the marker behind a regular expression and a division that look like comments", () => {
  expect(told("const a = /[/*]`/;\nconst b = 4 / 2 /1;\n// %%\nb;").map(([, number]) => number)).toEqual([1, 2]);
});

test("cells(text) reads lines ended by CR LF and a byte order mark as if there were none", () => {
  const text = "// %% [markdown]\n// # Q\n// Text\n\n// %%\nlet a = 1;\n\n// %%\na;\n";
  expect(told(`\ufeff${text.replaceAll("\n", "\r\n")}`)).toEqual(told(text));
});

test("cells(text) leaves empty cells out, keeps one that has a heading or a comment, and counts those it keeps", () => {
  expect(told("// %%\n\n// %% [markdown]\n\n// %%\n// only a comment\n\n// %% Heading\n// %%\n1;")).toEqual([
    ["code", 1, "", 6, "// only a comment"],
    ["code", 2, "Heading", 9, ""],
    ["code", 3, "", 10, "1;"]
  ]);
});

test("cells(text) says where a marker stands within a statement, in a text or by itself", () => {
  const {fault} = cells("// %%\nif (true) {\n  // %%\n}\n");
  expect(fault).toEqual({
    message:
      "A marker // %% must stand between two statements; this one is inside the statement of line 2. Move it above or below.",
    lines: [3]
  });
});

test("cells(text) says what a marker may be and what a prose cell may hold", () => {
  expect(cells("// %% [html]\n// a\n").fault).toEqual({
    message: "A marker must be “// %%”, “// %% heading” or “// %% [markdown]”, got “// %% [html]”.",
    lines: [1]
  });
  expect(cells("// %% [markdown]\n// a\nlet b = 1;\n").fault?.lines).toEqual([3]);
});

test("cellOfLine(cells, line) is the code cell of the line, or the one before", () => {
  const {cells: found} = cells("let a = 1;\n// %% [markdown]\n// b\n\n// %%\na;\n");
  expect([1, 3, 6].map((line) => cellOfLine(found, line))).toEqual([1, 1, 2]);
});
