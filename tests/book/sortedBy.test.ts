import fc from "fast-check";
import {expect, test} from "vitest";
import {sortedBy} from "../../lib/book/sortedBy.ts";

test("sortedBy: by key, those of one key in the order they had", () => {
  const keys = Int32Array.of(20_000, -5, 20_000, 7, -5);
  expect([...sortedBy(Int32Array.of(2, 4, 0, 1), keys)]).toEqual([4, 1, 2, 0]);
  expect([...sortedBy(new Int32Array(0), keys)]).toEqual([]);
});

test("sortedBy(places at random): what the sorting of lists gives, which keeps those alike in order too", () => {
  fc.assert(
    fc.property(fc.array(fc.integer({min: -50, max: 50})), (keys) => {
      const places = keys.map((_, place) => keys.length - 1 - place);
      const wanted = places.toSorted((a, b) => keys[a]! - keys[b]!);
      expect([...sortedBy(Int32Array.from(places), Int32Array.from(keys))]).toEqual(wanted);
    })
  );
});
