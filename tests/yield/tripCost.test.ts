import {expect, test} from "vitest";
import {shaftCost} from "../../lib/yield/shaftCost.ts";
import {tripCost} from "../../lib/yield/tripCost.ts";
import {makeHistories, makePiece} from "../pieces.ts";

// Four squares of a lot, two usable shafts: half. By hand: 6 hours and 90 miles for 8 squares, so 4 shafts: 1.5 hours each; 90 miles for 4 squares, 2 shafts: 45.
const lot = (name: string) => [
  makePiece({lot: name, turned: [60, 90, 120, 150]}),
  makePiece({lot: name, turned: [60, 90, 120, 150]}),
  makePiece({lot: name, discarded: 20}),
  makePiece({lot: name, discarded: 20})
];
const histories = makeHistories([...lot("A"), ...lot("B"), ...lot("C")], {
  asOf: 200,
  lots: {A: {tripHours: 4, tripMiles: 90}, B: {tripHours: 2}}
});

test("tripCost is hours and miles over the usable shafts of the lots for which they were written down", () => {
  expect(tripCost(histories, shaftCost(histories))).toEqual([
    {
      supplier: "Low Fold Sawmill",
      lotsWithHours: 2,
      lotsWithMiles: 1,
      hours: 6,
      miles: 90,
      hoursPerShaft: 1.5,
      milesPerShaft: 45
    }
  ]);
});

test("tripCost has no row where nothing was written down, and no share where no shaft can be expected", () => {
  expect(tripCost(makeHistories(lot("A"), {asOf: 200}), [])).toEqual([]);
  const [row] = tripCost(histories, []);
  expect(row).toMatchObject({hours: 6, miles: 90});
  expect(row).not.toHaveProperty("hoursPerShaft");
});

test("tripCost leaves hours of lots without a known share out of those for each shaft", () => {
  const [known] = shaftCost(histories);
  const [row] = tripCost(
    {lots: [...histories.lots, {...histories.lots[0]!, lot: "D", species: "maple", tripHours: 6}]},
    [known!]
  );
  expect(row).toMatchObject({hours: 12, hoursPerShaft: 1.5});
});
