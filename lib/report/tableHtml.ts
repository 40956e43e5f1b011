import {cellInterval, cellText} from "./cell.ts";
import {type Html, html} from "./html.ts";
import {unitSymbol} from "./quantity.ts";
import type {Column, Row, Table} from "./table.ts";

/** A column of texts no longer than this, such as dates and lot numbers, is never broken over lines. */
const shortText = 20;

/**
 * A table as it stands in a page: caption, units in the headings, numbers right-aligned, an interval beside its value as
 * "12.3 (10.1 to 15.0)". A first column of names or dates heads its rows. It scrolls by itself where the page is too
 * narrow. Returns Html.
 */
export function tableHtml(table: Table, {currency = ""} = {}): Html {
  const captionId = `${table.id}-caption`;
  const short = table.columns.map(({key}) => table.rows.every((row) => String(row[key] ?? "").length <= shortText));
  return html`<div class="table" role="group" aria-labelledby="${captionId}" tabindex="0">
<table>
<caption id="${captionId}">${table.caption}</caption>
<thead><tr>${table.columns.map((column) => heading(column, currency))}</tr></thead>
<tbody>
${table.rows.map((row) => html`<tr>${table.columns.map((column, i) => cell(row, column, i === 0, short[i]))}</tr>\n`)}</tbody>
</table>
</div>
${table.note !== undefined && html`<p class="note">${table.note}</p>\n`}`;
}

function heading(column: Column, currency: string): Html {
  const symbol = unitSymbol(column.unit, currency);
  const unit = symbol !== "" && html` <span class="unit">(${symbol})</span>`;
  return isText(column)
    ? html`<th scope="col">${column.heading}${unit}</th>`
    : html`<th scope="col" class="num">${column.heading}${unit}</th>`;
}

function cell(row: Row, column: Column, first: boolean, short = false): Html {
  const text = cellText(row[column.key], column.unit);
  if (isText(column)) {
    if (first) return html`<th scope="row"${short && html` class="short"`}>${text}</th>`;
    return html`<td class="${short ? "short" : "text"}">${text}</td>`;
  }
  const interval = cellInterval(row, column);
  return html`<td>${text}${interval !== undefined && html` <small>(${interval})</small>`}</td>`;
}

function isText(column: Column): boolean {
  return column.unit === "text" || column.unit === "date";
}
