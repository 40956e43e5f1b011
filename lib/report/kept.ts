import {type Html, html} from "./html.ts";

/**
 * Text whose dates, written 2026-10-31, are not broken over lines; everything in it is escaped as anywhere. Returns Html.
 *
 * @example kept("Data to 2026-10-31") // Data to <span class="kept">2026-10-31</span>
 */
export function kept(text: string): Html {
  const parts = text.split(/(\d{4}-\d{2}-\d{2})/);
  return html`${parts.map((part, i) => (i % 2 === 1 ? html`<span class="kept">${part}</span>` : part))}`;
}
