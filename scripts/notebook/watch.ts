import {liveServer} from "../live/liveServer.ts";
import {type WatchedFiles, whenSaved} from "../live/whenSaved.ts";

export interface Watched extends WatchedFiles {
  /** Which notebooks are to be made after a change of these files; all of them at the start, when there is no change. */
  affected: (changed: ReadonlySet<string>) => string[];
  /** Makes one, and returns its name and its page. */
  make: (path: string) => Promise<{name: string; page: string}>;
}

/**
 * Makes pages, serves them on this machine only, makes them again after each save and tells the open ones to reload. Goes on until the
 * process is ended.
 *
 * @returns the address
 */
export async function watch({affected, make, ...files}: Watched): Promise<string> {
  const pages = new Map<string, string>();
  const server = await liveServer((path) => {
    const page = pages.get(path);
    return page === undefined ? undefined : {page};
  });
  const makeAll = async (changed: ReadonlySet<string>) => {
    for (const notebook of affected(changed)) {
      const {name, page} = await make(notebook);
      const path = `${encodeURIComponent(name)}.html`;
      pages.set(path, page);
      server.tell([path]);
    }
  };
  try {
    await whenSaved(files, makeAll);
  } catch (error) {
    server.close();
    throw error;
  }
  return server.address;
}
