import fc from "fast-check";
import {expect, test} from "vitest";
import {dayText} from "../../lib/book/day.ts";
import {parseBook} from "../../lib/book/parseBook.ts";
import {noDay} from "../../lib/book/plainTable.ts";
import type {FileName} from "../../lib/book/records.ts";
import {columnsOfSquares, type SquareColumns} from "../../lib/book/squareColumns.ts";
import {squareDensityAt12} from "../../lib/book/squareDensity.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {plainFile} from "./plainFiles.ts";
import {settingsOf} from "./smallBook.ts";

/** What the columns say of each square, as the squares themselves say it. */
function asSaid({size, known, measuredOn, massG, square}: SquareColumns) {
  return Array.from({length: size}, (_, place) => {
    const own = square(place);
    const day = measuredOn[place]!;
    expect(known.get(own.square)).toBe(place);
    return {...own, massG: massG[place]!, ...(day !== noDay && {measuredOn: dayText(day)})};
  });
}

test("columnsOfSquares(the sample book): each square's lot, day, mass and density", () => {
  const {squares, lots, settings} = readBook("sample-data").book!;
  const found = columnsOfSquares(squares, lots, settings);
  expect(asSaid(found)).toEqual(squares);
  for (const [place, square] of squares.entries()) {
    const lot = lots[found.lots[place]!]!;
    expect(lot.lot).toBe(square.lot);
    expect(found.densityAt12KgM3[place]).toBe(squareDensityAt12(square, lot.species, settings));
  }
});

const usual = fc.record({
  square: fc.integer({min: 1, max: 200}).map((n) => `A${n}`),
  lot: fc.constantFrom("L1", "L1", "L2"),
  measuredOn: fc.constantFrom("", "2025-03-11", "2025-03-12"),
  length: fc.constantFrom("1500", "1502"),
  width: fc.constantFrom("40", "40.2"),
  thickness: fc.constantFrom("40", "39.8"),
  mass: fc.constantFrom("1656", "1700"),
  moisture: fc.constantFrom("12", "9.5"),
  noted: fc.constantFrom("", "690")
});
const hostile: Record<keyof (typeof usual extends fc.Arbitrary<infer R> ? R : never), string[]> = {
  square: ["A1", "A2", " A3", ""],
  lot: ["L9", "L3", "l1", ""],
  measuredOn: ["2025-01-01", "2031-01-01", "12.3.2025", "12 Mar 2025"],
  length: ["59", "150", "400", "1.502", "1500 mm"],
  width: ["1.6", "4", "300", "40,2"],
  thickness: ["1.6", "80", "4 cm", "x"],
  mass: ["165", "16560", "3.65 lb", "900", "2300", ""],
  moisture: ["0", "120", "12 %"],
  noted: ["500", "720", "705", "711", "6900"]
};
const row = fc
  .tuple(usual, fc.option(fc.constantFrom(...(Object.keys(hostile) as (keyof typeof hostile)[])), {freq: 2}), fc.nat(9))
  .map(([cells, key, n]) => {
    const own = key === null ? cells : {...cells, [key]: hostile[key][n % hostile[key].length]!};
    return Object.values(own)
      .map((cell) => (cell.includes(",") ? `"${cell}"` : cell))
      .join(",");
  });

test("squareColumns(hostile squares): the squares and faults of the book read row by row", () => {
  const codes = new Set<string>();
  let [read, made] = [0, 0];
  fc.assert(
    fc.property(fc.array(row, {maxLength: 30, size: "max"}), (rows) => {
      const texts: Partial<Record<FileName, string>> = {
        "lots.csv":
          "lot,bought_on,supplier,species,squares_bought,price_each\nL1,2025-01-05,Low Fold Sawmill,ash,20,10\nL2,2025-03-12,Quillmoor Sawpit,maple,9,12\nL3,2031-03-12,Quillmoor Sawpit,maple,9,12\n",
        "squares.csv": `square,lot,measured_on,length_mm,width_mm,thickness_mm,mass_g,mc_pct,density_kgm3\n${rows.join("\n")}`,
        "orders.csv": "order,ordered_on,species,quantity\n",
        "events.csv": "date,square,event\n2025-03-20,A1,weighed\n2025-03-20,A2,weighed\n"
      };
      const plain = Object.entries(texts).map(([file, text]) => [
        file,
        plainFile(new TextEncoder().encode(text), file as FileName) ?? text
      ]);
      const options = {today: "2026-12-31"};
      const wanted = parseBook(texts, settingsOf(), options);
      const got = parseBook(Object.fromEntries(plain), settingsOf(), {...options, asColumns: true});
      expect(got.problems).toEqual(wanted.problems);
      if (!wanted.book) return;
      expect(got.book!.squares).toEqual([]);
      expect(asSaid(got.columns!.squares)).toEqual(wanted.book.squares);
      const {squares, lots, settings} = wanted.book;
      const {square: _, ...columns} = columnsOfSquares(squares, lots, settings);
      expect(got.columns!.squares).toMatchObject(columns);
      for (const {code, file} of wanted.problems) if (file === "squares.csv") codes.add(code);
      read += rows.length;
      made += squares.length;
    }),
    {numRuns: 250}
  );
  expect([...codes]).toEqual(expect.arrayContaining(toldOfSquares));
  expect(made / read).toBeGreaterThan(0.3);
});

const toldOfSquares = [
  "before-purchase",
  "date-future",
  "density-differs",
  "density-impossible",
  "density-unlikely",
  "lot-refused",
  "lot-unknown",
  "number-twice",
  "unit-jump"
];
