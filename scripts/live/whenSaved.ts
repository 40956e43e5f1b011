import {statSync} from "node:fs";
import {basename, dirname, resolve} from "node:path";
import {watch as watchFiles} from "chokidar";
import {say} from "../command.ts";
import {bookFolder} from "../io/bookFiles.ts";
import {liesIn, realPlace} from "../io/realPlace.ts";

/** Saves that come within this time, ms, are one: an editor may write a file in several steps. */
const pause = 150;

/** What is looked at. */
export interface WatchedFiles {
  /** The book: the folder of its files, or a workbook, beside which its settings and mended rows may lie. */
  book: string;
  /** Other files, and folders with all that is in them. */
  paths?: readonly string[];
  /** A folder to leave alone: where the pages are written. A book or path that lies in it is looked at all the same. */
  except: string;
}

/**
 * Calls at once, and again after files were saved, with all that changed since the call before; never two calls at once. What a later call
 * throws is told, and the next save calls again. Returns once the first call is done.
 *
 * @throws what the first call throws, and UserError when there is no book; nothing is looked at any longer
 */
export async function whenSaved(
  {book, paths = [], except}: WatchedFiles,
  call: (changed: ReadonlySet<string>) => Promise<void>
): Promise<void> {
  const folder = bookFolder(book);
  const all = [folder, ...paths];
  const isWanted = (path: string) =>
    (dirname(path) === folder && ofBook(basename(path), folder === book ? undefined : basename(book))) ||
    paths.some((one) => liesIn(path, one));
  const isWritten = (path: string) => {
    const [real, out] = [realPlace(path), realPlace(except)];
    return liesIn(real, out) && !all.map(realPlace).some((one) => liesIn(one, out) && liesIn(real, one));
  };
  // A file that is saved by putting a new one in its place is lost to who watches the file: so its folder is watched, and only it looked at.
  const watcher = watchFiles(
    all.map((path) => (statSync(path).isFile() ? dirname(path) : path)),
    {
      ignoreInitial: true,
      ignored: (given) => {
        const path = resolve(given);
        return !all.some((one) => liesIn(one, path)) && (!isWanted(path) || isWritten(path));
      }
    }
  );
  const changed = new Set<string>();
  let [busy, timer] = [Promise.resolve(), undefined as NodeJS.Timeout | undefined];
  watcher.on("all", (_, path) => {
    changed.add(resolve(path));
    clearTimeout(timer);
    timer = setTimeout(() => {
      busy = busy
        .then(() => {
          const files = new Set(changed);
          changed.clear();
          return call(files);
        })
        .catch((error) => {
          say(String(error instanceof Error ? error.message : error)); // and on to the next save
        });
    }, pause);
  });
  await new Promise<void>((ready) => watcher.once("ready", ready));
  const first = busy.then(() => call(new Set()));
  busy = first.catch(() => {});
  try {
    await first;
  } catch (error) {
    clearTimeout(timer);
    await watcher.close();
    throw error;
  }
}

/** Whether a file of a book's folder is read: with a workbook only some are. What a program leaves beside an open file is not. */
function ofBook(name: string, workbook: string | undefined): boolean {
  if (/^(\.|~\$)/.test(name)) return false;
  return workbook === undefined || name === workbook || /^(workshop\.json|mended-.*\.csv)$/i.test(name);
}
