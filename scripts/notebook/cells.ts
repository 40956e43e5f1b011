import ts from "typescript";
import {tokens} from "./tokens.ts";

/** A cell of a notebook. */
export interface Cell {
  kind: "code" | "prose";
  /** Code cells are counted from 1; the number of a prose cell is that of the code cell before it. */
  number: number;
  /** What is written behind the marker of a code cell. */
  heading: string;
  /** The line of the file on which the text begins, from 1. */
  line: number;
  /** Code as it stands, or Markdown without its comment signs; no blank lines around. */
  text: string;
  /** Where the cell ends in the file. */
  end: number;
}

/** What is wrong with a notebook, and where. */
export interface Fault {
  message: string;
  /** Lines of the file: the fault's own, then those it was called from. None where it is not known. */
  lines: readonly number[];
  /** The code cell that was running; absent while none was. */
  cell?: number;
}

export interface Notebook {
  cells: Cell[];
  source: ts.SourceFile;
  /** Why it cannot be run. */
  fault?: Fault;
}

const marker = /^\/\/ ?%%(?:\s+(.*?))?\s*$/;

/**
 * The cells of a notebook: a line comment `// %%` begins a code cell (a heading may follow), `// %% [markdown]` a prose cell, whose lines are
 * comments. Such a line within a text, a template or a block comment begins nothing. What stands before the first marker is a code cell;
 * an empty cell is left out. A marker inside a statement, an unknown kind and code in a prose cell are faults.
 *
 * @param text with lines ended in any way
 */
export function cells(text: string): Notebook {
  const source = ts.createSourceFile(
    "notebook.ts",
    text.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n"),
    ts.ScriptTarget.Latest,
    true,
    ts.ScriptKind.TS
  );
  const lineAt = (position: number) => source.getLineAndCharacterOfPosition(position).line + 1;
  const markers = tokens(source)
    .filter(({kind, start}) => kind === "comment" && /^[ \t]*$/.test(lineBefore(source.text, start)))
    .flatMap(({start, end}) => {
      const match = marker.exec(source.text.slice(start, end));
      return match ? [{start, bodyStart: Math.min(end + 1, source.text.length), label: match[1] ?? ""}] : [];
    });
  const faults: Fault[] = [];
  for (const {start, label} of markers) {
    const around = source.statements.find((statement) => statement.getStart() < start && start < statement.end);
    if (around)
      faults.push({
        message: `A marker // %% must stand between two statements; this one is inside the statement of line ${lineAt(around.getStart())}. Move it above or below.`,
        lines: [lineAt(start)]
      });
    if (/^\[.*\]$/.test(label) && label !== "[markdown]")
      faults.push({
        message: `A marker must be “// %%”, “// %% heading” or “// %% [markdown]”, got “// %% ${label}”.`,
        lines: [lineAt(start)]
      });
  }
  const found: Cell[] = [];
  let number = 0;
  for (const [i, {bodyStart, label}] of [{start: 0, bodyStart: 0, label: ""}, ...markers].entries()) {
    const end = markers[i]?.start ?? source.text.length;
    const body = source.text.slice(bodyStart, Math.max(bodyStart, end));
    const blank = /^(?:[ \t]*\n)*/.exec(body)![0].length;
    const line = lineAt(bodyStart + blank);
    const prose = label === "[markdown]";
    const trimmed = body.slice(blank).trimEnd();
    if (trimmed === "" && (prose || label === "")) continue;
    if (!prose) number++;
    const stray = prose ? trimmed.split("\n").findIndex((one) => !/^(\/\/|\s*$)/.test(one)) : -1;
    if (stray >= 0)
      faults.push({
        message:
          "A prose cell must hold only lines that begin with //. Put // %% above this line to begin a code cell.",
        lines: [line + stray]
      });
    const shown = prose ? trimmed.replace(/^\/\/ ?/gm, "") : trimmed;
    found.push({kind: prose ? "prose" : "code", number, heading: prose ? "" : label, line, text: shown, end});
  }
  const first = faults.sort((a, b) => a.lines[0]! - b.lines[0]!)[0];
  return {cells: found, source, ...(first && {fault: first})};
}

function lineBefore(text: string, position: number): string {
  return text.slice(text.lastIndexOf("\n", position - 1) + 1, position);
}

/** The code cell in which a position of the file lies. */
export function cellAt({cells: all}: Notebook, position: number): Cell | undefined {
  return all.find(({kind, end}) => kind === "code" && position < end);
}

/** The number of the code cell in which a line lies, or that comes last before it. */
export function cellOfLine(all: readonly Cell[], line: number): number | undefined {
  return all.findLast((cell) => cell.kind === "code" && cell.line <= line)?.number;
}
