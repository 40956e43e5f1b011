import {expect, test} from "vitest";
import {adviceOutcomes} from "../../lib/buying/adviceOutcome.ts";
import {adviceFollowUp} from "../../lib/figures/adviceFollowUp.ts";
import {readBook} from "../../scripts/io/readBook.ts";
import {expectSound} from "./sound.ts";

const book = readBook("sample-data").book!;

test("adviceFollowUp(sample) draws what was said with its range and what came, for shafts and squares", () => {
  const outcomes = adviceOutcomes(book, "2026-10-31");
  const figure = adviceFollowUp(outcomes);
  const {wide} = expectSound(figure);
  expect(figure.title).toBe("Orders lay inside the range said 4 times of 4");
  expect(figure.table.rows).toHaveLength(2 * outcomes.length);
  expect(figure.key!.map(({label}) => label)).toEqual(["said", "what came"]);
  expect(wide).toContain("ash, 2025-12-01, so far");
  expect(wide).toContain("maple, 2023-12-01");
});

test("adviceFollowUp before any season is over, and without advice, says so", () => {
  const during = adviceFollowUp(adviceOutcomes(book, "2024-12-31"));
  expectSound(during);
  expect(during.title).toBe("No season with kept advice is over yet");
  const none = adviceFollowUp([]);
  expectSound(none);
  expect(none.table.rows).toEqual([]);
});

test("adviceFollowUp shows the latest only when there are many, and says how many there are", () => {
  const many = Array.from({length: 3}, () => adviceOutcomes(book, "2026-10-31")).flat();
  const figure = adviceFollowUp(many);
  expect(figure.table.rows).toHaveLength(16);
  expect(figure.note).toContain("The latest 8 of 18.");
});
