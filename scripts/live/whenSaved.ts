import {statSync} from "node:fs";
import {dirname, resolve, sep} from "node:path";
import {watch as watchFiles} from "chokidar";
import {say} from "../command.ts";

/** Saves that come within this time, ms, are one: an editor may write a file in several steps. */
const pause = 150;

/** What is looked at. */
export interface WatchedFiles {
  /** Files and folders. */
  paths: readonly string[];
  /** A folder to leave alone: where the pages are written. A path that lies in it is looked at all the same. */
  except: string;
}

/**
 * Calls back after files were saved, with all that changed since the call before; never two calls at once. What a call throws is told, and
 * the next save calls again. Returns once the files are looked at.
 */
export async function whenSaved(
  {paths, except}: WatchedFiles,
  call: (changed: ReadonlySet<string>) => Promise<void>
): Promise<void> {
  const changed = new Set<string>();
  let [busy, timer] = [Promise.resolve(), undefined as NodeJS.Timeout | undefined];
  const inside = (path: string, folder: string) => `${path}${sep}`.startsWith(folder + sep);
  const within = paths.filter((path) => inside(path, except));
  // A file that is saved by putting a new one in its place is lost to who watches the file: so its folder is watched, and only it looked at.
  const watcher = watchFiles(
    paths.map((path) => (statSync(path).isFile() ? dirname(path) : path)),
    {
      ignoreInitial: true,
      ignored: (path) => {
        const full = resolve(path);
        const ours = inside(full, except) && !within.some((one) => inside(full, one) || inside(one, full));
        return ours || !paths.some((one) => inside(full, one) || inside(one, full));
      }
    }
  );
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
}
