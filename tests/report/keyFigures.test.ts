import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {type KeyFigure, keyFigures} from "../../lib/report/keyFigures.ts";

function lines(figure: KeyFigure, currency = "£"): (string | null)[] {
  const {document} = new JSDOM(htmlText(keyFigures([figure], {currency}))).window;
  return [...document.querySelectorAll("dt, dd")].map((node) => node.textContent);
}

it("keyFigures([figure]) shows the number in its unit, then interval, change, n and note", () => {
  const figure: KeyFigure = {
    label: "Yield",
    value: 0.6123,
    unit: "fraction",
    interval: {low: 0.571, high: 0.652},
    change: "up 2.1 points",
    n: "1 284 squares",
    note: "all lots"
  };
  expect(lines(figure)).toEqual([
    "Yield",
    "61.2\u00a0%",
    "57.1 to 65.2\u00a0%, 95\u00a0% interval",
    "up 2.1 points",
    "1 284 squares",
    "all lots"
  ]);
});

it("keyFigures([figure]) puts the currency first, takes a text as it is, and shows nothing as a dash", () => {
  expect(lines({label: "Cost", value: 22.15, unit: "money", interval: {low: 20, high: 24}})).toEqual([
    "Cost",
    "£22.15",
    "£20.00 to £24.00, 95\u00a0% interval"
  ]);
  expect(lines({label: "Buy by", value: "12 March", unit: "date"})).toEqual(["Buy by", "12 March"]);
  expect(lines({label: "Yield", value: undefined, unit: "fraction"})).toEqual(["Yield", "–"]);
});

it("keyFigures([figure]) names another level where one is given", () => {
  expect(
    lines({label: "Yield", value: 0.5, unit: "fraction", interval: {low: 0.4, high: 0.6}, level: "80 % interval"})[2]
  ).toBe("40.0 to 60.0\u00a0%, 80 % interval");
});
