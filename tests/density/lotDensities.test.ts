import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {lotDensities} from "../../lib/density/lotDensities.ts";
import {bookOf} from "../book/smallBook.ts";

// 2.4 litres at 12 % moisture: 1680 g are 700 kg/m³.
const lots = [
  "B,2025-01-10,Fennaby Yard,ash,4,10",
  "A,2024-03-01,Quillmoor Sawpit,ash,1,10",
  "C,2025-01-10,Fennaby Yard,maple,1,10"
];
const squares = [
  ...[1440, 1560, 1680, 1800].map((mass, i) => `B${i},B,1500,40,40,${mass},12`),
  "A1,A,1500,40,40,1680,12",
  "C1,C,1500,40,40,1680,12"
];

test("lotDensities(book) has each lot's mean and quartiles, oldest first", () => {
  const rows = lotDensities(histories(bookOf({lots, squares}), "2025-12-31"));
  expect(rows.map(({lot, boughtOn, supplier, species, squares: n}) => [lot, boughtOn, supplier, species, n])).toEqual([
    ["A", "2024-03-01", "Quillmoor Sawpit", "ash", 1],
    ["B", "2025-01-10", "Fennaby Yard", "ash", 4],
    ["C", "2025-01-10", "Fennaby Yard", "maple", 1]
  ]);
  // 600, 650, 700, 750: mean 675, quartiles (type 7) 637.5 and 712.5.
  expect(rows[1]!.meanKgM3).toBeCloseTo(675, 9);
  expect(rows[1]!.quarterKgM3).toBeCloseTo(637.5, 9);
  expect(rows[1]!.threeQuarterKgM3).toBeCloseTo(712.5, 9);
  expect(rows[0]!.quarterKgM3).toBeCloseTo(700, 9);
});
