import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {tableCsv} from "../../lib/report/tableCsv.ts";
import {tableData} from "../../lib/report/tableData.ts";
import {tableHtml} from "../../lib/report/tableHtml.ts";
import {lots} from "./tables.ts";

it("tableCsv(table) has the unit in each heading and the interval as two more columns", () => {
  expect(tableCsv(lots, {currency: "£"})).toBe(
    "\ufeffLot,Bought,Yield (%),Yield low (%),Yield high (%),Change,Cost (£)\r\n" +
      "A-031,2026-01-16,66.7,52,78.1,-5,1941.5\r\n" +
      "'=1+2,2026-03-04,,,,,\r\n"
  );
});

it("page, CSV and JSON hold the same numbers", () => {
  const shown = htmlText(tableHtml(lots))
    .match(/<td>[^<]*/g)!
    .map((cell) => cell.replace(/.*>/, "").replaceAll("\u202f", "").replace("−", "-").trim());
  const inCsv = tableCsv(lots).split("\r\n")[1]!.split(",");
  const {share, change, cost} = tableData(lots).rows[0]!;
  expect(shown.slice(0, 3).map(Number)).toEqual([share, change, cost]);
  expect([inCsv[2], inCsv[5], inCsv[6]].map(Number)).toEqual([share, change, cost]);
});
