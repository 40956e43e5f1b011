import {expect, test} from "vitest";
import {dayNumber} from "../../lib/book/day.ts";
import {histories} from "../../lib/book/histories.ts";
import {mean} from "../../lib/stats/mean.ts";
import {normalQuantile} from "../../lib/stats/normalQuantile.ts";
import {randomStream} from "../../lib/stats/random.ts";
import {predictedMass, stageMass} from "../../lib/yield/stageMass.ts";
import {bookAsOf, readBook} from "../../scripts/io/readBook.ts";
import {makeHistories, makePiece} from "../pieces.ts";
import {now} from "../recovery/sample.ts";

const weighed = (lot: string, density: number, massG: number) =>
  makePiece({
    lot,
    density,
    turned: [60, 90, 120, 150],
    measurements: [{day: 150, stage: "finished", turned: true, massG}]
  });

// By hand: 300/700, 310/700, 340/800 and 346/800 · 1000 are 428.5714, 442.8571, 425 and 432.5 cm³: mean 432.232143, squares of the deviations
// 13.4008, 112.8910, 52.3039 and 0.0717, so SD √(178.6674/3) = 7.717255.
test("stageMass is the mean of mass over density at each stage, with its scatter", () => {
  const rows = stageMass(
    makeHistories([weighed("A", 700, 300), weighed("B", 700, 310), weighed("C", 800, 340), weighed("D", 800, 346)], {
      asOf: 200
    })
  );
  const last = rows.find(({stage}) => stage === "finished")!;
  expect(last).toMatchObject({species: "ash", pieces: 4, lots: 4});
  expect(last.ratioCm3).toBeCloseTo(432.232143, 5);
  expect(last.scatterFraction).toBeCloseTo(7.717255 / 432.232143, 6);
  const {massG, lowG, highG} = predictedMass(last, 750);
  expect(massG).toBeCloseTo(0.75 * 432.232143, 5);
  // t of 3 degrees of freedom, printed table: 3.182446.
  expect(highG! - massG).toBeCloseTo(0.75 * 7.717255 * 3.182446 * Math.sqrt(5 / 4), 3);
  expect(massG - lowG!).toBeCloseTo(highG! - massG, 9);
  expect(Object.keys(predictedMass({...last, lots: 3}, 750))).toEqual(["massG"]);
});

test("stageMass has no row for a stage at which fewer than two were weighed, and the square's mass is that of its coming in", () => {
  const rows = stageMass(makeHistories([weighed("A", 690, 300), makePiece({lot: "B"})], {asOf: 200}));
  expect(rows.map(({stage, pieces}) => [stage, pieces])).toEqual([["square", 2]]);
  expect(rows[0]!.ratioCm3).toBeCloseTo((1000 * 1656) / 690, 9);
  expect(() => predictedMass(rows[0]!, 0)).toThrow("predictedMass: densityAt12KgM3 must be positive");
});

// The sample book itself is the truth here: what was known on 2025-06-30 is asked of the pieces that were weighed at each stage later.
test("predictedMass held what the sample book's later pieces came to weigh, and knows more than their mean", () => {
  const found = readBook("sample-data");
  const {book} = bookAsOf({...found, book: found.book!});
  const day = "2025-06-30";
  const rows = stageMass(histories(book, day));
  for (const row of rows.filter(({stage}) => stage !== "square")) {
    const later = now.pieces.flatMap(({species, densityAt12KgM3, measurements}) => {
      const first = measurements.find(({stage, massG}) => stage === row.stage && massG !== undefined);
      return species === row.species && first && first.day > dayNumber(day)
        ? [{densityAt12KgM3, massG: first.massG!}]
        : [];
    });
    expect(later.length).toBeGreaterThan(50);
    const held = later.filter(({densityAt12KgM3, massG}) => {
      const {lowG, highG} = predictedMass(row, densityAt12KgM3);
      return massG >= lowG! && massG <= highG!;
    }).length;
    expect(held / later.length, `${row.species} ${row.stage}`).toBeGreaterThan(0.9);
    const error = (of: (one: (typeof later)[number]) => number) =>
      Math.sqrt(mean(later.map((one) => (one.massG - of(one)) ** 2))!);
    const level = mean(later.map(({massG}) => massG))!;
    expect(error(({densityAt12KgM3}) => predictedMass(row, densityAt12KgM3).massG)).toBeLessThan(
      0.8 * error(() => level)
    );
  }
});

// Drawn anew each time: lots whose ratios differ by 1.5 %, pieces within a lot by 3 %; a further piece of a further lot.
test.each([4, 10])("predictedMass of %i lots of 25 holds 95 of 100 further pieces, not far more", (lots) => {
  const random = randomStream(31);
  const normal = () => normalQuantile(random());
  const ratio = (lot: number) => 430 * (1 + 0.015 * lot + 0.03 * normal());
  const tries = 400;
  let held = 0;
  for (let i = 0; i < tries; i++) {
    const pieces = Array.from({length: lots}, (_, k) => {
      const lot = normal();
      return Array.from({length: 25}, () => weighed(`L${k}`, 700, 0.7 * ratio(lot)));
    }).flat();
    const row = stageMass(makeHistories(pieces, {asOf: 200})).find(({stage}) => stage === "finished")!;
    const {lowG, highG} = predictedMass(row, 700);
    for (let j = 0; j < 10; j++) {
      const massG = 0.7 * ratio(normal());
      if (massG >= lowG! && massG <= highG!) held++;
    }
  }
  expect(held / (10 * tries)).toBeGreaterThan(0.93);
  expect(held / (10 * tries)).toBeLessThan(0.985);
});
