import {mkdtempSync} from "node:fs";
import {tmpdir} from "node:os";
import {join} from "node:path";
import {expect, test} from "vitest";
import {draw} from "../../scripts/draw.ts";
import {bookAsOf, readBook} from "../../scripts/io/readBook.ts";
import {makeReport} from "../../scripts/pages/makeReport.ts";
import {PagesThread} from "../../scripts/pagesThread.ts";
import {texts} from "../book/smallBook.ts";
import {folderOf} from "./run.ts";

const book = readBook(folderOf(texts()));
const read = bookAsOf({...book, book: book.book!});
const folder = mkdtempSync(join(tmpdir(), "pages-"));

test("reports made in a thread are those made here, one after the other", {timeout: 120_000}, async () => {
  const thread = new PagesThread();
  for (const names of [["yard-card", "monthly"], ["season"]] as const) {
    const made = thread.make({names, read, folder});
    expect([...made.keys()]).toEqual(names);
    for (const [name, report] of made) {
      const here = await makeReport(name, read, {draw, notebooks: [], keptBefore: () => undefined});
      expect(await report).toEqual({...here, figures: []});
    }
  }
  thread.end();
});

test("what is thrown in the thread is thrown to whoever waits for the report", {timeout: 120_000}, async () => {
  const thread = new PagesThread();
  const made = thread.make({
    names: ["yard-card"],
    read: {...read, histories: {...read.histories, pieces: undefined as never}},
    folder
  });
  await expect(made.get("yard-card")).rejects.toThrow();
});

test("pages of a thread that ends before they are made are not waited for", {timeout: 120_000}, async () => {
  const thread = new PagesThread();
  thread.end();
  const made = thread.make({names: ["yard-card"], read, folder});
  await expect(made.get("yard-card")).rejects.toThrow("ended before they were made");
});

test("a thread pays with a core to spare, and for a book that is not too large to be copied", () => {
  const large = {...read, book: {...read.book, events: Array.from({length: 200_001}, () => read.book.events[0]!)}};
  const pays = (one: typeof read, isWatched: boolean) =>
    [1, 2, 3].map((cores) => PagesThread.pays(one, {isWatched, cores}));
  expect(pays(read, true)).toEqual([false, true, true]);
  expect(pays(read, false)).toEqual([false, false, true]);
  expect(pays(large, true)).toEqual([false, false, false]);
});
