import {SourceMap} from "node:module";
import {expect, test} from "vitest";
import {cells} from "../../../scripts/notebook/cells.ts";
import {earlyErrorLines} from "../../../scripts/notebook/earlyErrorLines.ts";
import {instrument} from "../../../scripts/notebook/instrument.ts";

function made(text: string): string[] {
  const {code} = instrument(cells(text), "01-x.ts") as {code: string};
  return code.split("\n");
}

const text = `// %% [markdown]
// # Question

// %%
interface Row {
  value: number;
}

const double = ({value}: Row): number => {
  return 2 * value;
};

// %%
import {type Stats, statSync} from "node:fs";
let stats: Stats | undefined;
double({value: 1});
double({value: 2});

// %%
const last = 3;
`;

test("instrument(notebook) enters each cell and shows only an expression that ends one", () => {
  const code = made(text).join("\n");
  expect(code.match(/await enterCell_1\(\d\)/g)).toEqual([1, 2, 3].map((number) => `await enterCell_1(${number})`));
  expect(code.match(/showValue_1\(.*\);/g)).toEqual(["showValue_1(double({ value: 2 }));"]);
  expect(code).not.toContain("interface");
  expect(code).not.toContain("Stats");
});

test("instrument(notebook) leads each line of code back to its line of the notebook", () => {
  const code = made(text);
  const encoded = code.find((line) => line.startsWith("//# sourceMappingURL="))!.split("base64,")[1]!;
  const map = new SourceMap(JSON.parse(Buffer.from(encoded, "base64").toString("utf8")));
  const lineOf = (words: string) => {
    const line = code.findIndex((one) => one.includes(words));
    const entry = map.findEntry(line, code[line]!.indexOf(words));
    return "originalLine" in entry && entry.originalLine + 1;
  };
  const lines = text.split("\n");
  for (const words of ["return 2 * value", "statSync", "double({ value: 1 })", "double({ value: 2 })", "const last"]) {
    const source = words.replace("{ ", "{").replace(" }", "}");
    expect([words, lineOf(words)]).toEqual([words, lines.findIndex((one) => one.includes(source)) + 1]);
  }
});

test("instrument(notebook) takes no name that the notebook uses", () => {
  const code = made("const enterCell_1 = 1;\nenterCell_1;\n").join("\n");
  expect(code).toContain("enterCell_2(1)");
});

test("instrument(notebook) says where the grammar is broken, and what is wrong with its cells", () => {
  expect(instrument(cells("// %%\nlet a = 1;\nlet b = ;\n"), "x.ts")).toEqual({
    fault: {message: "Syntax error: Expression expected.", lines: [3]}
  });
  expect(instrument(cells("// %% [html]\n"), "x.ts").fault?.lines).toEqual([1]);
});

test("earlyErrorLines(text) is the line of a name declared twice, whatever else it does not know", () => {
  expect(earlyErrorLines("import {a} from './unknown.ts';\nconst b: Unknown = a;\n\nconst b = 2;\n")).toEqual([4]);
  expect(earlyErrorLines("let a = nowhere(await b);\nfor (;;) {\n  function f() {\n    break;\n  }\n}\n")).toEqual([4]);
  expect(earlyErrorLines("let a = nowhere(await b);\nexport {};\n")).toEqual([]);
});
