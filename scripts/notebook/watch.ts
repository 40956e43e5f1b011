import {statSync} from "node:fs";
import {createServer, type ServerResponse} from "node:http";
import type {AddressInfo} from "node:net";
import {dirname, resolve, sep} from "node:path";
import {watch as watchFiles} from "chokidar";
import {say} from "../command.ts";

/** Saves that come within this time, ms, are one: an editor may write a file in several steps. */
const pause = 150;

export interface Watched {
  /** Files and folders to look at. */
  paths: readonly string[];
  /** A folder to leave alone, wherever it lies: where the pages are written. */
  except: string;
  /** Which notebooks are to be made after a change of these files; all of them at the start, when there is no change. */
  affected: (changed: ReadonlySet<string>) => string[];
  /** Makes one, and returns its name and its live page. */
  make: (path: string) => Promise<{name: string; page: string}>;
}

/**
 * Makes pages, serves them on this machine only, makes them again after each save and tells the open ones to reload. Goes on until the
 * process is ended.
 *
 * @returns the address
 */
export async function watch({paths, except, affected, make}: Watched): Promise<string> {
  const pages = new Map<string, string>();
  const readers = new Set<ServerResponse>();
  const changed = new Set<string>();
  let [busy, timer] = [Promise.resolve(), undefined as NodeJS.Timeout | undefined];
  const makeAll = async (notebooks: readonly string[]) => {
    for (const path of notebooks) {
      const {name, page} = await make(path);
      pages.set(name, page);
      for (const reader of readers) reader.write(`data: ${name}\n\n`);
    }
  };
  const address = await serve(pages, readers);
  // A file that is saved by putting a new one in its place is lost to who watches the file: so its folder is watched, and only it looked at.
  const inside = (path: string, folder: string) => `${path}${sep}`.startsWith(folder + sep);
  const watcher = watchFiles(
    paths.map((path) => (statSync(path).isFile() ? dirname(path) : path)),
    {
      ignoreInitial: true,
      ignored: (path) => {
        const full = resolve(path);
        return inside(full, except) || !paths.some((one) => inside(full, one) || inside(one, full));
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
          return makeAll(affected(files));
        })
        .catch((error) => {
          say(String(error instanceof Error ? error.message : error)); // and on to the next save
        });
    }, pause);
  });
  await new Promise<void>((ready) => watcher.once("ready", ready));
  await makeAll(affected(new Set()));
  return address;
}

/** A server of the pages, on a port that is free. A name that leads here from elsewhere (another Host) gets nothing. */
async function serve(pages: ReadonlyMap<string, string>, readers: Set<ServerResponse>): Promise<string> {
  const server = createServer((request, response) => {
    const path = request.url ?? "/";
    // Looked up as it is written in an address: taking apart what a stranger sends can throw.
    const page = [...pages].find(([name]) => path === `/${encodeURIComponent(name)}.html`)?.[1];
    if (request.headers.host !== host) response.writeHead(403).end();
    else if (path === "/made") {
      response.writeHead(200, {"Content-Type": "text/event-stream", "Cache-Control": "no-store"}).flushHeaders();
      readers.add(response);
      request.on("close", () => readers.delete(response));
    } else if (page !== undefined)
      response.writeHead(200, {"Content-Type": "text/html; charset=utf-8", "Cache-Control": "no-store"}).end(page);
    else response.writeHead(404, {"Content-Type": "text/plain"}).end("No such notebook.");
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  return `http://${host}/`;
}
