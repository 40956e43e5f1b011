import {isDeepStrictEqual} from "node:util";
import type {Day} from "../../lib/book/day.ts";
import {randomStream} from "../../lib/stats/random.ts";
import type {BookBytes, FuzzBook} from "./fuzzBook.ts";
import {type Intake, intakeOf} from "./intake.ts";
import {mutated} from "./mutate.ts";
import {brokenInFolder, brokenInWorkbook} from "./onDisk.ts";
import {brokenPromises} from "./promises.ts";

/** One run in so many also goes through a folder, and another through a workbook. */
const diskEvery = 50;

/** A book of this size takes a fraction of a second; cells of megabytes may take longer. */
const longest = {seconds: 10, bytes: 1e6};

/** What one run came to. */
export interface FuzzRun {
  run: number;
  files: BookBytes;
  /** The promises it broke, each in one line. */
  broken: string[];
  /** Of the processor: other work on the machine does not count. */
  seconds: number;
  /** Whether there was a book after all. */
  hasBook: boolean;
  refusedRows: number;
}

/** The random numbers of one run: any run can be repeated alone. */
export function runStream(seed: number, run: number) {
  return randomStream((seed * 1_000_003 + run) % 2 ** 32);
}

/**
 * One run: the book changed at random, read, and held against the promises of intake; every tenth is read twice, which must give the same.
 * What is thrown is a promise broken.
 */
export function fuzzRun(book: FuzzBook, seed: number, run: number): FuzzRun {
  const random = runStream(seed, run);
  const files = mutated(book, random);
  const today: Day | undefined = random() < 0.1 ? "2022-06-30" : undefined;
  const began = process.cpuUsage();
  const broken: string[] = [];
  let intake: Intake | undefined;
  try {
    intake = intakeOf(files, today);
    broken.push(...brokenPromises(intake));
    if (run % 10 === 0 && !isDeepStrictEqual(intakeOf(files, today), intake))
      broken.push("read twice, it is not the same");
    if (run % diskEvery === 0 && today === undefined) broken.push(...brokenInFolder(files, intake));
    if (run % diskEvery === 1) broken.push(...brokenInWorkbook(files, intake, random));
  } catch (error) {
    broken.push(`thrown: ${error instanceof Error ? error.stack : error}`);
  }
  const {user, system} = process.cpuUsage(began);
  const seconds = (user + system) / 1e6;
  const bytes = Object.values(files).reduce((sum, file) => sum + file.length, 0);
  if (seconds > longest.seconds && bytes < longest.bytes) broken.push(`took ${seconds.toFixed(1)} seconds`);
  const refusedRows = intake?.parsed.book ? intake.accounts.reduce((sum, {refused}) => sum + refused, 0) : 0;
  return {run, files, broken, seconds, hasBook: intake?.parsed.book !== undefined, refusedRows};
}
