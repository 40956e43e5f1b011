import ts from "typescript";
import {type Html, html} from "../../lib/report/html.ts";
import {tokens} from "./tokens.ts";

/**
 * Code in a page: each line a block with its number in the file, and keywords, texts, numbers and comments marked by their class.
 *
 * @param line number of its first line
 */
export function codeHtml(text: string, line: number): Html {
  const source = ts.createSourceFile("cell.ts", text, ts.ScriptTarget.Latest, true, ts.ScriptKind.TS);
  const pieces: {kind: string; text: string}[] = [];
  let reached = 0;
  for (const {kind, start, end} of tokens(source)) {
    pieces.push({kind: "other", text: text.slice(reached, start)}, {kind, text: text.slice(start, end)});
    reached = end;
  }
  pieces.push({kind: "other", text: text.slice(reached)});
  const lines: Html[][] = [[]];
  for (const piece of pieces)
    for (const [i, part] of piece.text.split("\n").entries()) {
      if (i > 0) lines.push([]);
      if (part !== "")
        lines.at(-1)!.push(piece.kind === "other" ? html`${part}` : html`<span class="${piece.kind}">${part}</span>`);
    }
  return html`<pre class="code"><code>${lines.map((parts, i) => html`<span class="line" data-line="${line + i}">${parts}\n</span>`)}</code></pre>\n`;
}
