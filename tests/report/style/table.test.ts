import {expect, it} from "vitest";
import {tableStyle} from "../../../lib/report/style/table.ts";

it("numbers stand to the right in figures of one width, and no value is parted from itself", () => {
  expect(tableStyle).toMatch(/\ntd \{ text-align: right; \}/);
  expect(tableStyle).toMatch(/table \{[^}]*tabular-nums/);
  expect(tableStyle).toMatch(/\ntd, td small, \.short, \.unit \{ white-space: nowrap; \}/);
});

it("a table too wide for the page scrolls by itself", () => {
  expect(tableStyle).toMatch(/\.table \{[^}]*overflow-x: auto/);
});
