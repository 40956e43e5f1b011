/**
 * Text of a page, escaped by construction: whatever is put into an `html` template is shown as it stands, never obeyed.
 * Only what was itself made by `html` or `raw` passes unchanged.
 */

const trusted = Symbol("html");

/** A piece of page that is safe to insert. Made by `html` and `raw` only, as no record read from a file can carry the symbol. */
export interface Html {
  readonly [trusted]: string;
}

/** What a template takes: undefined and false are nothing, lists are joined without a separator. */
export type HtmlValue = Html | string | number | undefined | false | readonly HtmlValue[];

/** Text we wrote ourselves, such as a drawing by Plot, passed on unescaped as Html. Never give it a value from a file. */
export function raw(trustedText: string): Html {
  return {[trusted]: trustedText};
}

/** The markup of a piece of page, as a string to be written. */
export function htmlText(piece: Html): string {
  return piece[trusted];
}

/**
 * Text for a place inside an element or a quoted attribute: the five characters with a meaning there are replaced, and
 * the null character, which no page may hold, becomes U+FFFD. Returns the escaped text.
 *
 * @example escaped("<b>") // "&lt;b&gt;"
 */
export function escaped(text: string): string {
  return text.replace(/[&<>"'\0]/g, (character) => entities[character]!);
}

const entities: Record<string, string> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
  "\0": "\ufffd"
};

/**
 * A tagged template whose interpolated values are escaped unless they are Html. Attributes must be quoted. Returns Html.
 *
 * @example html`<td>${"Ash & sons"}</td>` // <td>Ash &amp; sons</td>
 */
export function html(strings: TemplateStringsArray, ...values: readonly HtmlValue[]): Html {
  return raw(strings.reduce((text, string, i) => text + markup(values[i - 1]) + string));
}

function markup(value: HtmlValue): string {
  if (value === undefined || value === false) return "";
  if (typeof value === "string") return escaped(value);
  if (typeof value === "number") return String(value);
  return isList(value) ? value.map(markup).join("") : value[trusted];
}

function isList(value: Html | readonly HtmlValue[]): value is readonly HtmlValue[] {
  return Array.isArray(value);
}
