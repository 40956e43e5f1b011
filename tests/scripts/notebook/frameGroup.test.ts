import {DataFrame} from "danfojs";
import fc from "fast-check";
import {expect, test} from "vitest";
import {densityBySupplier} from "../../../lib/density/densityBySupplier.ts";
import {frame, rowsOf} from "../../../scripts/notebook/frame.ts";
import {groupBy, pivot} from "../../../scripts/notebook/frameGroup.ts";
import {now} from "../../recovery/sample.ts";

interface Square {
  species: string;
  supplier?: string;
  day: string;
  massG?: number;
}

const squares: Square[] = [
  {species: "maple", supplier: "Fell", day: "2026-03-02", massG: 500},
  {species: "ash", supplier: "Fell", day: "2026-02-11", massG: 400},
  {species: "ash", supplier: "Beck", day: "2026-01-05", massG: 410},
  {species: "ash", day: "2026-04-01"}
];

test("groupBy by hand: in order of first appearance, missing values left out", async () => {
  const bySpecies = await groupBy(await frame(squares), ["species"], {
    weighed: ["massG", "count"],
    sumG: ["massG", "sum"],
    meanMassG: ["massG", "mean"],
    sdMassG: ["massG", "sd"],
    lightestG: ["massG", "min"],
    heaviestG: ["massG", "max"],
    firstDay: ["day", "min"],
    lastDay: ["day", "max"]
  });
  expect(bySpecies).toBeInstanceOf(DataFrame);
  expect(rowsOf(bySpecies)).toStrictEqual([
    {
      species: "maple",
      weighed: 1,
      sumG: 500,
      meanMassG: 500,
      sdMassG: undefined,
      lightestG: 500,
      heaviestG: 500,
      firstDay: "2026-03-02",
      lastDay: "2026-03-02"
    },
    {
      species: "ash",
      weighed: 2,
      sumG: 810,
      meanMassG: 405,
      sdMassG: Math.sqrt(50),
      lightestG: 400,
      heaviestG: 410,
      firstDay: "2026-01-05",
      lastDay: "2026-04-01"
    }
  ]);
});

test("a missing key is a group of its own, in which nothing may be there to measure", async () => {
  const df = await groupBy(await frame(squares), ["supplier"], {
    weighed: ["massG", "count"],
    sumG: ["massG", "sum"],
    meanMassG: ["massG", "mean"],
    lightestG: ["massG", "min"]
  });
  expect(rowsOf(df)).toStrictEqual([
    {supplier: "Fell", weighed: 2, sumG: 900, meanMassG: 450, lightestG: 400},
    {supplier: "Beck", weighed: 1, sumG: 410, meanMassG: 410, lightestG: 410},
    {supplier: undefined, weighed: 0, sumG: 0, meanMassG: undefined, lightestG: undefined}
  ]);
});

test("keys of several columns stay apart whatever they hold; without keys all rows are one group", async () => {
  const df = await frame([
    {a: "x-y", b: "z", n: 1},
    {a: "x", b: "y-z", n: 10},
    {a: 'x","y', b: "z", n: 100},
    {a: "x", b: 'y","z', n: 1000},
    {a: "undefined", b: "", n: 10_000},
    {a: undefined, b: "", n: 100_000},
    {a: "constructor", b: "__proto__", n: 1_000_000}
  ]);
  expect(rowsOf(await groupBy(df, ["a", "b"], {n: ["n", "sum"]}))).toStrictEqual(rowsOf(df));
  expect(rowsOf(await groupBy(df, [], {total: ["n", "sum"]}))).toEqual([{total: 1_111_111}]);
});

test("numeric keys keep their order of appearance and their type", async () => {
  const df = await frame([10, 9, 10, Number.POSITIVE_INFINITY].map((year) => ({year, n: 1})));
  expect(rowsOf(await groupBy(df, ["year"], {n: ["n", "sum"]}))).toEqual([
    {year: 10, n: 2},
    {year: 9, n: 1},
    {year: Number.POSITIVE_INFINITY, n: 1}
  ]);
});

test("no rows make no groups, with the columns named", async () => {
  const none = await frame<Square>([]);
  const df = await groupBy(none, ["species"], {meanMassG: ["massG", "mean"]});
  expect([df.columns, rowsOf(df)]).toEqual([["species", "meanMassG"], []]);
  expect(rowsOf(await pivot(none, {rows: ["species"], columns: "supplier", values: "massG", how: "sum"}))).toEqual([]);
});

const weighed = fc.array(
  fc.record({
    species: fc.constantFrom("ash", "maple", "hornbeam"),
    stage: fc.constantFrom("rough", "turned"),
    massG: fc.integer({min: 3000, max: 7000}).map((tenths) => tenths / 10)
  }),
  {minLength: 1, maxLength: 60}
);

