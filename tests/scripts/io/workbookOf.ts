import {zipOf} from "./zipOf.ts";

const main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const relationships = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const package_ = "http://schemas.openxmlformats.org/package/2006";
const declaration = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>';

/** The formats of cells, by the number that a cell's `s` gives; 14 to 22 are built in (ECMA-376 Part 1, 18.8.30). */
const formats = [
  {id: 0},
  {id: 14},
  {id: 164, code: "yyyy\\-mm\\-dd"},
  {id: 10},
  {id: 20},
  {id: 165, code: "[h]:mm"},
  {id: 166, code: '0.0" % dry";-0.0'},
  {id: 22},
  {id: 167, code: "[$-407]d/\\ mmmm\\ yyyy;@"},
  {id: 11},
  {id: 168, code: "0000"},
  {id: 169, code: '[Red]#,##0.00\\ "days"'},
  {id: 17}
];

/** Which number a format has as the `s` of a cell. */
export const style = {
  general: 0,
  date: 1,
  isoDate: 2,
  percent: 3,
  time: 4,
  hours: 5,
  percentInWords: 6,
  dateAndTime: 7,
  germanDate: 8,
  scientific: 9,
  fourDigits: 10,
  wordsWithDateLetters: 11,
  month: 12
} as const;

/**
 * A workbook written by hand: the parts that a workbook must have, zipped.
 *
 * Source: ECMA-376 Part 1 (2016), 12.3 parts of a workbook, 18.2.28 workbookPr, 18.2.19 sheet, 18.3.1 worksheets, 18.4 shared
 * strings, 18.8 styles; Part 2, content types and relationships. From memory: this session could not see the standard.
 *
 * @param sheets name and state of each sheet, and the XML within its `worksheet`
 * @param strings the items of the shared strings, as XML within `si`
 */
export function workbookOf(
  sheets: readonly {name: string; state?: string; xml: string}[],
  {strings = [], from1904 = false}: {strings?: readonly string[]; from1904?: boolean} = {}
): Buffer {
  const custom = formats.filter(({code}) => code !== undefined);
  const part = (name: string, type: string) =>
    `<Override PartName="/xl/${name}.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.${type}+xml"/>`;
  const relation = (id: string, type: string, target: string) =>
    `<Relationship Id="${id}" Type="${relationships}/${type}" Target="${target}"/>`;
  const escaped = (text: string) => text.replaceAll("&", "&amp;").replaceAll('"', "&quot;");
  return zipOf({
    "[Content_Types].xml": `${declaration}<Types xmlns="${package_}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>${part("workbook", "sheet.main")}${sheets.map((_, index) => part(`worksheets/sheet${index + 1}`, "worksheet")).join("")}${part("styles", "styles")}${part("sharedStrings", "sharedStrings")}</Types>`,
    "_rels/.rels": `${declaration}<Relationships xmlns="${package_}/relationships">${relation("rId1", "officeDocument", "xl/workbook.xml")}</Relationships>`,
    "xl/workbook.xml": `${declaration}<workbook xmlns="${main}" xmlns:r="${relationships}"><workbookPr${from1904 ? ' date1904="1"' : ""}/><sheets>${sheets
      .map(
        ({name, state}, index) =>
          `<sheet name="${escaped(name)}" sheetId="${index + 1}"${state ? ` state="${state}"` : ""} r:id="rId${index + 1}"/>`
      )
      .join("")}</sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": `${declaration}<Relationships xmlns="${package_}/relationships">${sheets
      .map((_, index) => relation(`rId${index + 1}`, "worksheet", `worksheets/sheet${index + 1}.xml`))
      .join(
        ""
      )}${relation("rIdA", "styles", "styles.xml")}${relation("rIdB", "sharedStrings", "sharedStrings.xml")}</Relationships>`,
    "xl/styles.xml": `${declaration}<styleSheet xmlns="${main}"><numFmts count="${custom.length}">${custom
      .map(({id, code}) => `<numFmt numFmtId="${id}" formatCode="${escaped(code!)}"/>`)
      .join("")}</numFmts><cellXfs count="${formats.length}">${formats
      .map(({id}) => `<xf numFmtId="${id}" applyNumberFormat="1"/>`)
      .join("")}</cellXfs></styleSheet>`,
    "xl/sharedStrings.xml": `${declaration}<sst xmlns="${main}" count="${strings.length}" uniqueCount="${strings.length}">${strings
      .map((xml) => `<si>${xml}</si>`)
      .join("")}</sst>`,
    ...Object.fromEntries(
      sheets.map(({xml}, index) => [
        `xl/worksheets/sheet${index + 1}.xml`,
        `${declaration}<worksheet xmlns="${main}" xmlns:r="${relationships}">${xml}</worksheet>`
      ])
    )
  });
}
