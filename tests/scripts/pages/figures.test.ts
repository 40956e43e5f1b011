import {describe, expect, it} from "vitest";
import {figureFaults} from "../../../lib/figures/lint.ts";
import {draw} from "../../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {monthlyReport} from "../../../scripts/pages/monthly.ts";
import {rackReport} from "../../../scripts/pages/rack.ts";
import {seasonReport} from "../../../scripts/pages/season.ts";
import {seasoningReport} from "../../../scripts/pages/seasoning.ts";
import {suppliersReport} from "../../../scripts/pages/suppliers.ts";

const found = readBook("sample-data");
const read = bookAsOf({...found, book: found.book!});
const beside = {notebooks: [], keptBefore: () => undefined, draw};

describe.each([
  ["monthly", monthlyReport(read, beside)],
  ["suppliers", suppliersReport(read, beside)],
  ["season", seasonReport(read, beside)],
  ["seasoning", seasoningReport(read, beside)],
  ["rack", rackReport(read, beside)]
])("the figures of the %s report", (_, {figures}) => {
  it("are sound by figureFaults", () => {
    expect(figures.length).toBeGreaterThan(1);
    expect(figures.flatMap(figureFaults)).toEqual([]);
  });

  it("lead to how they are worked out", () => {
    expect(figures.filter(({method}) => method === undefined).map(({id}) => id)).toEqual([]);
  });

  it("have titles, subtitles and captions that need no textbook", () => {
    const jargon =
      /aalen|johansen|laney|brown|forsythe|bootstrap|jackknife|binomial|quantile|incidence|p-chart|wilson|student/i;
    const said = figures.flatMap(({title, subtitle, note = "", table}) => [title, subtitle, note, table.caption]);
    expect(said.filter((text) => jargon.test(text))).toEqual([]);
  });
});
