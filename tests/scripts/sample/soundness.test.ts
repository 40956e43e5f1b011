import {readFileSync} from "node:fs";
import {expect, test} from "vitest";
import {balance} from "../../../lib/book/balance.ts";
import {histories} from "../../../lib/book/histories.ts";
import {parseBook} from "../../../lib/book/parseBook.ts";
import {files} from "../../../lib/book/records.ts";
import {parseSettings, settingsFile} from "../../../lib/book/settings.ts";
import {truth} from "./csvRows.ts";

const text = (file: string) => readFileSync(`sample-data/${file}`, "utf8");
const {settings, problems: settingProblems} = parseSettings(text(settingsFile));
const texts = Object.fromEntries(Object.keys(files).map((file) => [file, text(file)]));
const {book, problems} = parseBook(texts, settings!);
const replayed = histories(book!, truth.asOf);

test("the book reader finds the deliberate faults and no other", () => {
  expect(settingProblems).toEqual([]);
  const found = [...problems, ...replayed.problems].map(({file, row}) => `${file} ${row}`);
  const made = truth.faults.map(({file, row}: {file: string; row: number}) => `${file} ${row}`);
  expect(found.sort()).toEqual(made.sort());
});

test("the balance closes, and is that of truth.json but for the refused discard and the two short lots", () => {
  const rows = balance(replayed);
  const sum = (of: (row: (typeof rows)[number]) => number) => rows.reduce((total, row) => total + of(row), 0);
  const {all} = truth.counts;
  expect(rows.every(({closes}) => closes)).toBe(true);
  expect(sum(({bought}) => bought)).toBe(all.squares + 2);
  expect(sum(({unaccounted}) => unaccounted)).toBe(2);
  expect(sum(({finished}) => finished)).toBe(all.finished);
  expect(sum(({diverted}) => diverted)).toBe(all.diverted);
  expect(sum(({discarded}) => discarded)).toBe(all.discarded - 1);
  expect(sum(({inStock}) => inStock)).toBe(all.inStock + 1);
});
