import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {tableSection} from "../../lib/report/tableSection.ts";
import {lots} from "./tables.ts";

it("tableSection(table) is the table at its anchor, with the link that saves it", () => {
  const {document} = new JSDOM(htmlText(tableSection(lots, {currency: "£", period: "2026-10"}))).window;
  const block = document.getElementById("lots")!;
  expect(block.querySelector("caption")!.textContent).toBe("Lots by day of purchase");
  expect(block.querySelector("thead th:last-child")!.textContent).toBe("Cost (£)");
  expect(block.querySelector("a")!.download).toBe("lots-2026-10.csv");
});
