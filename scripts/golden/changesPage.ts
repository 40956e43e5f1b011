import {type Html, html, htmlText, raw} from "../../lib/report/html.ts";
import {style} from "../../lib/report/style.ts";
import type {Change} from "./store.ts";

/** A page that shows each changed drawing before, after, and where the two differ. Returns its text. */
export function changesPage(changed: readonly Change[]): string {
  return htmlText(html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<title>Drawings that changed</title>
<style>${raw(style)}
body { display: block; max-width: none; }
.change { display: grid; grid-template-columns: repeat(3, minmax(0, 1fr)); gap: 1rem; padding: 1rem; background: var(--ground); }
.change h2 { grid-column: 1 / -1; }
.difference { position: relative; background: #000; isolation: isolate; }
.difference .drawing { background: var(--ground); }
.difference .drawing + .drawing { position: absolute; inset: 0 0 auto; mix-blend-mode: difference; }
</style>
</head>
<body>
<h1>Drawings that changed</h1>
${changed.map(
  ({name, before, after}) => html`<section class="change" id="${name.replace(/\W/g, "-")}">
<h2>${name}</h2>
<div><p>before${before === undefined && ": none, it is new"}</p>${drawn(before)}</div>
<div><p>after${after === undefined && ": none, it is gone"}</p>${drawn(after)}</div>
<div><p>difference</p><div class="difference">${drawn(before)}${drawn(after)}</div></div>
</section>
`
)}</body>
</html>
`);
}

function drawn(svg: string | undefined): Html | false {
  return svg !== undefined && html`<div class="drawing">${raw(svg)}</div>`;
}
