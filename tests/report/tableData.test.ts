import {expect, it} from "vitest";
import {tableData} from "../../lib/report/tableData.ts";
import {lots} from "./tables.ts";

it("tableData(table) is plain data with the unit of the numbers as written", () => {
  const data = tableData(lots, {currency: "£"});
  expect(data.columns[2]).toEqual({key: "share", heading: "Yield", unit: "%", low: "low", high: "high"});
  expect(data.columns[4]!.unit).toBe("£");
  expect(data.rows[0]).toEqual({
    lot: "A-031",
    day: "2026-01-16",
    share: 66.7,
    low: 52,
    high: 78.1,
    change: -5,
    cost: 1941.5
  });
});

it("tableData(table) has null for what is missing, so that JSON keeps every key", () => {
  const {rows, note} = tableData({...lots, rows: [{lot: "B"}]});
  expect(JSON.parse(JSON.stringify(rows))).toEqual([
    {lot: "B", day: null, share: null, low: null, high: null, change: null, cost: null}
  ]);
  expect(note).toBe("Yield with its 95 % interval.");
});
