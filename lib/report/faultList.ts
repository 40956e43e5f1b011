import {type Html, html} from "./html.ts";
import {shown} from "./quantity.ts";

/** A fault of the book as a page shows it: where it is, what was found, what was wanted, how to mend it. */
export interface Fault {
  /** Faults of one code in one column are one entry; without a code those of one wording are. */
  code?: string;
  severity: "blocking" | "refused" | "doubt" | "note";
  file: string;
  row?: number;
  /** Column and row together, "D14". */
  cell?: string;
  heading?: string;
  value?: string;
  /** Finishes the sentence "… must be", of a note "… is". */
  wanted: string;
  mend: string;
}

const consequences = {
  blocking: "no report until it is mended",
  refused: "row set aside, counted nowhere",
  doubt: "row used; worth a look",
  note: "read so"
} as const;

/** How many places of one fault are named before the rest are only counted. */
const placesNamed = 6;

/**
 * The faults of a book, in the order given. The same fault in many rows of one column is one entry that says the first,
 * names the first rows and counts the rest. Returns Html: a list, or a sentence where there is nothing to list.
 */
export function faultList(faults: readonly Fault[]): Html {
  if (faults.length === 0) return html`<p>Nothing to mend: every row was read and used.</p>\n`;
  return html`<ul class="faults">\n${alike(faults).map(entry)}</ul>\n`;
}

/** The same fault in many rows of one column put together, in the order given. Returns the groups. */
export function alike<F extends Fault>(faults: readonly F[]): F[][] {
  const groups = new Map<string, F[]>();
  for (const fault of faults) {
    const {severity, code, file, heading, wanted, mend} = fault;
    const kind = JSON.stringify([
      severity,
      file,
      heading,
      ...(code === undefined ? [wanted, mend] : code === "cell-unreadable" ? [code, wanted] : [code])
    ]);
    const group = groups.get(kind);
    if (group) group.push(fault);
    else groups.set(kind, [fault]);
  }
  return [...groups.values()];
}

function entry(group: readonly Fault[]): Html {
  const {file, row, heading, wanted, mend, severity} = group[0]!;
  const subject = heading ?? (row === undefined ? file : "The row");
  return html`<li>
<p><b>${subject}</b> ${severity === "note" ? "is" : "must be"} ${wanted}. ${mend}</p>
<p class="muted"><code>${file}</code>${places(group)} · ${consequences[severity]}</p>
</li>
`;
}

function places(group: readonly Fault[]): Html {
  const named = group.slice(0, placesNamed).flatMap(place);
  if (named.length === 0) return html``;
  const more =
    group.length > placesNamed &&
    html` and ${shown(group.length - placesNamed, "count")} more like ${group.length === placesNamed + 1 ? "it" : "them"}`;
  return html`: ${named.map((text, i) => html`${i > 0 && ", "}${text}`)}${more}`;
}

function place({row, cell, value}: Fault): Html[] {
  const where = cell ?? (row === undefined ? undefined : `row ${row}`);
  const found = value !== undefined && html`found “${value}”`;
  if (where === undefined) return found === false ? [] : [found];
  return [html`${where}${found !== false && html` (${found})`}`];
}
