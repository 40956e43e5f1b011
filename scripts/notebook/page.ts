import {type Html, html, htmlText, raw} from "../../lib/report/html.ts";
import {kept} from "../../lib/report/kept.ts";
import {provenance} from "../../lib/report/provenance.ts";
import {security} from "../../lib/report/security.ts";
import {style} from "../../lib/report/style.ts";
import {policyHash} from "../io/policyHash.ts";
import {version} from "../version.ts";
import {cellOfLine} from "./cells.ts";
import {codeHtml} from "./codeHtml.ts";
import {faultText} from "./faultText.ts";
import {prose} from "./prose.ts";
import type {NotebookRun} from "./runNotebook.ts";
import {notebookStyle} from "./style.ts";

const sheet = style + notebookStyle;

/**
 * The page of a notebook that was run, in the reports' look: prose, code, and what each cell showed, up to the fault if there was one. One
 * file that needs nothing else; the same run gives the same bytes.
 */
export function notebookPage(run: NotebookRun): string {
  const {name, cells, opened, fault} = run;
  const faultCell = fault && (fault.cell ?? cellOfLine(cells, fault.lines[0] ?? Number.POSITIVE_INFINITY));
  const last =
    faultCell === undefined ? -1 : cells.findIndex(({kind, number}) => kind === "code" && number === faultCell);
  const seen = fault && last >= 0 ? cells.slice(0, last + 1) : cells;
  const {title, bodies, parts} = prose(seen.filter(({kind}) => kind === "prose").map(({text}) => text));
  const heading = title === "" ? name : title;
  const texts = bodies.values();
  const policy = security({styleHash: policyHash(sheet)});
  const left = cells.slice(seen.length).filter(({kind}) => kind === "code").length;
  return htmlText(html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${heading}</title>
<style>${raw(sheet)}</style>
</head>
<body>
<a class="skip" href="#main">Skip to the text</a>
<header>
<h1>${heading}</h1>
<p>${opened ? kept(`${opened.workshop} · data to ${opened.asOf}`) : "A notebook without a book"}</p>
</header>
${parts.length > 0 && contents(parts)}<main id="main" tabindex="-1">
${seen.map((cell) =>
  cell.kind === "prose"
    ? html`<div class="prose">\n${texts.next().value}</div>\n`
    : html`<div class="cell" id="cell-${cell.number}">
${cell.heading !== "" && html`<h3>${cell.heading}</h3>\n`}<p class="label">Cell ${cell.number}</p>
${codeHtml(cell.text, cell.line)}${(run.shown.get(cell.number) ?? []).map(raw)}</div>
`
)}${fault && faultBox(run, left)}</main>
<footer>
${footer(run)}</footer>
</body>
</html>
`);
}

function contents(parts: readonly {id: string; heading: string}[]): Html {
  return html`<nav class="contents" aria-label="Contents">
<div>
<ol>
${parts.map(({id, heading}) => html`<li><a href="#${id}">${heading}</a></li>\n`)}</ol>
</div>
</nav>
`;
}

function faultBox({fault, cells, lines}: NotebookRun, left: number): Html {
  const [line] = fault!.lines;
  const source = line === undefined ? undefined : lines[line - 1];
  return html`<section class="fault" aria-labelledby="fault">
<h2 id="fault">The notebook stopped here</h2>
<p>${faultText(fault!, cells)}</p>
${source !== undefined && codeHtml(source, line!)}${left > 0 && html`<p class="muted">${left} ${left === 1 ? "cell" : "cells"} below ${left === 1 ? "was" : "were"} not run.</p>\n`}</section>
`;
}

function footer({name, opened}: NotebookRun): Html {
  const made = `square-to-shaft ${version}`;
  const command = `npx tsx scripts/notebook.ts ${name}`;
  if (!opened) return html`<p>Made by ${made} with <code>${command}</code>; it opened no book.</p>\n`;
  const {asOf, files, settings} = opened;
  return provenance({files, asOf, version: made, command: `${command} --as-of ${asOf}`, settings});
}
