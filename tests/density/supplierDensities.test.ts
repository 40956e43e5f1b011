import {expect, test} from "vitest";
import {bookCounts} from "../../lib/book/bookCounts.ts";
import {densitiesOf, densitiesOfCounts} from "../../lib/density/supplierDensities.ts";
import {makeHistories, makePiece} from "../pieces.ts";

const pieces = [
  makePiece({lot: "L1", supplier: "Yard 1", density: 690.04}),
  makePiece({lot: "L1", supplier: "Yard 1", density: 700.2}),
  makePiece({lot: "L2", supplier: "Yard 2", density: 650}),
  makePiece({lot: "L3", supplier: "Yard 1", density: 690})
];

test("densitiesOf: one list a lot, by supplier and species", () => {
  expect(densitiesOf(pieces)).toEqual([
    {species: "ash", supplier: "Yard 1", lots: [[690.04, 700.2], [690]]},
    {species: "ash", supplier: "Yard 2", lots: [[650]]}
  ]);
});

test("densitiesOfCounts gives the same to a tenth of a kg/m³", () => {
  expect(densitiesOfCounts(bookCounts(makeHistories(pieces, {asOf: 10})))).toEqual([
    {species: "ash", supplier: "Yard 1", lots: [[690, 700.2], [690]]},
    {species: "ash", supplier: "Yard 2", lots: [[650]]}
  ]);
});

test("densitiesOfCounts leaves out a lot of which no square was listed", () => {
  const {lots} = bookCounts(makeHistories(pieces, {asOf: 10}));
  expect(densitiesOfCounts({lots, densities: []})).toEqual([]);
});
