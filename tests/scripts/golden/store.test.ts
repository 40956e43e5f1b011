import {readdirSync} from "node:fs";
import {join} from "node:path";
import {expect, it} from "vitest";
import {accept, changes} from "../../../scripts/golden/store.ts";
import {folderOf} from "../run.ts";

const drawing = (x: number) => `<svg><circle cx="${x}"></circle></svg>`;

it("changes(drawings, folder) names what is new, gone and changed; accept(changes, folder) makes them golden", () => {
  const folder = join(folderOf({}), "golden");
  const first = new Map([
    ["a.svg", drawing(1)],
    ["b.svg", drawing(2)]
  ]);
  expect(changes(first, folder)).toEqual([
    {name: "a.svg", after: drawing(1)},
    {name: "b.svg", after: drawing(2)}
  ]);
  accept(changes(first, folder), folder);
  expect(changes(first, folder)).toEqual([]);
  const next = new Map([
    ["a.svg", drawing(9)],
    ["c.svg", drawing(3)]
  ]);
  const changed = changes(next, folder);
  expect(changed).toEqual([
    {name: "a.svg", before: drawing(1), after: drawing(9)},
    {name: "b.svg", before: drawing(2)},
    {name: "c.svg", after: drawing(3)}
  ]);
  accept(changed, folder);
  expect(readdirSync(folder).sort()).toEqual(["a.svg", "c.svg"]);
  expect(changes(next, folder)).toEqual([]);
});
