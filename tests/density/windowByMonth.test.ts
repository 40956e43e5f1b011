import {expect, test} from "vitest";
import {histories} from "../../lib/book/histories.ts";
import {windowByMonth} from "../../lib/density/windowByMonth.ts";
import {bookOf, settingsOf} from "../book/smallBook.ts";

// 2.4 litres at 12 % moisture: 1680 g are 700 kg/m³, 1440 g 600, 1920 g 800.
const lots = [
  "A,2025-01-10,Quillmoor Sawpit,ash,2,10",
  "B,2025-01-28,Fennaby Yard,ash,1,10",
  "C,2025-03-01,Fennaby Yard,maple,1,10"
];
const squares = [
  "A1,A,1500,40,40,1680,12",
  "A2,A,1500,40,40,1440,12",
  "B1,B,1500,40,40,1920,12",
  "C1,C,1500,40,40,1680,12"
];
const settings = settingsOf({
  species: {
    ash: {wood: "european-ash", windowKgM3: {low: 690, high: 710}},
    maple: {wood: "sugar-maple", windowKgM3: {low: 600, high: 690}}
  }
});
const then = (day: string) => histories(bookOf({lots, squares}, settings), day);

test("windowByMonth(book) counts the squares of a month by species, whoever sold them, and those in the window of their species", () => {
  expect(windowByMonth(then("2025-12-31"))).toEqual([
    {species: "ash", month: "2025-01", squares: 3, inside: 1, insideFraction: 1 / 3},
    {species: "maple", month: "2025-03", squares: 1, inside: 0, insideFraction: 0}
  ]);
});

test("windowByMonth(book) has no row for a month without squares, nor for what is bought later", () => {
  expect(windowByMonth(then("2025-02-20")).map(({month}) => month)).toEqual(["2025-01"]);
});
