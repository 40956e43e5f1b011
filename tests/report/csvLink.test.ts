import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {csvLink} from "../../lib/report/csvLink.ts";
import {htmlText} from "../../lib/report/html.ts";
import {tableCsv} from "../../lib/report/tableCsv.ts";
import {lots} from "./tables.ts";

function link(table = lots, period?: string): HTMLAnchorElement {
  const {document} = new JSDOM(htmlText(csvLink(table, period === undefined ? {} : {period}))).window;
  return document.querySelector("a")!;
}

it("csvLink(table) holds the whole CSV in its address", async () => {
  const response = await fetch(link().href);
  expect(new TextDecoder("utf-8", {ignoreBOM: true}).decode(await response.arrayBuffer())).toBe(tableCsv(lots));
  expect(response.headers.get("content-type")).toBe("text/csv;charset=utf-8");
});

it("csvLink(table) survives what an address would mistake: # % & and half a character", async () => {
  const odd = {...lots, rows: [{lot: "50 % # &amp; ?\ud800"}]};
  const text = await (await fetch(link(odd).href)).text();
  expect(text).toContain("50 % # &amp; ?\ufffd");
});

it("csvLink(table, {period}) names the file after table and period", () => {
  expect(link().download).toBe("lots.csv");
  expect(link(lots, "2026-10").download).toBe("lots-2026-10.csv");
});
