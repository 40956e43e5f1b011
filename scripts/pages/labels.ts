import {capital} from "../../lib/figures/densityDots.ts";
import type {LabelRow} from "../../lib/rack/labelRows.ts";
import {type Html, html, htmlText, raw} from "../../lib/report/html.ts";
import {shown} from "../../lib/report/quantity.ts";
import {security} from "../../lib/report/security.ts";
import {style} from "../../lib/report/style.ts";
import {policyHash} from "../io/policyHash.ts";
import {version} from "../version.ts";
import {
  a4,
  armsLengthPt,
  type LabelFit,
  type LabelLayout,
  labelFit,
  leastDetailPt,
  leastModuleMm,
  numberParts
} from "./labelFit.ts";
import {labelsStyle} from "./labelsStyle.ts";
import {type QrCode, qrCode} from "./qrCode.ts";

const sheetStyle = style + labelsStyle;

/** A page of labels, and which of them are hard to read. */
export interface LabelsPage {
  html: string;
  sheets: number;
  /** Numbers in letters too small to be read at arm's length. */
  small: string[];
  /** Numbers broken within their letters. */
  broken: string[];
  /** Numbers whose other lines are too small to be read. */
  tiny: string[];
  /** Numbers whose code is too fine to be scanned, or that are too long for any. */
  fine: string[];
}

/**
 * A page of labels, printed on A4 sheets: each with its number in letters and as a QR code, species, stage, whether it may be turned or
 * when to look again, and density at 12 %. Letters shrink and wrap until everything lies within its label.
 *
 * Checked: tests/browser/labels.test.ts
 */
export function labelsPage(
  rows: readonly LabelRow[],
  layout: LabelLayout,
  {workshop, asOf}: {workshop: string; asOf: string}
): LabelsPage {
  const labels = rows.map((row) => {
    const details = detailsOf(row);
    const code = qrCode(row.square, `QR code of ${row.square}`);
    return {row, details, code, fit: labelFit(row.square, details, layout)};
  });
  const each = layout.columns * layout.rows;
  const places = [...Array.from({length: layout.skip}, () => undefined), ...labels];
  const sheets = Array.from({length: Math.ceil(places.length / each)}, (_, k) =>
    places.slice(k * each, (k + 1) * each)
  );
  const numbersOf = (is: (label: Label) => boolean) => labels.filter(is).map(({row}) => row.square);
  const isFine = ({code, fit}: Label) => !code || fit.codeMm / code.modules < leastModuleMm;
  const count = rows.length === 1 ? "1 label" : `${rows.length} labels`;
  const title = `Labels, ${asOf}`;
  const size = (mm: number) => `${Math.round(mm * 1e4) / 1e4}mm`;
  const vars = [
    `--columns: ${layout.columns}`,
    `--width: ${size(layout.widthMm)}`,
    `--height: ${size(layout.heightMm)}`,
    `--above: ${size((a4.heightMm - layout.rows * layout.heightMm - (layout.rows - 1) * layout.gapDownMm) / 2)}`,
    `--aside: ${size((a4.widthMm - layout.columns * layout.widthMm - (layout.columns - 1) * layout.gapAcrossMm) / 2)}`,
    `--gap-across: ${size(layout.gapAcrossMm)}`,
    `--gap-down: ${size(layout.gapDownMm)}`,
    ...(labels[0] ? [`--pad: ${size(labels[0].fit.padMm)}`, `--code: ${size(labels[0].fit.codeMm)}`] : [])
  ].join("; ");
  const page = html`<!doctype html>
<html lang="en-GB">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${security({styleHash: policyHash(sheetStyle)})}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<style>${raw(sheetStyle)}</style>
</head>
<body class="labels">
<header class="about">
<h1>${title}</h1>
<p>${workshop}: ${count} on ${sheets.length === 1 ? "one sheet" : `${sheets.length} sheets`} of A4, ${layout.columns} × ${layout.rows} of ${tenths(layout.widthMm)} × ${tenths(layout.heightMm)} mm. Print at actual size (100\u00a0%), without margins, headers and footers; try one sheet of plain paper first and hold it against the labels.</p>
<p>The code holds the number and nothing else. “Ready” with a day: on that day the book had it ready to be turned. “Weigh from”: it has rested, but a weighing must say that it is steady. “About”: when it should be ready, to be weighed then.</p>
</header>
<main style="${vars}">
${sheets.map(
  (places, k) => html`<ol class="sheet">
${places.map((place, i) => place && label(place, layout.skip > 0 && k === 0 ? [Math.floor(i / layout.columns) + 1, (i % layout.columns) + 1] : undefined))}</ol>
`
)}</main>
<footer class="about"><p class="note">Made by square-to-shaft ${version}.</p></footer>
</body>
</html>
`;
  return {
    html: htmlText(page),
    sheets: sheets.length,
    small: numbersOf(({fit}) => fit.numberPt < armsLengthPt),
    broken: numbersOf(({fit}) => fit.isBroken),
    tiny: numbersOf(({fit}) => fit.detailPt < leastDetailPt),
    fine: numbersOf(isFine)
  };
}

/** mm to the tenth, as sizes of labels are sold; no zero behind the point. */
function tenths(mm: number): string {
  return String(Math.round(mm * 10) / 10);
}

interface Label {
  row: LabelRow;
  details: string[];
  code: QrCode | undefined;
  fit: LabelFit;
}

function label({row, details, code, fit}: Label, area: [row: number, column: number] | undefined): Html {
  const place = area && html` style="grid-area: ${area[0]} / ${area[1]}"`;
  return html`<li class="label"${place}>${code?.svg}<p class="text"><b${fit.isBroken && html` class="letters"`} style="font-size: ${fit.numberPt}pt">${fit.isBroken ? row.square : numberParts(row.square).map((part, i) => html`${i > 0 && html`<wbr>`}${part}`)}</b>${details.map((line) => html`<span style="font-size: ${fit.detailPt}pt">${line}</span>`)}</p></li>
`;
}

const words = {ready: "ready", weigh: "weigh from", about: "about"} as const;

/** The lines below the number. */
function detailsOf({species, stage, state, day, finishedOn, densityAt12KgM3}: LabelRow): string[] {
  const stands = state === undefined ? "not ready, day not known" : `${words[state]} ${day}`;
  const line = finishedOn === undefined ? stands : `finished ${finishedOn}`;
  return [`${capital(species)}, ${stage}`, line, `${shown(densityAt12KgM3, "kg/m³")} at 12\u00a0%`];
}
