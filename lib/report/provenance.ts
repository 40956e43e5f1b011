import {check} from "../check.ts";
import {type Html, html} from "./html.ts";
import {tableHtml} from "./tableHtml.ts";

/** One file that a page was made from. */
export interface SourceFile {
  name: string;
  /** Absent for a sheet of a workbook, which is named before its sheets. */
  bytes?: number | undefined;
  /** In hexadecimal. */
  sha256?: string | undefined;
  rowsRead?: number | undefined;
  rowsUsed?: number | undefined;
  rowsRefused?: number | undefined;
  firstDate?: string | undefined;
  lastDate?: string | undefined;
}

/** Where a page comes from, so that anyone can make it again. */
export interface Provenance {
  files: readonly SourceFile[];
  /** The date the page speaks for. */
  asOf: string;
  version: string;
  /** What was typed. */
  command: string;
  /** Settings that differ from their defaults, or that the page depends on. */
  settings?: readonly {name: string; value: string}[];
}

/**
 * The block at the end of a page that says what it was made from and how: files with their size, fingerprint and rows, the
 * date, the version, the command, the settings. The clock is not in it: same book, same date, same page. Returns Html.
 *
 * @throws RangeError unless each fingerprint is 64 hexadecimal digits
 */
export function provenance({files, asOf, version, command, settings = []}: Provenance): Html {
  for (const {sha256} of files) {
    if (sha256 !== undefined)
      check(/^[0-9a-f]{64}$/.test(sha256), "provenance: sha256", "64 hexadecimal digits", sha256);
  }
  return html`<section class="provenance" aria-labelledby="provenance">
<h2 id="provenance">Where this comes from</h2>
<dl class="facts">
<dt>Speaks for</dt><dd>${asOf}</dd>
<dt>Made by</dt><dd>${version}</dd>
<dt>Command</dt><dd><code>${command}</code></dd>
${settings.map(({name, value}) => html`<dt>${name}</dt><dd>${value}</dd>\n`)}</dl>
${tableHtml(fileTable(files))}<h3 class="hashes">Fingerprints (SHA-256)</h3>
<dl class="facts">
${files.map(({name, sha256}) => sha256 !== undefined && html`<dt>${name}</dt><dd class="hash">${sha256}</dd>\n`)}</dl>
</section>
`;
}

function fileTable(files: readonly SourceFile[]) {
  return {
    id: "files-read",
    caption: "Files read",
    columns: [
      {key: "name", heading: "File", unit: "text"},
      {key: "bytes", heading: "Bytes", unit: "count"},
      {key: "rowsRead", heading: "Rows read", unit: "count"},
      {key: "rowsUsed", heading: "Rows used", unit: "count"},
      {key: "rowsRefused", heading: "Rows refused", unit: "count"},
      {key: "firstDate", heading: "First date", unit: "date"},
      {key: "lastDate", heading: "Last date", unit: "date"}
    ],
    rows: files.map(({sha256: _, ...row}) => row)
  } as const;
}
