import {DataFrame, merge} from "danfojs";
import fc from "fast-check";
import {expect, test} from "vitest";
import {frame, rowsOf} from "../../../scripts/notebook/frame.ts";
import {join} from "../../../scripts/notebook/frameJoin.ts";

const squares = [
  {id: "a1", lot: "L2", massG: 400},
  {id: "a2", lot: "L1", massG: 410},
  {id: "a3", lot: undefined, massG: 420},
  {id: "a4", lot: "L9", massG: 430},
  {id: "a5", lot: "L2", massG: 440}
];
const lots = [
  {lot: "L1", supplier: "Fell", bought: "2026-01-05"},
  {lot: "L2", supplier: "Beck", bought: undefined},
  {lot: undefined, supplier: "nobody", bought: undefined}
];

test("an inner join by hand: in the order of the left, a missing key finds nothing", async () => {
  const df = await join(await frame(squares), await frame(lots), ["lot"], "inner");
  expect(df).toBeInstanceOf(DataFrame);
  expect(rowsOf(df)).toStrictEqual([
    {id: "a1", lot: "L2", massG: 400, supplier: "Beck", bought: undefined},
    {id: "a2", lot: "L1", massG: 410, supplier: "Fell", bought: "2026-01-05"},
    {id: "a5", lot: "L2", massG: 440, supplier: "Beck", bought: undefined}
  ]);
});

test("a left join keeps every row of the left, its new columns missing", async () => {
  const rows = rowsOf(await join(await frame(squares), await frame(lots), ["lot"], "left"));
  expect(rows.map(({id, supplier}) => [id, supplier])).toEqual([
    ["a1", "Beck"],
    ["a2", "Fell"],
    ["a3", undefined],
    ["a4", undefined],
    ["a5", "Beck"]
  ]);
});

test("a lot finds all its squares, in their order", async () => {
  const rows = rowsOf(await join(await frame(lots), await frame(squares), ["lot"], "left"));
  expect(rows.map(({lot, id}) => [lot, id])).toEqual([
    ["L1", "a2"],
    ["L2", "a1"],
    ["L2", "a5"],
    [undefined, undefined]
  ]);
});

test("keys of several columns stay apart whatever they hold", async () => {
  const left = await frame([
    {a: "x_y", b: "z", n: 1},
    {a: "x", b: "y_z", n: 2}
  ]);
  const right = await frame([{a: "x", b: "y_z", found: true}]);
  expect(rowsOf(await join(left, right, ["a", "b"], "inner"))).toEqual([{a: "x", b: "y_z", n: 2, found: true}]);
});

test("a frame without rows finds nothing and is found by nothing", async () => {
  const [some, none] = [await frame(squares), await frame<(typeof lots)[number]>([])];
  expect(rowsOf(await join(some, none, ["lot"], "left"))).toEqual(squares);
  expect(rowsOf(await join(some, none, ["lot"], "inner"))).toEqual([]);
  expect(rowsOf(await join(none, some, ["lot"], "left"))).toEqual([]);
});

test("joins agree with every left row looked up among all right rows", async () => {
  const key = fc.option(fc.integer({min: 0, max: 5}), {nil: undefined});
  const lefts = fc.array(fc.record({key, x: fc.integer()}), {minLength: 1, maxLength: 20});
  const rights = fc.uniqueArray(fc.record({key, y: fc.integer()}), {selector: (row) => row.key, minLength: 1});
  await fc.assert(
    fc.asyncProperty(lefts, rights, async (left, right) => {
      const [l, r] = [await frame(left), await frame(right)];
      const found = left.map((row) => ({
        ...row,
        y: row.key === undefined ? undefined : right.find((other) => other.key === row.key)?.y
      }));
      expect(rowsOf(await join(l, r, ["key"], "left"))).toEqual(found);
      expect(rowsOf(await join(l, r, ["key"], "inner"))).toEqual(found.filter(({y}) => y !== undefined));
    })
  );
});

test("what would join wrongly is refused", async () => {
  const left = await frame(squares);
  const twice = await frame([...lots, ...lots]);
  await expect(join(left, twice, ["lot"], "left")).rejects.toThrow(
    'join: on must be repeated in one frame at most (group one first, or join on more columns), got "L2".'
  );
  await expect(join(left, await frame([{lot: 2, supplier: "Beck"}]), ["lot"], "left")).rejects.toThrow(
    'join: lot on the right must be a string as on the left (convert one of them), got "number".'
  );
  await expect(join(left, await frame([{lot: "L2", massG: 9000}]), ["lot"], "left")).rejects.toThrow(
    "join: column massG must be the only one of that name (rename one first), got 2."
  );
  await expect(join(left, await frame(lots), ["supplier" as "lot"], "left")).rejects.toThrow(
    'join: left: column must be one of id, lot, massG, got "supplier".'
  );
  await expect(join(left, await frame(lots), [], "left")).rejects.toThrow("join: on must be one column or more, got");
});

test("the compiler knows the columns of a join, and that those of a left join may be missing", async () => {
  const right = await frame([{lot: "L1", lengthMm: 760}]);
  const inner: number = rowsOf(await join(await frame(squares), right, ["lot"], "inner"))[0]!.lengthMm;
  const left: number | undefined = rowsOf(await join(await frame(squares), right, ["lot"], "left"))[0]!.lengthMm;
  // @ts-expect-error: not a column of both
  await expect(join(await frame(squares), right, ["id"], "left")).rejects.toThrow(RangeError);
  expect([inner, left]).toEqual([760, undefined]);
});

// danfo 1.2.0 as it is. When one of these fails, danfo is mended there and frameJoin.ts may use it.

const merged = (left: object, right: object, on: string[], how: "left" | "inner") =>
  merge({left: new DataFrame(left), right: new DataFrame(right), on, how});

test("danfo's merge runs keys together, takes text for numbers and joins missing to missing", () => {
  expect(merged({a: ["x_y"], b: ["z"], n: [1]}, {a: ["x"], b: ["y_z"], m: [2]}, ["a", "b"], "inner").values).toEqual([
    ["x_y", "z", 1, 2]
  ]);
  expect(merged({key: ["1"], n: [1]}, {key: [1], m: [2]}, ["key"], "inner").values).toEqual([["1", 1, 2]]);
  expect(merged({key: [Number.NaN], n: [1]}, {key: [Number.NaN], m: [2]}, ["key"], "inner").shape).toEqual([1, 3]);
});

test("danfo's merge loses the order of the rows and the names of the columns", () => {
  const left = {key: ["b", "a", "b"], n: [1, 2, 3]};
  expect(merged(left, {key: ["a"], m: [5]}, ["key"], "left").column("n").values).toEqual([1, 3, 2]);
  expect(merged({key: [10, 9], n: [1, 2]}, {key: [9], m: [5]}, ["key"], "left").column("n").values).toEqual([2, 1]);
  expect(merged(left, {key: ["a"], n: [5]}, ["key"], "left").columns).toEqual(["key", "n", "n_1"]);
});
