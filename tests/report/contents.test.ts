import {JSDOM} from "jsdom";
import {expect, it} from "vitest";
import {contents} from "../../lib/report/contents.ts";
import {htmlText} from "../../lib/report/html.ts";

it("contents(sections) leads to the main points, each section and the parts it names, in order", () => {
  const text = htmlText(
    contents([
      {id: "loss", heading: "Loss & gain", parts: [{id: "fig", heading: "By week"}]},
      {id: "end", heading: "End"}
    ])
  );
  const links = [...new JSDOM(text).window.document.querySelectorAll("nav a")];
  expect(links.map((link) => [link.getAttribute("href"), link.textContent])).toEqual([
    ["#main-points", "Main points"],
    ["#loss", "Loss & gain"],
    ["#fig", "By week"],
    ["#end", "End"]
  ]);
  expect(links[2]!.closest("ol")!.closest("li")!.firstElementChild).toBe(links[1]);
});
