import {request} from "node:http";
import {afterAll, expect, test} from "vitest";
import {liveServer, type Served} from "../../../scripts/live/liveServer.ts";

const files = new Map<string, Served>([
  ["index.html", {page: "<!doctype html><body>Index</body>"}],
  ["tables/a.csv", {type: "text/csv; charset=utf-8", bytes: new TextEncoder().encode("a,b\r\n")}]
]);
const server = await liveServer((path) => {
  if (path === "held.html") throw new Error("EBUSY");
  return files.get(path);
});
afterAll(() => server.close());

/** What the server answers to a path as it stands, without a client tidying it first. */
function ask(
  path: string,
  {host, method = "GET"}: {host?: string; method?: string} = {}
): Promise<{status: number; text: string; type: string}> {
  const {port, host: own} = new URL(server.address);
  return new Promise((done, failed) => {
    request({port, hostname: "127.0.0.1", path, method, headers: {host: host ?? own}}, (response) => {
      let text = "";
      response.setEncoding("utf8").on("data", (part: string) => {
        text += part;
      });
      response.on("end", () =>
        done({status: response.statusCode!, text, type: response.headers["content-type"] ?? ""})
      );
    })
      .on("error", failed)
      .end();
  });
}

test("liveServer(find) serves a page with the script that reloads it, and another file as it is", async () => {
  expect(server.address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
  const page = await ask("/index.html");
  expect([page.status, page.type]).toEqual([200, "text/html; charset=utf-8"]);
  expect(page.text).toMatch(/Index<script data-told="0">.*new EventSource.*<\/script>/s);
  expect(await ask("/tables/a.csv")).toEqual({status: 200, text: "a,b\r\n", type: "text/csv; charset=utf-8"});
});

test.each([
  "/",
  "/other.html",
  "/../package.json",
  "/%2e%2e/package.json",
  "/..%2f..%2fetc%2fpasswd",
  "//etc/passwd",
  "/index.html?x",
  "/tables",
  "/%",
  "/__proto__",
  "/made?",
  "/made?x",
  "/made/1"
])("liveServer(find) has nothing at %s", async (path) => {
  expect((await ask(path)).status).toBe(404);
});

test("liveServer(find) gives nothing to a name that leads here from elsewhere, nor to another method", async () => {
  expect((await ask("/index.html", {host: "elsewhere.example"})).status).toBe(403);
  expect((await ask("/made", {host: "elsewhere.example"})).status).toBe(403);
  expect((await ask("/index.html", {method: "POST"})).status).toBe(403);
});

test("liveServer(find) goes on when a file cannot be read", async () => {
  expect((await ask("/held.html")).status).toBe(503);
  expect((await ask("/index.html")).status).toBe(200);
});

/** The first lines that are told at a path, once there are so many; `change` happens when the server listens. */
async function heard(path: string, count: number, change = () => {}): Promise<string[]> {
  const reader = (await fetch(server.address + path)).body!.pipeThrough(new TextDecoderStream()).getReader();
  change();
  let text = "";
  while (text.split("\n\n").length <= count) text += (await reader.read()).value;
  await reader.cancel();
  return text.split("\n\n").slice(0, -1);
}

test("liveServer(find) tells those who listen which pages were made anew", async () => {
  const told = await heard("made", 2, () => server.tell(["index.html", "a%20b.html"]));
  expect(told).toEqual(["data: index.html", "data: a%20b.html"]);
});

test("liveServer(find) tells a page that comes back what was made since it was served, and no more", async () => {
  const since = /data-told="(\d+)"/.exec((await ask("/index.html")).text)![1];
  server.tell(["index.html", "b.html"]);
  server.tell(["index.html"]);
  expect(await heard(`made?${since}`, 2)).toEqual(["data: index.html", "data: b.html"]);
  const now = /data-told="(\d+)"/.exec((await ask("/index.html")).text)![1];
  expect(await heard(`made?${now}`, 1, () => server.tell(["c.html"]))).toEqual(["data: c.html"]);
});
