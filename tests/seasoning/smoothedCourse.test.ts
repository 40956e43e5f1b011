import {Matrix, solve} from "ml-matrix";
import {expect, test} from "vitest";
import {smoothedCourse} from "../../lib/seasoning/smoothedCourse.ts";
import {dice} from "./simulatedDrying.ts";

/** Weeks of a yearly wave, weather that keeps 0.6 from week to week, and an error of each reading; each week seven days. */
function course({seed, errorSd, weeks = 260}: {seed: number; errorSd: number; weeks?: number}) {
  const {normal} = dice(seed);
  let weather = 0;
  const truth: number[] = [];
  const read: number[] = [];
  for (let week = 0; week < weeks; week++) {
    weather = 0.6 * weather + Math.sqrt(1 - 0.36) * 0.4 * normal();
    const pct = 9 + 0.7 * Math.cos((2 * Math.PI * week * 7) / 365.25) + weather;
    const off = errorSd * normal();
    for (let day = 0; day < 7; day++) {
      truth.push(pct);
      read.push(pct + off);
    }
  }
  return {truth, read};
}
const rms = (a: readonly (number | undefined)[], b: readonly number[]) =>
  Math.sqrt(b.reduce((all, one, i) => all + (a[i]! - one) ** 2, 0) / b.length);

/** The best linear guess of the weather from all readings, by the covariances it was made with: C (C + u² I)⁻¹ d. */
function best(read: readonly number[], errorSd: number): number[] {
  const apart = read
    .filter((_, day) => day % 7 === 0)
    .map((pct, week) => pct - 9 - 0.7 * Math.cos((2 * Math.PI * week * 7) / 365.25));
  const n = apart.length;
  const weather = new Matrix(n, n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) weather.set(i, j, 0.16 * 0.6 ** Math.abs(i - j));
  const noisy = Matrix.add(weather, Matrix.eye(n, n, errorSd ** 2));
  const guess = weather.mmul(solve(noisy, Matrix.columnVector(apart))).to1DArray();
  return read.map((_, day) => {
    const week = Math.floor(day / 7);
    return 9 + 0.7 * Math.cos((2 * Math.PI * week * 7) / 365.25) + guess[week]!;
  });
}

// It has to find out the share kept, the weather and the error from five years of weeks, so it may be a seventh worse on average.
test("smoothedCourse comes near the best linear guess, which knows how the weather was made", () => {
  const seeds = Array.from({length: 20}, (_, i) => i + 1);
  const errors = seeds.map((seed) => {
    const {truth, read} = course({seed, errorSd: 0.5});
    const [raw, own, ideal] = [read, smoothedCourse(read), best(read, 0.5)].map((guess) => rms(guess, truth));
    expect(own!).toBeLessThan(raw!);
    return {own: own!, ideal: ideal!};
  });
  const average = (of: "own" | "ideal") => errors.reduce((all, one) => all + one[of], 0) / errors.length;
  expect(average("ideal")).toBeLessThan(0.3);
  expect(average("own")).toBeLessThan((8 / 7) * average("ideal"));
});

// Three numbers fitted to n weeks of error alone leave √(3/n) of it in the wave: a fifth to a half here; what little is taken for weather comes on top.
test.each([
  ["a quarter of a year", 90, () => true],
  ["two years without a summer", 700, (day: number) => day < 500 || day > 600]
])("smoothedCourse knows the yearly wave from %s", (_, days, isRead) => {
  const wave = (day: number) => 9 + 0.7 * Math.cos((2 * Math.PI * day) / 365.25 + 0.4);
  const truth = Array.from({length: days}, (_, day) => wave(day));
  const known = truth.flatMap((_, day) => (isRead(day) ? [day] : []));
  const shares = Array.from({length: 20}, (_, seed) => {
    const {normal} = dice(seed + 1);
    const weeks = truth.map(() => 0.3 * normal());
    const read = truth.map((pct, day) => (isRead(day) ? pct + weeks[Math.floor(day / 7)]! : undefined));
    const error = (course: readonly (number | undefined)[]) =>
      rms(
        known.map((day) => course[day]),
        known.map((day) => truth[day]!)
      );
    return error(smoothedCourse(read)) / error(read);
  });
  const share = shares.reduce((all, one) => all + one, 0) / shares.length;
  expect(share).toBeLessThan(1.3 * Math.sqrt((3 * 7) / known.length));
});

// Of five weeks three numbers would take √(3/5) of the error for a wave, their mean takes √(1/5): by the law, 0.45 of it, and what little is taken for weather.
test("smoothedCourse of a few weeks does not take their error for a wave", () => {
  const shares = Array.from({length: 60}, (_, seed) => {
    const {normal} = dice(seed + 1);
    const weeks = Array.from({length: 5}, () => 0.3 * normal());
    const read = Array.from({length: 35}, (_, day) => 9 + weeks[Math.floor(day / 7)]!);
    const truth = read.map(() => 9);
    return rms(smoothedCourse(read), truth) / rms(read, truth);
  });
  const share = shares.reduce((all, one) => all + one, 0) / shares.length;
  expect(share).toBeLessThan(0.65);
});

test("smoothedCourse leaves readings without error nearly as they are", () => {
  for (const seed of [1, 2, 3]) {
    const {read} = course({seed, errorSd: 0});
    expect(rms(smoothedCourse(read), read)).toBeLessThan(0.15);
  }
});

test("smoothedCourse keeps the days on which nothing is known, and a steady store as it is", () => {
  expect(smoothedCourse([9, undefined, 9])).toEqual([9, undefined, 9]);
  expect(smoothedCourse([undefined, undefined])).toEqual([undefined, undefined]);
  for (const pct of smoothedCourse(Array<number>(400).fill(9))) expect(pct).toBeCloseTo(9, 9);
});