test("groupBy agrees with danfo's own where that has no trap: nothing missing, two or more in a group, plain keys", async () => {
  await fc.assert(
    fc.asyncProperty(weighed, async (half) => {
      const rows = [...half, ...half.map((row) => ({...row, massG: row.massG + 1}))];
      const ours = await groupBy(await frame(rows), ["species", "stage"], {
        meanG: ["massG", "mean"],
        sumG: ["massG", "sum"],
        pieces: ["massG", "count"],
        lightestG: ["massG", "min"],
        heaviestG: ["massG", "max"],
        sdG: ["massG", "sd"]
      });
      const {species, stage, massG} = columnsOf(rows);
      const theirs = new DataFrame({species, stage, massG})
        .groupby(["species", "stage"])
        .agg({massG: ["mean", "sum", "count", "min", "max", "std"]});
      const cells = theirs.values as (string | number)[][];
      const near = cells.map((row) => row.map((cell) => (typeof cell === "number" ? expect.closeTo(cell, 8) : cell)));
      // In any order, as danfo gathers the groups by their first key.
      expect(ours.values).toHaveLength(near.length);
      expect(ours.values).toEqual(expect.arrayContaining(near));
    })
  );
});

test("the sample book's pieces, grouped, are what densityBySupplier says; its rows make a frame and come back", async () => {
  const pieces = now.pieces.map(({species, supplier, densityAt12KgM3}) => ({species, supplier, densityAt12KgM3}));
  const ours = await groupBy(await frame(pieces), ["species", "supplier"], {
    squares: ["densityAt12KgM3", "count"],
    meanKgM3: ["densityAt12KgM3", "mean"],
    sdKgM3: ["densityAt12KgM3", "sd"],
    lowestKgM3: ["densityAt12KgM3", "min"],
    highestKgM3: ["densityAt12KgM3", "max"]
  });
  const theirs = densityBySupplier(now);
  const part = theirs.map(({species, supplier, squares, meanKgM3, sdKgM3, lowestKgM3, highestKgM3}) => {
    return {species, supplier, squares, meanKgM3, sdKgM3, lowestKgM3, highestKgM3};
  });
  const sorted = (rows: {species: string; supplier: string}[]) =>
    rows.toSorted((a, b) => (a.species + a.supplier < b.species + b.supplier ? -1 : 1));
  expect(part.length).toBeGreaterThan(5);
  expect(sorted(rowsOf(ours))).toEqual(sorted(part));
  expect(rowsOf(await frame(theirs))).toEqual(theirs);
});

test("pivot by hand: rows and columns in order of first appearance, a pair that does not occur is missing", async () => {
  const df = await frame(squares.filter(({supplier}) => supplier !== undefined));
  const means = await pivot(df, {rows: ["species"], columns: "supplier", values: "massG", how: "mean"});
  expect(means).toBeInstanceOf(DataFrame);
  expect(means.columns).toEqual(["species", "Fell", "Beck"]);
  expect(rowsOf(means)).toStrictEqual([
    {species: "maple", Fell: 500, Beck: undefined},
    {species: "ash", Fell: 400, Beck: 410}
  ]);
});

test("a pivot counts and sums nothing to 0, and has the least text too", async () => {
  const df = await frame(squares);
  const of = {rows: ["supplier"], columns: "species"} as const;
  expect(rowsOf(await pivot(df, {...of, values: "massG", how: "count"}))).toEqual([
    {supplier: "Fell", maple: 1, ash: 1},
    {supplier: "Beck", maple: 0, ash: 1},
    {supplier: undefined, maple: 0, ash: 0}
  ]);
  const days: (string | undefined)[] = rowsOf(await pivot(df, {...of, values: "day", how: "min"})).map(({ash}) => ash);
  expect(days).toEqual(["2026-02-11", "2026-01-05", "2026-04-01"]);
});

test("columns made of numbers keep their order of appearance in the frame", async () => {
  const years = [2026, 2025].map((year) => ({species: "ash", year, pieces: year}));
  const df = await pivot(await frame(years), {rows: ["species"], columns: "year", values: "pieces", how: "sum"});
  expect(df.columns).toEqual(["species", "2026", "2025"]);
  expect(df.values).toEqual([["ash", 2026, 2025]]);
});

