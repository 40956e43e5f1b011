import fc from "fast-check";
import {expect, test} from "vitest";
import {assignShafts, augment, type OrderFits} from "../../lib/rack/assignShafts.ts";
import type {FitState} from "../../lib/rack/shaftFit.ts";

interface Asked {
  order: string;
  wantedBy?: string;
  lacking?: number;
  fits: Record<string, number>;
  maybe?: string[];
}
const asked = ({order, wantedBy, lacking = 1, fits, maybe = []}: Asked): OrderFits => ({
  order: {order, orderedOn: "2026-01-01", lacking, ...(wantedBy !== undefined && {wantedBy})},
  shafts: [
    ...Object.entries(fits).map(([square, fit]) => ({square, fit, state: "fits" as FitState})),
    ...maybe.map((square) => ({square, fit: 0.5, state: "not known" as FitState})),
    {square: "misfit", fit: 0, state: "does not fit" as FitState}
  ]
});
const got = (orders: Asked[]) => assignShafts(orders.map(asked)).given.map(({order, square}) => [order, square]);

test("an order that any shaft would do for leaves the only one that fits another", () => {
  expect(
    got([
      {order: "any", wantedBy: "2026-02-01", fits: {A: 1, B: 0.2}},
      {order: "only A", wantedBy: "2026-03-01", fits: {A: 0.1}}
    ])
  ).toEqual([
    ["any", "B"],
    ["only A", "A"]
  ]);
});

test("of as many that can be served, the earliest promised are; one without a day comes last", () => {
  const rivals = [
    {order: "undated", fits: {A: 1}},
    {order: "late", wantedBy: "2026-03-01", fits: {A: 1}},
    {order: "soon", wantedBy: "2026-02-01", fits: {A: 0.1}}
  ];
  expect(got(rivals)).toEqual([
    ["soon", "A"],
    ["late", undefined],
    ["undated", undefined]
  ]);
});

test("then the best total fit counts, and of alike shafts the one finished first", () => {
  expect(
    got([
      {order: "a", wantedBy: "2026-02-01", fits: {A: 0.9, B: 0.8}},
      {order: "b", wantedBy: "2026-03-01", fits: {A: 0.8, B: 0.1}}
    ])
  ).toEqual([
    ["a", "B"],
    ["b", "A"]
  ]);
  const [old, young] = [
    {square: "Z", fit: 1, state: "fits" as const, finishedOn: 1},
    {square: "A", fit: 1, state: "fits" as const, finishedOn: 2}
  ];
  const one = {...asked({order: "a", fits: {}}), shafts: [young, old]};
  expect(assignShafts([one]).given[0]).toEqual({order: "a", unit: 1, square: "Z", fit: 1});
});

test("what is not known is looked at only when nothing known is left, and takes nothing from who is served", () => {
  const {given, served, toLookAt, owed, totalFit} = assignShafts([
    asked({order: "a", wantedBy: "2026-02-01", lacking: 3, fits: {A: 0.4}, maybe: ["B"]}),
    asked({order: "b", wantedBy: "2026-03-01", fits: {B: 0.3}})
  ]);
  expect(given).toEqual([
    {order: "a", wantedBy: "2026-02-01", unit: 1, square: "A", fit: 0.4},
    {order: "a", wantedBy: "2026-02-01", unit: 2},
    {order: "a", wantedBy: "2026-02-01", unit: 3},
    {order: "b", wantedBy: "2026-03-01", unit: 1, square: "B", fit: 0.3}
  ]);
  expect({served, toLookAt, owed}).toEqual({served: 2, toLookAt: 0, owed: 4});
  expect(totalFit).toBeCloseTo(0.7, 12);
  const alone = assignShafts([asked({order: "a", lacking: 2, fits: {A: 0.4}, maybe: ["B", "C"]})]);
  expect(alone.given[1]).toEqual({order: "a", unit: 2, square: "B", fit: 0.5, look: true});
  expect(alone).toMatchObject({served: 1, toLookAt: 1});
});

test("no orders, no shafts", () => {
  expect(assignShafts([])).toEqual({given: [], owed: 0, served: 0, toLookAt: 0, totalFit: 0});
  expect(assignShafts([asked({order: "a", fits: {}})])).toMatchObject({owed: 1, served: 0});
});

/** Up to seven shafts owed (of orders of one or two) and seven shafts, fits of a tenth each; rows in any order. */
const tables = fc
  .tuple(
    fc.array(
      fc.record({
        day: fc.integer({min: 1, max: 4}),
        lacking: fc.constantFrom(1, 1, 1, 2),
        fits: fc.array(fc.option(fc.integer({min: 0, max: 10}), {nil: undefined, freq: 2}), {
          minLength: 7,
          maxLength: 7
        })
      }),
      {minLength: 1, maxLength: 7}
    ),
    fc.integer({min: 1, max: 7})
  )
  .map(([rows, width]) => {
    let owed = 0;
    return rows.flatMap(({day, lacking, fits}, i) => {
      if (owed + lacking > 7) return [];
      owed += lacking;
      const own = fits.slice(0, width).flatMap((fit, j) => (fit === undefined ? [] : [[`S${j}`, fit / 10] as const]));
      return [asked({order: `O${i}`, wantedBy: `2026-02-0${day}`, lacking, fits: Object.fromEntries(own)})];
    });
  });

