import {capital} from "../../lib/figures/densityDots.ts";
import type {LabelRow} from "../../lib/rack/labelRows.ts";
import {type Html, html, htmlText, raw} from "../../lib/report/html.ts";
import {shown} from "../../lib/report/quantity.ts";
import {security} from "../../lib/report/security.ts";
import {style} from "../../lib/report/style.ts";
import {policyHash} from "../io/policyHash.ts";
import {version} from "../version.ts";
import {a4, armsLengthPt, type LabelFit, type LabelLayout, labelFit, leastModuleMm} from "./labelFit.ts";
import {labelsStyle} from "./labelsStyle.ts";
import {type QrCode, qrCode} from "./qrCode.ts";

const sheetStyle = style + labelsStyle;

/** A page of labels, and which of them are hard to read. */
export interface LabelsPage {
  html: string;
  sheets: number;
  /** Numbers in letters too small to be read at arm's length. */
  small: string[];
  /** Numbers whose code is too fine to be scanned, or that are too long for any. */
  fine: string[];
}

/**
 * A page of labels, printed on A4 sheets: each with its number in letters and as a QR code, species, stage, the day from which it may be
 * turned, and density at 12 %. Letters shrink and wrap until everything lies within its label.
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
  const isFine = ({code, fit}: (typeof labels)[number]) => !code || fit.codeMm / code.modules < leastModuleMm;
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
<p>${workshop}: ${count} on ${sheets.length === 1 ? "one sheet" : `${sheets.length} sheets`} of A4, ${layout.columns} × ${layout.rows} of ${shown(layout.widthMm, "count")} × ${shown(layout.heightMm, "count")} mm. Print at actual size (100\u00a0%), without margins, headers and footers; try one sheet of plain paper first and hold it against the labels.</p>
<p>The code holds the number and nothing else. “Ready” is the day from which a piece may be turned.</p>
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
    small: labels.filter(({fit}) => fit.numberPt < armsLengthPt).map(({row}) => row.square),
    fine: labels.filter(isFine).map(({row}) => row.square)
  };
}

interface Label {
  row: LabelRow;
  details: string[];
  code: QrCode | undefined;
  fit: LabelFit;
}

function label({row, details, code, fit}: Label, area: [row: number, column: number] | undefined): Html {
  const place = area && html` style="grid-area: ${area[0]} / ${area[1]}"`;
  return html`<li class="label"${place}>${code?.svg}<p class="text"><b style="font-size: ${fit.numberPt}pt">${row.square}</b>${details.map((line) => html`<span style="font-size: ${fit.detailPt}pt">${line}</span>`)}</p></li>
`;
}

/** The lines below the number. */
function detailsOf({species, stage, readyOn, finishedOn, densityAt12KgM3}: LabelRow): string[] {
  const day = finishedOn === undefined ? `ready ${readyOn ?? "not known"}` : `since ${finishedOn}`;
  return [`${capital(species)}, ${stage}`, day, `${shown(densityAt12KgM3, "kg/m³")} at 12\u00a0%`];
}
