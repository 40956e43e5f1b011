import type {Figure} from "../../lib/figures/figure.ts";
import {draw} from "../draw.ts";
import {bookAsOf, readBook} from "../io/readBook.ts";
import {monthlyReport} from "../pages/monthly.ts";
import {rackReport} from "../pages/rack.ts";
import {seasonReport} from "../pages/season.ts";
import {seasoningReport} from "../pages/seasoning.ts";
import {suppliersReport} from "../pages/suppliers.ts";
import {trends} from "../pages/trends.ts";

/** The day of the sample book that the golden drawings are of: late enough for every figure that a page may have. */
const day = "2025-12-31";

/** Every figure of every page, of the sample book on that day, drawn wide and narrow: SVG text by the name of its file. */
export function drawings(): Map<string, string> {
  const found = readBook("sample-data");
  const read = bookAsOf({...found, book: found.book!}, day);
  const beside = {notebooks: [], keptBefore: () => undefined, draw};
  const pages: [string, readonly Figure[]][] = [
    ["index", Object.values(trends(read.histories))],
    ["monthly", monthlyReport(read, beside).figures],
    ["suppliers", suppliersReport(read, beside).figures],
    ["season", seasonReport(read, beside).figures],
    ["seasoning", seasoningReport(read, beside).figures],
    ["rack", rackReport(read, beside).figures]
  ];
  return new Map(
    pages.flatMap(([page, figures]) =>
      figures.flatMap((figure) =>
        Object.entries(draw(figure)).map(([size, svg]): [string, string] => [`${page}-${figure.id}-${size}.svg`, svg])
      )
    )
  );
}
