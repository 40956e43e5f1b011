import {createServer, type IncomingMessage, type ServerResponse} from "node:http";
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
  /** Ends it, and those who listen. */
  close: () => void;
}

/**
 * Serves pages on this machine only, on a port that is free. A name that leads here from elsewhere (another Host) gets nothing.
 *
 * @param find what lies under a path, as it stands in the address, without the first slash; undefined where there is nothing. It should look
 *   the path up among those it knows: taking apart what a stranger sends is never needed
 */
export async function liveServer(find: (path: string) => Served | undefined): Promise<LiveServer> {
  const readers = new Set<ServerResponse>();
  let count = 0;
  const toldAt = new Map<string, number>();
  const server = createServer((request, response) => {
    const {host: asked} = request.headers;
    const path = (request.url ?? "/").slice(1);
    const [, since] = /^made(?:\?(\d+))?$/.exec(path) ?? [];
    if (asked !== host || (request.method !== "GET" && request.method !== "HEAD")) response.writeHead(403).end();
    else if (path === "made" || since !== undefined) listen(request, response, Number(since ?? count));
    else answer(path, response);
  });

  /** Tells from now on which pages were made, and first which were since a page was served. */
  function listen(request: IncomingMessage, response: ServerResponse, since: number): void {
    response.writeHead(200, {"Content-Type": "text/event-stream", "Cache-Control": "no-store"}).flushHeaders();
    for (const [path, at] of toldAt) if (at > since) response.write(`data: ${path}\n\n`);
    readers.add(response);
    request.on("close", () => readers.delete(response));
  }

  function answer(path: string, response: ServerResponse): void {
    const send = (status: number, type: string, body: string | Uint8Array) =>
      response.writeHead(status, {"Content-Type": type, "Cache-Control": "no-store"}).end(body);
    try {
      const found = find(path);
      if (!found) send(404, plain, "There is nothing of this name.");
      else if ("page" in found) send(200, "text/html; charset=utf-8", livePage(found.page, count));
      else send(200, found.type, found.bytes);
    } catch {
      send(503, plain, "This file cannot be read at the moment. Is it open in another program?");
    }
  }

  await new Promise<void>((ready) => server.listen(0, "127.0.0.1", ready));
  const host = `127.0.0.1:${(server.address() as AddressInfo).port}`;
  return {
    address: `http://${host}/`,
    tell: (paths) => {
      count++;
      for (const path of paths) {
        toldAt.set(path, count);
        for (const reader of readers) reader.write(`data: ${path}\n\n`);
      }
    },
    close: () => {
      server.close();
      server.closeAllConnections();
    }
  };
}

const plain = "text/plain; charset=utf-8";