test("a pivot holds what groupBy over rows and columns holds, and nothing else", async () => {
  await fc.assert(
    fc.asyncProperty(weighed, async (rows) => {
      const df = await frame(rows);
      const wide = rowsOf(await pivot(df, {rows: ["species"], columns: "stage", values: "massG", how: "sum"}));
      const long = rowsOf(await groupBy(df, ["species", "stage"], {sumG: ["massG", "sum"]}));
      for (const {species, stage, sumG} of long) {
        expect(wide.find((row) => row.species === species)![stage]).toBe(sumG);
      }
      const {stage, species} = columnsOf(rows);
      const cells = wide.flatMap((row) => Object.values(row).filter((cell) => typeof cell === "number" && cell > 0));
      expect(cells).toHaveLength(long.length);
      expect(wide.map((row) => Object.keys(row))).toEqual(
        [...new Set(species)].map(() => ["species", ...new Set(stage)])
      );
    })
  );
});

/** As from a caller without the compiler. */
const anyColumn = (name: string) => name as "massG";

test("what cannot be answered is refused, with the name of the measure or column", async () => {
  const df = await frame(squares);
  await expect(groupBy(df, ["species"], {meanDay: ["day", "mean"]})).rejects.toThrow(
    'groupBy: meanDay must be the mean of a column of numbers, and day holds others, got "2026-03-02".'
  );
  await expect(groupBy(df, ["species"], {sumG: [anyColumn("mass"), "sum"]})).rejects.toThrow(
    'groupBy: column must be one of species, supplier, day, massG, got "mass".'
  );
  await expect(groupBy(df, ["species"], {species: ["massG", "sum"]})).rejects.toThrow(
    "groupBy: column species must be the only one of that name (rename one first), got 2."
  );
  await expect(pivot(df, {rows: ["species"], columns: "supplier", values: "massG", how: "sum"})).rejects.toThrow(
    "pivot: supplier of row 3 must be there to name a column (give missing ones a name first), got undefined."
  );
  await expect(
    pivot(await frame([{species: "ash", word: "mean", n: 1}]), {
      rows: ["species"],
      columns: "word",
      values: "n",
      how: "sum"
    })
  ).rejects.toThrow('pivot: column must be no member of a DataFrame (rename it: the unit helps), got "mean".');
});

test("the compiler knows the columns of the result", async () => {
  const df = await groupBy(await frame(squares), ["species"], {meanMassG: ["massG", "mean"], firstDay: ["day", "min"]});
  const [first] = rowsOf(df);
  const species: string = first!.species;
  const firstDay: string = first!.firstDay;
  // @ts-expect-error: may be missing, as massG may
  const meanMassG: number = first!.meanMassG;
  // @ts-expect-error: no longer there
  first!.day;
  // @ts-expect-error: no such column
  await expect(groupBy(df, ["day"], {})).rejects.toThrow(RangeError);
  expect([species, firstDay, meanMassG]).toEqual(["maple", "2026-03-02", 500]);
});

// danfo 1.2.0 as it is. When one of these fails, danfo is mended there and frameGroup.ts may use it.

const grouped = (data: object, keys: string[]) => new DataFrame(data).groupby(keys).col(["n"]);

test("danfo's groups: a missing value makes the mean NaN, is counted, and the deviation of one value is 0", () => {
  const gap = {key: ["a", "a"], n: [1, Number.NaN]};
  expect(grouped(gap, ["key"]).mean().values).toEqual([["a", Number.NaN]]);
  expect(grouped(gap, ["key"]).count().values).toEqual([["a", 2]]);
  expect(grouped({key: ["a"], n: [1]}, ["key"]).std().values).toEqual([["a", 0]]);
});

test("danfo's groups: keys run together, numeric ones are sorted, some names throw, and so does a frame without rows", () => {
  const dashes = {a: ["x-y", "x"], b: ["z", "y-z"], n: [1, 10]};
  expect(grouped(dashes, ["a", "b"]).sum().values).toEqual([["x-y", "z", 11]]);
  expect(grouped({key: [10, 9], n: [1, 2]}, ["key"]).sum().values).toEqual([
    [9, 2],
    [10, 1]
  ]);
  expect(() => grouped({key: ["constructor"], n: [1]}, ["key"])).toThrow("push");
  const none = new DataFrame([], {columns: ["key", "n"], dtypes: ["string", "float32"]});
  expect(() => none.groupby(["key"]).col(["n"]).sum()).toThrow("length");
});

test("danfo has no pivot", () => {
  expect(["pivot", "pivotTable", "pivot_table"].filter((name) => name in new DataFrame([]))).toEqual([]);
});

function columnsOf(rows: {species: string; stage: string; massG: number}[]) {
  return {
    species: rows.map(({species}) => species),
    stage: rows.map(({stage}) => stage),
    massG: rows.map(({massG}) => massG)
  };
}