/** The shafts owed in the order of promise, each with its fits: by days, then by number, as all came in on one day. */
function owedOf(table: OrderFits[]) {
  const sorted = [...table].sort((a, b) =>
    `${a.order.wantedBy} ${a.order.order}` < `${b.order.wantedBy} ${b.order.order}` ? -1 : 1
  );
  return sorted.flatMap(({order, shafts}) =>
    Array.from(
      {length: order.lacking},
      () => new Map(shafts.flatMap(({square, fit, state}) => (state === "fits" ? [[square, fit]] : [])))
    )
  );
}

/** Every way there is, gone through: most served, then the earliest, then the best total. */
function best(owed: Map<string, number>[]) {
  let found = {served: -1, who: "", total: 0};
  const taken = new Set<string>();
  const visit = (row: number, served: number, who: string, total: number) => {
    if (served + owed.length - row < found.served) return;
    if (row === owed.length) {
      const better =
        served > found.served ||
        (served === found.served && (who > found.who || (who === found.who && total > found.total + 1e-9)));
      if (better) found = {served, who, total};
      return;
    }
    for (const [square, fit] of owed[row]!) {
      if (taken.has(square)) continue;
      taken.add(square);
      visit(row + 1, served + 1, `${who}1`, total + fit);
      taken.delete(square);
    }
    visit(row + 1, served, `${who}0`, total);
  };
  visit(0, 0, "", 0);
  return found;
}

/**
 * The bound of König, Hall and Ore: of each set of shafts owed no more can be served than there are shafts that fit one of it, so at most
 * owed − max over sets (size − shafts that fit one of it). The theorem says that as many can be.
 */
function bound(owed: Map<string, number>[]): number {
  let deficit = 0;
  for (let set = 1; set < 1 << owed.length; set++) {
    const some = owed.filter((_, i) => set & (1 << i));
    deficit = Math.max(deficit, some.length - new Set(some.flatMap((one) => [...one.keys()])).size);
  }
  return owed.length - deficit;
}

const served = ({given}: ReturnType<typeof assignShafts>) => given.map(({square}) => (square ? "1" : "0")).join("");

test("assignShafts equals all ways gone through up to 7 × 7, and serves as many as König's bound allows", () => {
  fc.assert(
    fc.property(tables, (table) => {
      const result = assignShafts(table);
      const owed = owedOf(table);
      const expected = best(owed);
      expect(result.served).toBe(expected.served);
      expect(served(result)).toBe(expected.who);
      expect(result.totalFit).toBeCloseTo(expected.total, 6);
      expect(result.served).toBe(bound(owed));
      const squares = result.given.flatMap(({square}) => square ?? []);
      expect(new Set(squares).size).toBe(squares.length);
      for (const [i, {square, fit}] of result.given.entries()) if (square) expect(owed[i]!.get(square)).toBe(fit);
    }),
    {numRuns: 150}
  );
});

test("assignShafts: the order of rows decides nothing", () => {
  const mixed = tables.chain((table) =>
    fc.tuple(
      fc.constant(table),
      fc
        .shuffledSubarray(table, {minLength: table.length})
        .chain((rows) =>
          fc.tuple(
            ...rows.map((row) =>
              fc.shuffledSubarray([...row.shafts], {minLength: row.shafts.length}).map((shafts) => ({...row, shafts}))
            )
          )
        )
    )
  );
  fc.assert(
    fc.property(mixed, ([table, other]) => {
      const [a, b] = [assignShafts(table), assignShafts(other as OrderFits[])];
      expect(b.given.map(({order, unit}) => [order, unit])).toEqual(a.given.map(({order, unit}) => [order, unit]));
      expect(served(b)).toBe(served(a));
      expect(b.totalFit).toBeCloseTo(a.totalFit, 6);
    }),
    {numRuns: 200}
  );
});

// By hand: 0 holds the first column, 1 the second; a third that wants the first makes 0 take the second and 1 the third.
test("augment makes room along a path, and leaves all as it was where there is none", () => {
  const adjacent = [[0, 1], [1, 2], [0], [0]];
  const holder: (number | undefined)[] = [0, 1, undefined];
  expect(augment(2, adjacent, holder)).toBe(true);
  expect(holder).toEqual([2, 0, 1]);
  expect(augment(3, adjacent, holder)).toBe(false);
  expect(holder).toEqual([2, 0, 1]);
});
