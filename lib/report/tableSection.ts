import {csvLink} from "./csvLink.ts";
import {type Html, html} from "./html.ts";
import type {Table} from "./table.ts";
import {tableHtml} from "./tableHtml.ts";

/** A table that stands in the text, with the link that saves it as CSV; `id` of the table is its anchor. Returns Html. */
export function tableSection(table: Table, {currency = "", period = ""} = {}): Html {
  return html`<div class="table-block" id="${table.id}">
${tableHtml(table, {currency})}<p class="csv">Save as CSV: ${csvLink(table, {currency, period})}</p>
</div>
`;
}
