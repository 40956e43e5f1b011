import {expect, test} from "vitest";
import {stateOccupation} from "../../lib/stats/stateOccupation.ts";
import {expectClose} from "./close.ts";

// Published: none; R only. R 4.2.2, survival 3.5-3. Each path becomes rows (id, t0, t1, to, from), one for each move
// and, unless it ended finished or discarded, one to "censor" at the end:
//   rows$to <- factor(rows$to, c("censor", "square", "rough", "finished", "discarded"))
//   f <- survfit(Surv(t0, t1, to) ~ 1, data = rows, id = id, istate = from); f$pstate
// Tolerance 1e-10: R was printed to 12 decimals.
const states = ["square", "rough", "finished", "discarded"];

/** "square 0, rough 3, finished 7 | 10": moves, then the last time seen. */
function path(text: string) {
  const [moves, until] = text.split(" | ");
  return {
    moves: moves!.split(", ").map((move) => ({state: move.split(" ")[0]!, at: Number(move.split(" ")[1])})),
    until: Number(until)
  };
}

const together = [
  "square 0, rough 3, finished 7 | 10",
  "square 0, rough 3, discarded 5 | 5",
  "square 0, discarded 3 | 3",
  "square 0 | 3",
  "square 0, rough 4 | 6",
  "square 0, rough 4, finished 8 | 9",
  "square 0 | 8",
  "square 0, finished 6 | 6",
  "rough 0, finished 5 | 5",
  "rough 0 | 4",
  "rough 0, discarded 8 | 8",
  "square 0, rough 5, finished 9 | 12"
].map(path);

test("stateOccupation of twelve pieces, two kinds of start, agrees with R", () => {
  const {times, occupation} = stateOccupation(together, {states});
  expect(times).toEqual([0, 3, 4, 5, 6, 7, 8, 9]);
  expectClose(occupation.square, [0.75, 0.5, 0.3, 0.2, 0.1, 0.1, 0.1, 0.1], 1e-10);
  const rough = [
    0.25, 0.416666666667, 0.616666666667, 0.511111111111, 0.511111111111, 0.383333333333, 0.127777777778, 0
  ];
  expectClose(occupation.rough, rough, 1e-10);
  const finished = [0, 0, 0, 0.102777777778, 0.202777777778, 0.330555555556, 0.458333333333, 0.586111111111];
  expectClose(occupation.finished, finished, 1e-10);
  const discarded = [
    0, 0.083333333333, 0.083333333333, 0.186111111111, 0.186111111111, 0.186111111111, 0.313888888889, 0.313888888889
  ];
  expectClose(occupation.discarded, discarded, 1e-10);
});

const late = [
  "square 0, rough 3, finished 7 | 10",
  "square 0, rough 3, discarded 5 | 5",
  "square 0, discarded 3 | 3",
  "square 0 | 3",
  "square 1, rough 4 | 6",
  "square 0, rough 4, finished 8 | 9",
  "square 3 | 8",
  "square 0, finished 6 | 6",
  "square 3, rough 5, finished 9 | 12",
  "square 2, rough 6, discarded 8 | 8"
].map(path);

test("stateOccupation with pieces that come under observation late agrees with R", () => {
  const {times, occupation} = stateOccupation(late, {states});
  expect(times).toEqual([0, 3, 4, 5, 6, 7, 8, 9]);
  const square = [1, 0.625, 0.416666666667, 0.3125, 0.104166666667, 0.104166666667, 0.104166666667, 0.104166666667];
  expectClose(occupation.square, square, 1e-10);
  const rough = [0, 0.25, 0.458333333333, 0.447916666667, 0.552083333333, 0.4140625, 0.138020833333, 0];
  expectClose(occupation.rough, rough, 1e-10);
  const finished = [0, 0, 0, 0, 0.104166666667, 0.2421875, 0.380208333333, 0.518229166667];
  expectClose(occupation.finished, finished, 1e-10);
  const discarded = [0, 0.125, 0.125, 0.239583333333, 0.239583333333, 0.239583333333, 0.377604166667, 0.377604166667];
  expectClose(occupation.discarded, discarded, 1e-10);
});
