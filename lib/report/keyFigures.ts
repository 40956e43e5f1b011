import {type Html, html} from "./html.ts";
import {kept} from "./kept.ts";
import {rounded, shown, shownInterval, type Unit, unitSymbol} from "./quantity.ts";
import type {Cell} from "./table.ts";

/** One key figure: a number in its unit, or a text such as a date; everything else about it is small print below. */
export interface KeyFigure {
  label: string;
  value: Cell;
  unit: Unit;
  interval?: {low: number; high: number} | undefined;
  /** What the interval is. */
  level?: string;
  /** Against the period before, in words: "up 2.1 points on September". */
  change?: string | undefined;
  /** How many the number rests on, with what they are: "214 squares". */
  n?: string | undefined;
  note?: string | undefined;
}

/** The key figures of a page as one ruled row of numerals, each with its interval, change and n below. Returns Html. */
export function keyFigures(figures: readonly KeyFigure[], {currency = ""} = {}): Html {
  return html`<dl class="key-figures">
${figures.map(
  (figure) =>
    html`<div><dt>${figure.label}</dt><dd class="value">${numeral(figure, currency)}</dd>${smallPrint(
      figure,
      currency
    ).map((line) => html`<dd>${kept(line)}</dd>`)}</div>\n`
)}</dl>\n`;
}

function numeral({value, unit}: KeyFigure, currency: string): Html {
  if (typeof value === "string") return html`${value}`;
  const symbol = unitSymbol(unit);
  if (symbol === "" || rounded(value, unit) === undefined) return html`${shown(value, unit, {currency})}`;
  return html`${shown(value, unit, {bare: true})}<span class="unit">\u00a0${symbol}</span>`;
}

function smallPrint({unit, interval, level = "95\u00a0% interval", change, n, note}: KeyFigure, currency: string) {
  const spread = interval && `${shownInterval(interval, unit, {currency})}, ${level}`;
  return [spread, change, n, note].filter((line) => line !== undefined);
}
