import {type Html, html} from "../../lib/report/html.ts";

/** The words of the reports, in the order in which wood meets them. */
export const words: readonly {word: string; meaning: string}[] = [
  {word: "square", meaning: "one sawn stick as bought, and the piece it becomes, under one number for life"},
  {word: "lot", meaning: "the squares of one purchase: one supplier, one species, one day"},
  {word: "stage, rest", meaning: "how far a piece has been turned; the wait before the next pass"},
  {word: "discard, divert", meaning: "thrown out, with its defect; put to other use, neither finished nor discarded"},
  {word: "shaft", meaning: "a piece at the last stage"},
  {word: "yield", meaning: "share of squares that become shafts; those still on their way are not counted as lost"},
  {word: "still on its way", meaning: "a piece that has neither been finished nor thrown out nor put to other use"},
  {word: "moisture content", meaning: "mass of the water, % of the oven-dry mass of the wood"},
  {
    word: "density at 12 %",
    meaning: "mass over volume, kg/m³, reckoned for wood of 12 % moisture content, so that sticks compare"
  },
  {word: "window", meaning: "the range of density that orders accept"},
  {word: "95 % interval", meaning: "where the true figure lies in about 95 of 100 such cases, from how lots differ"},
  {word: "season", meaning: "the selling year that the next buying trip must cover"}
];

/** The words as a list for the end of a page. Returns Html. */
export function glossary(): Html {
  return html`<dl class="facts">\n${words.map(({word, meaning}) => html`<dt>${word}</dt><dd>${meaning}</dd>\n`)}</dl>\n`;
}
