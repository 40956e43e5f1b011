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

/** How many places of one fault are named before the rest are only counted, and how many mends of one kind of fault. */
const placesNamed = 6;

/**
 * The faults of a book, in the order given. Faults of one kind in one column are one entry that names the first places and counts the rest;
 * where each is to be mended in its own way, each of the first is told with its own mend. Returns Html: a list, or a sentence where there
 * is nothing to list.
 */
export function faultList(faults: readonly Fault[]): Html {
  if (faults.length === 0) return html`<p>Nothing to mend: every row was read and used.</p>\n`;
  return html`<ul class="faults">\n${ofOneKind(faults).map(entry)}</ul>\n`;
}

/** Faults of one kind in one column put together, in the order given: of each kind, those that are told and mended in the same words. */
export function ofOneKind<F extends Fault>(faults: readonly F[]): F[][][] {
  const kinds = grouped(faults, ({severity, code, file, row, heading, wanted, mend}) => [
    severity,
    file,
    heading,
    code,
    ...(code === "cell-unreadable" ? [wanted] : []),
    // What stands in no row is told whole: it has no place to be told by.
    ...(code === undefined || row === undefined ? [wanted, mend] : [])
  ]);
  return kinds.map((kind) => grouped(kind, ({wanted, mend}) => [wanted, mend]));
}

function grouped<F>(faults: readonly F[], by: (fault: F) => readonly unknown[]): F[][] {
  const groups = new Map<string, F[]>();
  for (const fault of faults) {
    const key = JSON.stringify(by(fault));
    const group = groups.get(key);
    if (group) group.push(fault);
    else groups.set(key, [fault]);
  }
  return [...groups.values()];
}

function entry(mends: readonly (readonly Fault[])[]): Html {
  const {file, severity} = mends[0]![0]!;
  const [only, ...others] = mends;
  if (others.length === 0)
    return html`<li>
<p>${sentence(only![0]!)}</p>
<p class="muted"><code>${file}</code>${places(only!, ": ")} · ${consequences[severity]}</p>
</li>
`;
  const count = mends.flat().length;
  const rest = mends.slice(placesNamed).flat().length;
  return html`<li>
<p><b>${subject(only![0]!)}</b> in ${shown(count, "count")} rows, each to be mended in its own way:</p>
<ul>
${mends.slice(0, placesNamed).map((alike) => html`<li>${places(alike, "", ": ")}${sentence(alike[0]!)}</li>\n`)}</ul>
<p class="muted"><code>${file}</code>${rest > 0 && html`: ${shown(rest, "count")} more of this kind`} · ${consequences[severity]}</p>
</li>
`;
}

const subject = ({file, row, heading}: Fault) => heading ?? (row === undefined ? file : "The row");

function sentence(fault: Fault): Html {
  return html`<b>${subject(fault)}</b> ${fault.severity === "note" ? "is" : "must be"} ${fault.wanted}. ${fault.mend}`;
}

/** The places of faults told alike, between two texts; nothing where none has a place. */
function places(group: readonly Fault[], before: string, after = ""): Html {
  const named = group.slice(0, placesNamed).flatMap(place);
  if (named.length === 0) return html``;
  const more =
    group.length > placesNamed &&
    html` and ${shown(group.length - placesNamed, "count")} more like ${group.length === placesNamed + 1 ? "it" : "them"}`;
  return html`${before}${named.map((text, i) => html`${i > 0 && ", "}${text}`)}${more}${after}`;
}

function place({row, cell, value}: Fault): Html[] {
  const where = cell ?? (row === undefined ? undefined : `row ${row}`);
  const found = value !== undefined && html`found “${value}”`;
  if (where === undefined) return found === false ? [] : [found];
  return [html`${where}${found !== false && html` (${found})`}`];
}
