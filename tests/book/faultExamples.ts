import {mkdtempSync, rmSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {histories} from "../../lib/book/histories.ts";
import {withMended} from "../../lib/book/mended.ts";
import {gridOf, parseBook} from "../../lib/book/parseBook.ts";
import type {Problem, ProblemCode} from "../../lib/book/problem.ts";
import type {FileName} from "../../lib/book/records.ts";
import {parseSettings, type Settings} from "../../lib/book/settings.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {workbookBytes} from "../../scripts/io/writeWorkbook.ts";
import {type Lines, settingsOf, smallest, texts} from "./smallBook.ts";

const [a1, a2] = smallest.squares;
const asOf = "2026-01-31";

/** Every problem of a book of these lines, its histories replayed. */
function problemsOf(files: ReturnType<typeof texts>, settings: Settings = settingsOf()): Problem[] {
  const {book, problems} = parseBook(files, settings, {today: asOf});
  return book ? [...problems, ...histories(book, asOf).problems] : problems;
}

const lines = (changed: Lines) => problemsOf(texts(changed));

/** The smallest book with the text of one file changed. */
function changed(file: FileName, change: (text: string) => string, settings?: Settings): Problem[] {
  const files = texts();
  return problemsOf({...files, [file]: change(files[file] ?? "")}, settings);
}

/** The smallest book with its pieces taken to the finished shaft on the way. */
const finished = (square: string) => [
  `2025-03-15,${square},turned,rough-round,1100`,
  `2025-05-15,${square},turned,second-round,600`,
  `2025-07-15,${square},turned,proud-round,400`,
  `2025-09-15,${square},turned,finished,310`
];

/** The smallest book in a folder, with more files or other ones. */
function folder(more: Record<string, string | Uint8Array>): Problem[] {
  const place = mkdtempSync(join(tmpdir(), "square-"));
  try {
    for (const [name, text] of Object.entries({...texts(), ...more})) writeFileSync(join(place, name), text);
    return readBook(place).problems;
  } finally {
    rmSync(place, {recursive: true});
  }
}

function mended(text: string): Problem[] {
  const grid = gridOf(texts()["squares.csv"], "squares.csv", settingsOf());
  return withMended(grid, gridOf(text, "squares.csv", settingsOf(), "mended-squares.csv")).problems;
}

/** For each code the smallest book that has it; the guide's table of faults is made of these. */
export const faultExamples: Record<ProblemCode, () => Problem[]> = {
  "file-missing": () => {
    const {"orders.csv": _, ...others} = texts();
    return parseBook(others, settingsOf()).problems;
  },
  "file-twice": () => folder({"stock.xlsx": workbookBytes([{name: "Orders", rows: [["order"]]}])}),
  "file-unreadable": () => folder({"stock.xlsx": "no workbook"}),
  "file-unread": () => folder({"lots-2024.csv": "lot\nZ"}),
  "file-empty": () => lines({squares: []}),
  "setting-unreadable": () => parseSettings('{"seasn": {"startsOn": "06-01"}}').problems,
  "quote-open": () => changed("squares.csv", (text) => text.replace("A2,", '"A2,')),
  "heading-missing": () => changed("squares.csv", (text) => text.replace("mass_g", "mas_g")),
  "heading-twice": () => changed("squares.csv", (text) => text.replace("width_mm", "length_mm")),
  "heading-unit": () => changed("squares.csv", (text) => text.replace("mass_g", "mass (mm)")),
  "heading-loose": () => changed("lots.csv", (text) => text.replace("price_each", "Price (£)")),
  "heading-unknown": () => changed("orders.csv", (text) => text.replace("quantity", "quantity,wantd_by")),
  "heading-empty": () =>
    changed("orders.csv", (text) => text.replace("quantity", "quantity,").replace("ash,1", "ash,1,oak case")),
  "unit-assumed": () => changed("squares.csv", (text) => text.replace("mass_g", "weight")),
  "headings-again": () =>
    changed("orders.csv", (text) => `${text}order,quantity,species,ordered_on\nO2,1,ash,2025-02-01\n`),
  "row-above": () => changed("orders.csv", (text) => `O0,2025-02-01,ash,1\n${text}`),
  "row-ragged": () => changed("orders.csv", (text) => text.replace("ash,1", "ash,1,as before,with case")),
  "row-short": () => changed("orders.csv", (text) => text.replace("quantity", "quantity,note")),
  "row-twice": () => lines({events: ["2025-03-01,A1,weighed,,1600", "2025-03-01,A1,weighed,,1600"]}),
  "cells-merged": () => {
    const grid = gridOf(texts()["squares.csv"], "squares.csv", settingsOf());
    const merged = [{firstRow: 2, lastRow: 3, firstColumn: 2, lastColumn: 2}];
    return parseBook({...texts(), "squares.csv": {...grid, exact: true, merged}}, settingsOf()).problems;
  },
  "cell-unreadable": () => lines({squares: [a1, "A2,A,1500,40,40,16o3,12"]}),
  "cell-error": () => lines({squares: [a1, "A2,A,1500,40,40,#REF!,12"]}),
  "cell-damaged": () => lines({lots: ["A,2025-01-10,S\ufffdgerei Quill,ash,2,10"]}),
  "number-ambiguous": () => lines({lots: ['A,2025-01-10,Quillmoor Sawpit,ash,2,"1,250"']}),
  "date-ambiguous": () => lines({orders: ["O1,03/04/2025,ash,1"]}),
  "date-future": () => lines({orders: ["O1,2062-02-01,ash,1"]}),
  "date-apart": () => lines({orders: ["O1,2025-02-01,ash,1", "O2,2025-02-02,ash,1", "O3,2015-02-03,ash,1"]}),
  "year-first": () => lines({orders: ["O1,25-01-14,ash,1", "O2,25-02-27,ash,1"]}),
  "dates-mixed": () => {
    const grid = gridOf(
      "order,ordered_on,species,quantity\nO1,2025-04-03,ash,1\nO2,14/04/2025,ash,1",
      "orders.csv",
      settingsOf()
    );
    return parseBook({...texts(), "orders.csv": {...grid, exact: true}}, settingsOf()).problems;
  },
  "unit-jump": () => lines({squares: [a1, a2, "A3,A,1500,40,40,1690,12", "A4,A,150,40,40,168,12"]}),
  "number-twice": () => lines({squares: [a1, a2, a2]}),
  "lot-unknown": () => lines({squares: [a1, "A2,a ,1500,40,40,1680,12"]}),
  "lot-refused": () =>
    lines({
      lots: [...smallest.lots, "B,2025-02-31,Fennaby Yard,ash,1,9"],
      squares: [a1, a2, "B1,B,1500,40,40,1680,12"]
    }),
  "square-unknown": () => lines({events: ["2025-03-01,A-1,weighed,,1600"]}),
  "square-refused": () => lines({squares: [a1, "A2,A,1500,40,40,16o3,12"], events: ["2025-03-01,A2,weighed,,1600"]}),
  "order-unknown": () => lines({events: [...finished("A1"), "2025-10-01,A1,allotted,,,,,O7"]}),
  "order-refused": () =>
    lines({orders: ["O1,2025-02-31,ash,1"], events: [...finished("A1"), "2025-10-01,A1,allotted,,,,,O1"]}),
  "species-unknown": () => lines({orders: ["O1,2025-02-01,aash,1"]}),
  "stage-unknown": () => lines({events: ["2025-03-01,A1,turned,rough rond"]}),
  "defect-unknown": () => lines({events: ["2025-03-01,A1,discarded,,,,wrap"]}),
  "defect-missing": () => lines({events: ["2025-03-01,A1,discarded"]}),
  "stage-missing": () => lines({events: ["2025-03-01,A1,turned"]}),
  "order-missing": () => lines({events: [...finished("A1"), "2025-10-01,A1,allotted"]}),
  "supplier-spelling": () =>
    lines({
      lots: [...smallest.lots, "B,2025-02-10,quillmoor sawpit,ash,1,9"],
      squares: [a1, a2, "B1,B,1500,40,40,1680,12"]
    }),
  "density-impossible": () => lines({squares: [a1, "A2,A,1500,40,40,168,12"]}),
  "density-unlikely": () => lines({squares: [a1, "A2,A,1500,40,40,2680,12"]}),
  "density-differs": () =>
    changed("squares.csv", (text) =>
      text.replace("mc_pct", "mc_pct,density_kgm3").replaceAll(",1680,12", ",1680,12,760")
    ),
  "before-purchase": () => lines({events: ["2024-03-01,A1,weighed,,1600"]}),
  "before-order": () =>
    changed("orders.csv", (text) =>
      text.replace("quantity", "quantity,wanted_by").replace("ash,1", "ash,1,2024-05-01")
    ),
  "after-end": () => lines({events: ["2025-03-01,A1,discarded,,,,warp", "2025-04-01,A1,weighed,,1600"]}),
  "stage-backwards": () =>
    lines({events: ["2025-03-15,A1,turned,second-round,600", "2025-04-15,A1,turned,rough-round,590"]}),
  "stage-skipped": () => lines({events: ["2025-03-15,A1,turned,second-round,600"]}),
  "stage-differs": () => lines({events: ["2025-03-15,A1,weighed,rough-round,1600"]}),
  "mass-window": () =>
    changed("orders.csv", (text) =>
      text.replace("quantity", "quantity,mass_min_g,mass_max_g").replace("ash,1", "ash,1,330,300")
    ),
  "deflection-window": () =>
    changed("orders.csv", (text) =>
      text.replace("quantity", "quantity,deflection_min_mm,deflection_max_mm").replace("ash,1", "ash,1,11,9")
    ),
  "lost-more": () =>
    changed("orders.csv", (text) => text.replace("quantity", "quantity,lost").replace("ash,1", "ash,1,2")),
  "range-turned": () => lines({advice: ["2025-02-01,ash,2025-06-01,2026-05-31,40,60,50,12,5,20"]}),
  "looked-fewer": () =>
    changed("lots.csv", (text) =>
      text.replace("price_each", "price_each,squares_looked_at").replace(",10\n", ",10,1\n")
    ),
  "mass-grew": () => lines({events: ["2025-03-15,A1,weighed,,1860"]}),
  "mass-fell": () => lines({events: ["2025-03-15,A1,turned,rough-round,109"]}),
  "not-finished": () => lines({events: ["2025-03-15,A1,delivered"]}),
  "allotted-elsewhere": () =>
    lines({
      orders: ["O1,2025-02-01,ash,1", "O2,2025-02-02,ash,1"],
      events: [...finished("A1"), "2025-10-01,A1,allotted,,,,,O1", "2025-10-05,A1,delivered,,,,,O2"]
    }),
  "order-overfilled": () =>
    lines({
      events: [...finished("A1"), ...finished("A2"), "2025-10-01,A1,delivered,,,,,O1", "2025-10-02,A2,delivered,,,,,O1"]
    }),
  "lot-short": () => lines({squares: [a1]}),
  "lot-over": () => lines({squares: [a1, a2, "A3,A,1500,40,40,1680,12"]}),
  "mended-lost": () =>
    mended(
      "square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct,_row,_mark,_problem\nA9,A,1500,40,40,1603,12,9,m0badf00d,"
    ),
  "read-as": () => lines({orders: ["O1,13/04/2025,ash,1"]}),
  "rows-not-data": () => changed("orders.csv", (text) => `Orders of Two Benches\n${text}Total,,,1\n`),
  "rows-mended": () =>
    mended(
      "square,lot,length_mm,width_mm,thickness_mm,mass_g,mc_pct,_row,_mark,_problem\nA2,A,1500,40,40,1603,12,3,MARK,".replace(
        "MARK",
        markOfA2()
      )
    )
};

/** The mark of the second square's row, worked out here by the published steps of FNV-1a. */
function markOfA2(): string {
  let hash = 0x811c9dc5n;
  for (const letter of a2.split(",").join("\u001f")) {
    hash = ((hash ^ BigInt(letter.charCodeAt(0))) * 0x01000193n) % 2n ** 32n;
  }
  return `m${hash.toString(16).padStart(8, "0")}`;
}
