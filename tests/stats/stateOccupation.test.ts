import fc from "fast-check";
import {expect, test} from "vitest";
import {aalenJohansen, incidenceAt, survivalAt} from "../../lib/stats/aalenJohansen.ts";
import {type Path, stateOccupation} from "../../lib/stats/stateOccupation.ts";
import {shuffled} from "./arbitrary.ts";

const states = ["square", "rough", "finished", "warp"];

// By hand: of four, one warps at 2 (1/4), one is turned at 2, one is last seen at 3; at 4 the one left in square is
// turned.
const four: Path[] = [
  {
    moves: [
      {state: "square", at: 0},
      {state: "warp", at: 2}
    ],
    until: 2
  },
  {
    moves: [
      {state: "square", at: 0},
      {state: "rough", at: 2},
      {state: "finished", at: 5}
    ],
    until: 6
  },
  {moves: [{state: "square", at: 0}], until: 3},
  {
    moves: [
      {state: "square", at: 0},
      {state: "rough", at: 4}
    ],
    until: 6
  }
];

test("stateOccupation of four pieces, worked by hand", () => {
  const {times, occupation} = stateOccupation(four, {states});
  expect(times).toEqual([0, 2, 4, 5]);
  expect(occupation.square).toEqual([1, 0.5, 0, 0]);
  expect(occupation.rough).toEqual([0, 0.25, 0.75, 0.375]);
  expect(occupation.finished).toEqual([0, 0, 0, 0.375]);
  expect(occupation.warp).toEqual([0, 0.25, 0.25, 0.25]);
});

test("stateOccupation at given times steps at the move, in the order asked", () => {
  const {times, occupation} = stateOccupation(four, {states, at: [6, 1.9, 2]});
  expect(times).toEqual([6, 1.9, 2]);
  expect(occupation.square).toEqual([0, 1, 0.5]);
});

test("two moves at one time go straight to the last: no time was spent between", () => {
  const twice: Path[] = [
    {
      moves: [
        {state: "square", at: 0},
        {state: "rough", at: 3},
        {state: "warp", at: 3}
      ],
      until: 3
    },
    {
      moves: [
        {state: "square", at: 0},
        {state: "rough", at: 0}
      ],
      until: 5
    }
  ];
  const {times, occupation} = stateOccupation(twice, {states});
  expect(times).toEqual([0, 3]);
  expect(occupation).toEqual({square: [0.5, 0], rough: [0.5, 0.5], finished: [0, 0], warp: [0, 0.5]});
});

const fate = fc.record({
  turned: fc.option(fc.integer({min: 0, max: 6})),
  rest: fc.integer({min: 0, max: 6}),
  end: fc.constantFrom("finished", "warp", undefined),
  until: fc.integer({min: 0, max: 9})
});

/** A way through the states, cut at `until` or, without cut, followed to its end. */
const path = fate.map(({turned, rest, end, until}) => {
  const moves = [{state: "square", at: 0}];
  if (turned !== null) moves.push({state: "rough", at: turned});
  if (end) moves.push({state: end, at: (turned ?? 0) + rest});
  const seen = moves.filter((move) => move.at <= until);
  return {cut: {moves: seen, until}, whole: {moves, until: 20}};
});

test("stateOccupation adds up to 1 everywhere, none below 0, in any order of pieces", () => {
  fc.assert(
    fc.property(fc.array(path, {minLength: 1, maxLength: 30}), fc.nat(), (paths, seed) => {
      const cut = paths.map((way) => way.cut);
      const {times, occupation} = stateOccupation(cut, {states});
      times.forEach((_, row) => {
        const shares = states.map((state) => occupation[state]![row]!);
        expect(shares.reduce((a, b) => a + b)).toBeCloseTo(1, 10);
        expect(Math.min(...shares)).toBeGreaterThanOrEqual(0);
      });
      const again = stateOccupation(shuffled(cut, seed), {states});
      for (const state of states)
        expect(again.occupation[state]).toEqual(occupation[state]!.map((x) => expect.closeTo(x, 12)));
    })
  );
});

test("stateOccupation of pieces all followed to the end is the plain share in each state", () => {
  fc.assert(
    fc.property(fc.array(path, {minLength: 1, maxLength: 30}), (paths) => {
      const whole = paths.map((way) => way.whole);
      const at = [0, 1, 2, 3, 5, 8, 13, 20];
      const {occupation} = stateOccupation(whole, {states, at});
      at.forEach((time, row) => {
        for (const state of states) {
          const there = whole.filter(({moves}) => moves.findLast((move) => move.at <= time)!.state === state);
          expect(occupation[state]![row]).toBeCloseTo(there.length / whole.length, 10);
        }
      });
    })
  );
});

test("stateOccupation with one state to leave is aalenJohansen", () => {
  const direct = fc.record({exit: fc.integer({min: 0, max: 9}), cause: fc.constantFrom("finished", "warp", undefined)});
  fc.assert(
    fc.property(fc.array(direct, {minLength: 1, maxLength: 30}), (pieces) => {
      const curve = aalenJohansen(pieces.map(({exit, cause}) => (cause ? {exit, cause} : {exit})));
      const paths = pieces.map(({exit, cause}) => ({
        moves: [{state: "square", at: 0}, ...(cause ? [{state: cause, at: exit}] : [])],
        until: exit
      }));
      const {times, occupation} = stateOccupation(paths, {states});
      times.forEach((time, row) => {
        expect(occupation.square![row]).toBeCloseTo(survivalAt(curve, time), 10);
        expect(occupation.warp![row]).toBeCloseTo(incidenceAt(curve, "warp", time), 10);
      });
    })
  );
});

test("stateOccupation of nothing has no times", () => {
  expect(stateOccupation([], {states: ["square"]})).toEqual({times: [], occupation: {square: []}});
});

test("stateOccupation refuses unknown states, moves back and times not observed", () => {
  const way = (...moves: {state: string; at: number}[]) => [{moves, until: 9}];
  const ask = (paths: Path[], at?: number[]) => () => stateOccupation(paths, {states, ...(at && {at})});
  expect(ask(way({state: "sqare", at: 0}))).toThrow('state must be one of square, rough, finished, warp, got "sqare".');
  expect(ask(way({state: "rough", at: 0}, {state: "square", at: 1}))).toThrow('must be later each time, got "square".');
  expect(ask(way({state: "square", at: 2}, {state: "rough", at: 1}))).toThrow("at must be in order of time, got 1.");
  expect(ask(way({state: "square", at: 10}))).toThrow("until must be 10 or later, got 9.");
  expect(ask(way())).toThrow("moves must be at least the entry, got 0.");
  expect(ask(way({state: "square", at: 0}), [10])).toThrow("at must be observed, from 0 to 9, got 10.");
});
