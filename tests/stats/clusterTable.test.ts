import fc from "fast-check";
import {expect, test} from "vitest";
import {clusterTable, endedByCause, pooledEvents} from "../../lib/stats/clusterTable.ts";
import {eventTable} from "../../lib/stats/eventTable.ts";
import {spell} from "./arbitrary.ts";

const anyClusters = fc.array(fc.array(spell, {maxLength: 8}), {minLength: 1, maxLength: 6});
const drawn = anyClusters.chain((clusters) =>
  fc.tuple(fc.constant(clusters), fc.array(fc.nat(3), {minLength: clusters.length, maxLength: clusters.length}))
);

test("clusterTable counts as eventTable does of the spells repeated so often", () => {
  fc.assert(
    fc.property(drawn, ([clusters, weights]) => {
      const repeated = eventTable(clusters.flatMap((own, i) => Array.from({length: weights[i]!}, () => own).flat()));
      const table = clusterTable(clusters);
      const {change, events} = table.sums(weights);
      let atRisk = 0;
      table.times.forEach((time, row) => {
        atRisk += change[row]!;
        const other = repeated.times.indexOf(time);
        table.causes.forEach((cause, k) => {
          expect(events[row * table.causes.length + k]).toBe(repeated.events[cause]?.[other] ?? 0);
        });
        if (other >= 0) expect(atRisk).toBe(repeated.atRisk[other]);
      });
    })
  );
});

test("clusterTable: clusters taken off the sum of all leave what weights of 0 leave, one after the other", () => {
  fc.assert(
    fc.property(anyClusters, fc.array(fc.nat(5), {minLength: 1, maxLength: 5}), (clusters, picked) => {
      const [table, other] = [clusterTable(clusters), clusterTable(clusters)];
      for (const one of picked) {
        const out = clusters.flatMap((_, i) => ((i + one) % 3 === 0 ? [i] : []));
        const weights = clusters.map((_, i) => (out.includes(i) ? 0 : 1));
        const taken = structuredClone(table.sums(weights, out));
        expect(taken).toEqual(other.sums(weights));
      }
    })
  );
});

test("clusterTable: a spell that counts for three is three spells", () => {
  const one = clusterTable([
    [
      {exit: 4, cause: "warp", count: 3},
      {exit: 2, cause: "knot"},
      {exit: 9, count: 2}
    ]
  ]);
  const many = clusterTable([
    [
      ...Array.from({length: 3}, () => ({exit: 4, cause: "warp"})),
      {exit: 2, cause: "knot"},
      ...Array.from({length: 2}, () => ({exit: 9}))
    ]
  ]);
  expect(one.sums([1])).toEqual(many.sums([1]));
});

test("clusterTable refuses impossible spells, unlike numbers of weights and a negative one", () => {
  expect(() => clusterTable([[{exit: -1}]])).toThrow("clusterTable: exit must be a time of 0 or more, got -1.");
  expect(() => clusterTable([[{exit: 1, count: 0}]])).toThrow(
    "clusterTable: count must be a whole number from 1, got 0."
  );
  expect(() => clusterTable([[], []]).sums([1])).toThrow("clusterTable: weights must be 2 numbers, got 1.");
  expect(() => clusterTable([[]]).sums([-1])).toThrow("clusterTable: weights must be 0 or more, got -1.");
});

test("pooledEvents and endedByCause: all clusters together, as eventTable has them", () => {
  fc.assert(
    fc.property(anyClusters, (clusters) => {
      const whole = eventTable(clusters.flat());
      expect(pooledEvents(clusterTable(clusters))).toEqual(whole);
      const totals = whole.causes.map((cause) => [cause, whole.events[cause]!.reduce((a, b) => a + b, 0)]);
      expect([...endedByCause(clusterTable(clusters))]).toEqual(totals);
    })
  );
});

test("clusterTable.of some clusters: pooled it is the table of these alone", () => {
  fc.assert(
    fc.property(anyClusters, (clusters) => {
      const some = clusters.flatMap((_, i) => (i % 2 === 0 ? [i] : []));
      expect(pooledEvents(clusterTable(clusters).of(some))).toEqual(eventTable(some.flatMap((i) => clusters[i]!)));
    })
  );
});
