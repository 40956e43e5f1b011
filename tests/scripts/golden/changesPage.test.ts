import {expect, it} from "vitest";
import {changesPage} from "../../../scripts/golden/changesPage.ts";

const drawing = (x: number) => `<svg><circle cx="${x}"></circle></svg>`;

it("changesPage(changes) shows before, after and both over each other", () => {
  const page = changesPage([
    {name: "a<b>.svg", before: drawing(1), after: drawing(2)},
    {name: "c.svg", after: drawing(3)},
    {name: "d.svg", before: drawing(4)}
  ]);
  expect(page).toContain("a&lt;b&gt;.svg");
  for (const x of [1, 2, 3, 4]) expect(page.split(`cx="${x}"`), `drawing ${x}`).toHaveLength(3);
  expect(page.match(/before: none, it is new/g)).toHaveLength(1);
  expect(page.match(/after: none, it is gone/g)).toHaveLength(1);
});

it("changesPage(changes) needs nothing but itself", () => {
  expect(changesPage([{name: "a.svg", after: drawing(1)}])).not.toMatch(/<(script|link|img|iframe)|https?:|url\(/);
});
