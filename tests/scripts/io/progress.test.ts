import {expect, test} from "vitest";
import {progress} from "../../../scripts/io/progress.ts";

/** What is told when so many bytes have been read at these seconds. */
function toldAt(seconds: readonly [second: number, done: number][], isTTY = true): string[] {
  const told: string[] = [];
  let now = 0;
  const tell = progress("events.csv", 100_000_000, {
    out: {isTTY, write: (text) => told.push(text)},
    clock: () => 1000 * now
  });
  for (const [second, done] of seconds) {
    now = second;
    tell(done);
  }
  return told;
}

test("progress: how far, at what rate and how long yet, once two seconds are over", () => {
  expect(
    toldAt([
      [1, 10_000_000],
      [1.9, 19_000_000],
      [2, 20_000_000],
      [2.2, 22_000_000],
      [2.5, 25_000_000]
    ])
  ).toEqual(["\rReading events.csv: 20 %, 10.0 MB/s, 8 s left", "\rReading events.csv: 25 %, 10.0 MB/s, 8 s left"]);
});

test("progress takes its line away at the end", () => {
  const [line, end] = toldAt([
    [5, 50_000_000],
    [10, 100_000_000]
  ]) as [string, string];
  expect(end).toBe(`\r${" ".repeat(line.length - 1)}\r`);
});

test("progress: nothing of a short reading, nothing where nobody looks", () => {
  expect(
    toldAt([
      [0.5, 50_000_000],
      [1, 100_000_000]
    ])
  ).toEqual([]);
  expect(
    toldAt(
      [
        [5, 50_000_000],
        [10, 100_000_000]
      ],
      false
    )
  ).toEqual([]);
});
