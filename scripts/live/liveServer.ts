import {createServer, type ServerResponse} from "node:http";
import type {AddressInfo} from "node:net";
import {livePage} from "./livePage.ts";

/** What is served under a path: the text of a page, or the bytes of another file. */
export type Served = {page: string} | {type: string; bytes: Uint8Array};

/** A server of pages that reload themselves. */
export interface LiveServer {
  /** Ends with a slash. */
  address: string;
  /** Tells every open page of these paths that it was made anew; a path is written as in an address, without the first slash. */
  tell: (paths: readonly string[]) => void;
}

/**
 * Serves pages on this machine only, on a port that is free. A name that leads here from elsewhere (another Host) gets nothing.
 *
 * @param find what lies under a path, as it stands in the address, without the first slash; undefined where there is nothing. It should look
 *   the path up among those it knows: taking apart what a stranger sends is never needed
 */
export async function liveServer(find: (path: string) => Served | undefined): Promise<LiveServer> {
  const readers = new Set<ServerResponse>();
  const server = createServer((request, response) => {
    const path = (request.url ?? "/").slice(1);
    const {host: asked} = request.headers;
    if (asked !== host || (request.method !== "GET" && request.method !== "HEAD")) response.writeHead(403).end();
    else if (path === "made") {
      response.writeHead(200, {"Content-Type": "text/event-stream", "Cache-Control": "no-store"}).flushHeaders();
      readers.add(response);
      request.on("close", () => readers.delete(response));
    } else {
      const found = find(path);
      if (!found)
        response.writeHead(404, {"Content-Type": "text/plain; charset=utf-8"}).end("There is nothing of this name.");
      else if ("page" in found)
        response
          .writeHead(200, {"Content-Type": "text/html; charset=utf-8", "Cache-Control": "no-store"})
          .end(livePage(found.page));
      else response.writeHead(200, {"Content-Type": found.type, "Cache-Control": "no-store"}).end(found.bytes);
    }
  });
  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    address: `http://${host}/`,
    tell: (paths) => {
      for (const path of paths) for (const reader of readers) reader.write(`data: ${path}\n\n`);
    }
  };
}
