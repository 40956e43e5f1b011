import {expect, test} from "vitest";
import {dayColumn, nameColumn, noPlace, numberColumn, placesOf, unknownPlace} from "../../lib/book/columnsOf.ts";
import {dayNumber} from "../../lib/book/day.ts";
import {noDay} from "../../lib/book/plainTable.ts";
import {files} from "../../lib/book/records.ts";
import {plainTable} from "./plainFiles.ts";

const text =
  "date,square,event,stage,mass_g\n2025-03-01,A1,turned,rough-round,1150\n2025-03-02,A2,weighed,,\n2025-03-03,A3,turned,sanded,900\n";
const table = plainTable(new TextEncoder().encode(text), files["events.csv"])!;

test("nameColumn: places among the known names, blank and unknown ones told apart; a column that is not there is blank", () => {
  const known = placesOf(["square", "rough-round"]);
  expect([...nameColumn(table, "stage", known)]).toEqual([1, noPlace, unknownPlace]);
  expect([...nameColumn(table, "order", known)]).toEqual([noPlace, noPlace, noPlace]);
});

test("numberColumn and dayColumn: numbers and days, blank where the column is not there", () => {
  expect([...numberColumn(table, "massG")]).toEqual([1150, Number.NaN, 900]);
  expect([...numberColumn(table, "diameterMm")]).toEqual([Number.NaN, Number.NaN, Number.NaN]);
  expect([...dayColumn(table, "date")]).toEqual(["2025-03-01", "2025-03-02", "2025-03-03"].map(dayNumber));
  expect([...dayColumn(table, "measuredOn")]).toEqual([noDay, noDay, noDay]);
});
