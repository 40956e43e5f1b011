import {type Html, html} from "./html.ts";
import type {Table} from "./table.ts";
import {tableCsv} from "./tableCsv.ts";

/**
 * A link that saves a table as CSV straight out of the page, which needs neither script nor server: the file is in the
 * address. `period` ends the file's name, as "discards-2026-10.csv". Returns Html.
 */
export function csvLink(table: Table, {currency = "", period = ""} = {}): Html {
  const name = period === "" ? `${table.id}.csv` : `${table.id}-${period}.csv`;
  const address = `data:text/csv;charset=utf-8,${addressText(tableCsv(table, {currency}))}`;
  return html`<a class="csv" download="${name}" href="${address}">${name}</a>`;
}

/** Half a character, which no address can hold, becomes U+FFFD. */
function addressText(text: string): string {
  return encodeURI(text.replace(/\p{Surrogate}/gu, "\ufffd")).replaceAll("#", "%23");
}
