import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {htmlText} from "../../lib/report/html.ts";
import {methods} from "../../lib/report/methods.ts";

const {document} = new JSDOM(
  htmlText(
    methods([
      {
        id: "how-loss",
        heading: "Loss & gain",
        text: "What went in less what came out.",
        formula: "l = a − b",
        guide: "loss"
      },
      {id: "how-sure", heading: "Intervals", text: "From lots.", guide: "intervals"}
    ])
  )
).window;

it("methods(list) heads each by its name, at the anchor that figures name", () => {
  expect([...document.querySelectorAll("h3")].map(({id, textContent}) => [id, textContent])).toEqual([
    ["how-loss", "Loss & gain"],
    ["how-sure", "Intervals"]
  ]);
});

it("methods(list) gives a formula where there is one, and leads to the guide", () => {
  expect([...document.querySelectorAll(".formula")].map((node) => node.textContent)).toEqual(["l = a − b"]);
  expect([...document.querySelectorAll("a")].map((link) => link.getAttribute("href"))).toEqual([
    "guide.html#loss",
    "guide.html#intervals"
  ]);
});
