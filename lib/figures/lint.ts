import * as Plot from "@observablehq/plot";
import type {Column, Table} from "../report/table.ts";
import type {Figure} from "./figure.ts";

/** Most words in the title of a figure. */
const titleWords = 10;
/** Words that name an extreme, or that there is none. */
const extremes =
  /\b(highest|lowest|most|least|fewest|largest|smallest|longest|shortest|tightest|widest|best|worst|heaviest|lightest|first|last|between|from|after|no|none|nothing)\b/i;
/** What an axis of numbers counts or measures in. */
const axisUnit =
  /%|per 100|kg\/m³|\b(g|mm|kg|days|weeks|months|pieces|squares|shafts|orders|lots|times|money|profit|density|ratio)\b|[£$€]/i;
/** Fewest characters in the words for those who cannot see it. */
const altLength = 40;
/** Most classes that can be told apart by colour, the neutral one not counted. */
const keyClasses = 5;

/**
 * What is wrong with a figure, as far as a machine can tell: one sentence a fault, none when it is sound. Every figure of
 * every page is held to it by a test. Returns the sentences.
 */
export function figureFaults(figure: Figure): string[] {
  const {id, table} = figure;
  return [
    ...wordFaults(figure),
    ...keyFaults(figure),
    ...intervalFaults(figure),
    ...tableFaults(table),
    ...plotFaults(figure)
  ].map((fault) => `${id}: ${fault}`);
}

function wordFaults({id, title, subtitle, alt, note = ""}: Figure): string[] {
  const words = title.split(/\s+/u).filter((word) => word !== "").length;
  return found([
    [!/^[a-z][a-z0-9-]*$/.test(id), "id must be small letters, digits and hyphens"],
    [words < 2 || words > titleWords, `title must be 2 to ${titleWords} words, got ${words}`],
    [/\.$/.test(title), "title must end without a full stop"],
    [subtitle.length < 20, "subtitle must name measure, unit, population and period"],
    [subtitle === title, "subtitle must say more than the title"],
    [alt.length < altLength, `alt must be at least ${altLength} characters, got ${alt.length}`],
    [!/\d|\bno\b/i.test(alt), "alt must name numbers, or say that there are none"],
    [!extremes.test(alt), "alt must name the extremes, or say that there is nothing to see"],
    [
      /\b(undefined|NaN|null|Infinity)\b|\[object/.test([title, subtitle, alt, note].join(" ")),
      "words must be free of undefined, NaN and the like"
    ]
  ]);
}

function keyFaults({key = []}: Figure): string[] {
  const classes = key.filter(({color}) => color !== "var(--c0)");
  return found([
    [new Set(key.map(({label}) => label)).size < key.length, "key labels must differ"],
    [new Set(key.map(({color}) => color)).size < key.length, "key colours must differ"],
    [classes.length > keyClasses, `key must have at most ${keyClasses} classes and a neutral one`],
    [key.some(({color}) => !/^(var\(--[a-z0-9]+\)|currentColor)$/.test(color)), "key colours must be those of the page"]
  ]);
}

/** An interval that is drawn is named in words. */
function intervalFaults({subtitle, note = "", table}: Figure): string[] {
  const drawn = table.columns.some(({low}) => low !== undefined);
  return found([
    [
      drawn && !/95\s%|interval|limits/.test(`${subtitle} ${note} ${table.caption} ${table.note ?? ""}`),
      "subtitle, note or caption must say what the intervals are"
    ]
  ]);
}

function tableFaults({id, caption, columns, rows}: Table): string[] {
  const keys = columns.flatMap(({key, low, high}) => [key, low, high]).filter((key) => key !== undefined);
  const intervals = columns.filter(({low, high}) => low !== undefined || high !== undefined);
  return found([
    [!/^[a-z][a-z0-9-]*$/.test(id), "table id must be small letters, digits and hyphens"],
    [caption.length < 10, "table caption must say what the rows are"],
    [new Set(keys).size < keys.length, "table columns must have keys of their own"],
    [intervals.some(({low, high}) => low === undefined || high === undefined), "an interval must have low and high"],
    [intervals.length > 0 && !columns.some(isCount), "a table with intervals must have a column that counts"],
    [rows.length > 0 && keys.some((key) => rows.every((row) => !(key in row))), "every column must be in the rows"],
    [rows.some((row) => intervals.some((column) => isCrossed(row, column))), "each value must lie within its interval"]
  ]);
}

function isCount({unit}: Column): boolean {
  return unit === "count";
}

function isCrossed(row: Table["rows"][number], {key, low = "", high = ""}: Column): boolean {
  const [value, from, to] = [row[key], row[low], row[high]];
  return (
    typeof value === "number" && typeof from === "number" && typeof to === "number" && !(from <= value && value <= to)
  );
}

function plotFaults({plot}: Figure): string[] {
  return [plot({width: 720, narrow: false}, Plot), plot({width: 360, narrow: true}, Plot)].flatMap((options, i) =>
    found([
      [options.title !== undefined || options.caption !== undefined, "the page writes title and note, not Plot"],
      [options.color?.legend !== undefined, "the page writes the key, not Plot"],
      [
        [options.x, options.y].some((scale) => scale && scale.axis !== null && scale.label === undefined),
        "each axis must say what it shows, or null"
      ],
      [
        [options.x, options.y].some((scale) => scale?.label && !isOrdinal(scale) && !axisUnit.test(scale.label)),
        "each axis of numbers must say its unit"
      ],
      [
        [options.x, options.y].some((scale) => scale?.tickRotate || scale?.labelAnchor === "center"),
        "labels must be level"
      ],
      [
        [options.x, options.y].some((scale) => scale && isOrdinal(scale) && !scale.domain) ||
          [options.fx, options.fy].some((scale) => scale && !scale.domain),
        "the order of names must be given, not left to the alphabet"
      ],
      [barAxes(options).some((axis) => !beginsAtZero(options[axis])), "bars must begin at zero"]
    ]).map((fault) => (i === 0 ? fault : `${fault} (narrow)`))
  );
}

function isOrdinal({type, domain}: Plot.ScaleOptions): boolean {
  return (
    type === "band" || type === "point" || (Array.isArray(domain) && domain.some((one) => typeof one === "string"))
  );
}

/** The axes along which bars are drawn. */
function barAxes({marks = []}: Plot.PlotOptions): ("x" | "y")[] {
  return (marks.flat(9) as {ariaLabel?: string; channels?: object}[])
    .filter((mark) => mark?.ariaLabel === "bar")
    .map(({channels = {}}) => ("x1" in channels || "x2" in channels ? "x" : "y"));
}

function beginsAtZero(scale: Plot.ScaleOptions | undefined): boolean {
  const domain = Array.isArray(scale?.domain) ? scale.domain : [];
  return scale?.zero === true || (domain.some((one) => one <= 0) && domain.some((one) => one >= 0));
}

function found(rules: readonly (readonly [boolean, string])[]): string[] {
  return rules.filter(([broken]) => broken).map(([, fault]) => fault);
}
