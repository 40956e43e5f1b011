import {availableParallelism} from "node:os";
import {fileURLToPath} from "node:url";
import {Worker} from "node:worker_threads";
import type {BookAsOf} from "./io/readBook.ts";
import type {Report} from "./pages/compose.ts";
import type {ReportName} from "./pages/reportNames.ts";

/** What the thread is asked to make, and of what. */
export interface Asked {
  names: readonly ReportName[];
  read: BookAsOf;
  /** Where the reports will lie: what was kept before, and notebooks, are looked for there. */
  folder: string;
}

/** A larger book is not copied for a thread: it takes as much memory again. */
const mostEvents = 200_000;

/**
 * Makes some of the reports in a thread of its own while this one makes others. On two cores a book that is watched is done in five sixths of the
 * time; the first time nothing is gained there, as V8 compiles on the second core meanwhile.
 */
export class PagesThread {
  readonly #worker = new Worker(fileURLToPath(new URL("start.mjs", import.meta.url)), {argv: ["pages-thread"]});

  /** Whether something is gained by it: with a core to spare, and a book that is not too large to be copied. */
  static pays(
    {book}: BookAsOf,
    {isWatched, cores = availableParallelism()}: {isWatched: boolean; cores?: number}
  ): boolean {
    return cores > (isWatched ? 1 : 2) && book.events.length <= mostEvents;
  }

  /**
   * Begins to make reports; each comes when it is made, without the figures as descriptions. One call after the other.
   *
   * @throws in each what is thrown where they are made
   */
  make({names, read, folder}: Asked): Map<ReportName, Promise<Report>> {
    this.#worker.ref();
    const waiting = new Map<ReportName, {done: (report: Report) => void; fail: (error: Error) => void}>();
    const made = new Map(
      names.map((name) => {
        const report = new Promise<Report>((done, fail) => waiting.set(name, {done, fail}));
        report.catch(() => {}); // told to whoever waits for it
        return [name, report];
      })
    );
    const receive = (report: Report) => {
      waiting.get(report.name)!.done(report);
      waiting.delete(report.name);
      if (waiting.size > 0) return;
      this.#worker.off("message", receive);
      this.#worker.off("error", fail);
      this.#worker.off("exit", over);
      this.#worker.unref();
    };
    const fail = (error: Error) => {
      for (const one of waiting.values()) one.fail(error);
    };
    const over = () => fail(new Error("The thread that makes pages ended before they were made."));
    this.#worker.on("message", receive);
    this.#worker.on("error", fail);
    this.#worker.on("exit", over);
    // The cells of the files are made when they are asked for, which cannot be sent; no report asks.
    const sent: Asked = {names, read: {...read, book: {...read.book, sources: {}}}, folder};
    this.#worker.postMessage(sent);
    return made;
  }

  /** Lets the thread end, once it has made what it was asked for. */
  end(): void {
    this.#worker.postMessage("done");
  }
}
