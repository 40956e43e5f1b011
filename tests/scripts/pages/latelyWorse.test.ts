import {expect, test} from "vitest";
import {bookCounts} from "../../../lib/book/bookCounts.ts";
import {bookAsOf, readBook} from "../../../scripts/io/readBook.ts";
import {latelyFactors, latelyWorse} from "../../../scripts/pages/latelyWorse.ts";

const found = readBook("sample-data");
const rows = latelyWorse(bookCounts(bookAsOf({...found, book: found.book!}).histories));

// The sample's truth.json: Tolverby Saws lost twice as much at the first two stages from May 2026 on.
test("latelyWorse(sample book) finds the supplier that got worse, at a stage at which it did", () => {
  expect([...new Set(rows.map(({supplier}) => supplier))]).toEqual(["Tolverby Saws"]);
  for (const {stage, before, recent} of rows) {
    expect(["square", "rough-round"]).toContain(stage);
    expect(recent.per100).toBeGreaterThan(before.per100);
  }
});

test("latelyFactors: what passes now of what passes over all years, one stage after the other", () => {
  const row = (per100Before: number, per100Now: number) => ({
    ...rows[0]!,
    supplier: "A",
    overall: {...rows[0]!.overall, per100: per100Before},
    recent: {...rows[0]!.recent, per100: per100Now}
  });
  expect(latelyFactors([row(10, 28), row(20, 60)])).toEqual({A: expect.closeTo(0.8 * 0.5, 12)});
  expect(latelyFactors([])).toEqual({});
});
