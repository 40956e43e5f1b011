import {balance} from "../../lib/book/balance.ts";
import type {Day} from "../../lib/book/day.ts";
import type {Grid} from "../../lib/book/grid.ts";
import {type Histories, histories} from "../../lib/book/histories.ts";
import {refusedText, withMended} from "../../lib/book/mended.ts";
import {type BookParsed, gridOf, parseBook} from "../../lib/book/parseBook.ts";
import {byImportance, type Problem, problemSentence} from "../../lib/book/problem.ts";
import {type FileName, fileNames} from "../../lib/book/records.ts";
import {type RowAccount, rowAccounts} from "../../lib/book/rowAccount.ts";
import {parseSettings, type Settings} from "../../lib/book/settings.ts";
import {csvText} from "../../lib/report/csvText.ts";
import {faultList} from "../../lib/report/faultList.ts";
import {htmlText} from "../../lib/report/html.ts";
import {decodeText} from "../io/decodeText.ts";
import {lastDay} from "../io/readBook.ts";
import type {BookBytes} from "./fuzzBook.ts";

/** All that intake makes of a book, as far as the promises of `brokenPromises` speak of it. */
export interface Intake {
  settings?: Settings;
  /** The text of each file, decoded. */
  texts: Partial<Record<FileName, string>>;
  grids: Partial<Record<FileName, Grid>>;
  parsed: BookParsed;
  replayed?: Histories;
  closes?: boolean;
  /** Of the files and of the histories. */
  problems: Problem[];
  accounts: RowAccount[];
  sentences: string[];
  /** The refused rows of each file, as they are written for mending. */
  refused: Partial<Record<FileName, string>>;
  /** Each grid with its own refused rows read back, nothing mended in them. */
  readBack: Partial<Record<FileName, Grid>>;
  /** The book again, from the grids that were read back, where there were any. */
  again?: {accounts: RowAccount[]; problems: Problem[]};
  /** Every row of every file as a file for a spreadsheet. */
  exported: Partial<Record<FileName, string>>;
  faultHtml: string;
}

/** Reads a book from the bytes of its files the way `readBook` does, without a disk, and writes all that is written of it. */
export function intakeOf(files: BookBytes, today?: Day): Intake {
  const text = (name: keyof BookBytes) => decodeText(files[name] ?? new Uint8Array());
  const {settings, problems: ofSettings} = parseSettings(text("workshop.json").text);
  const there = fileNames.filter((name) => files[name] !== undefined);
  const by = <T>(make: (name: FileName) => T | undefined): Partial<Record<FileName, T>> =>
    Object.fromEntries(there.map((name) => [name, make(name)] as const).filter(([, made]) => made !== undefined));
  const texts = by((name) => text(name).text);
  const grids = settings
    ? by((name) => {
        const {encoding} = text(name);
        const grid = gridOf(texts[name]!, name, settings);
        return encoding === "UTF-8" ? grid : {...grid, how: [`${encoding} letters`]};
      })
    : {};
  const parsed: BookParsed = settings ? parseBook(grids, settings, {today}) : {problems: ofSettings, sources: {}};
  const replayed = parsed.book && histories(parsed.book, lastDay(parsed.book));
  const problems = [...parsed.problems, ...(replayed?.problems ?? [])];
  const refused = by((name) => parsed.sources[name] && refusedText(parsed.sources[name], problems));
  const readBack = by((name) => {
    const mended = refused[name];
    return mended === undefined
      ? grids[name]
      : withMended(grids[name]!, gridOf(mended, name, settings!, `mended-${name}`));
  });
  return {
    ...(settings && {settings}),
    texts,
    grids,
    parsed,
    ...(replayed && {replayed, closes: balance(replayed).every(({closes}) => closes)}),
    problems,
    accounts: rowAccounts({...parsed, problems}),
    sentences: problems.map(problemSentence),
    refused,
    readBack,
    ...(parsed.book && Object.keys(refused).length > 0 && {again: readAgain(readBack, settings!, today)}),
    exported: by((name) => grids[name] && csvText(grids[name].rows.map(({cells}) => cells))),
    faultHtml: htmlText(faultList(byImportance(problems)))
  };
}

function readAgain(grids: Intake["grids"], settings: Settings, today: Day | undefined) {
  const parsed = parseBook(grids, settings, {today});
  const problems = [...parsed.problems, ...(parsed.book ? histories(parsed.book, lastDay(parsed.book)).problems : [])];
  return {accounts: rowAccounts({...parsed, problems}), problems};
}
