import {expect, test} from "vitest";
import {columnsOfSquares} from "../../lib/book/squareColumns.ts";
import {squareDensityAt12} from "../../lib/book/squareDensity.ts";
import {readBook} from "../../scripts/io/readBook.ts";

test("columnsOfSquares(the sample book): each square's lot, mass and density", () => {
  const {squares, lots, settings} = readBook("sample-data").book!;
  const found = columnsOfSquares(squares, lots, settings);
  expect(found.size).toBe(squares.length);
  for (const [place, square] of squares.entries()) {
    const lot = lots[found.lots[place]!]!;
    expect(lot.lot).toBe(square.lot);
    expect(found.massG[place]).toBe(square.massG);
    expect(found.densityAt12KgM3[place]).toBe(squareDensityAt12(square, lot.species, settings));
    expect(found.square(place)).toBe(square);
  }
});
