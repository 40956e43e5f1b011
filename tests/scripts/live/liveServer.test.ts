import {request} from "node:http";
import {expect, test} from "vitest";
import {liveServer} from "../../../scripts/live/liveServer.ts";

const files = new Map([
  ["index.html", {page: "<!doctype html><body>Index</body>"}],
  ["tables/a.csv", {type: "text/csv; charset=utf-8", bytes: new TextEncoder().encode("a,b\r\n")}]
]);
const server = await liveServer((path) => files.get(path));

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
  expect(page.text).toMatch(/Index<script>.*new EventSource\("\/made"\).*<\/script>/s);
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
  "/__proto__"
])("liveServer(find) has nothing at %s", async (path) => {
  expect((await ask(path)).status).toBe(404);
});

test("liveServer(find) gives nothing to a name that leads here from elsewhere, nor to another method", async () => {
  expect((await ask("/index.html", {host: "elsewhere.example"})).status).toBe(403);
  expect((await ask("/made", {host: "elsewhere.example"})).status).toBe(403);
  expect((await ask("/index.html", {method: "POST"})).status).toBe(403);
});

test("liveServer(find) tells those who listen which pages were made anew", async () => {
  const events = await fetch(`${server.address}made`);
  const reader = events.body!.pipeThrough(new TextDecoderStream()).getReader();
  server.tell(["index.html", "a%20b.html"]);
  let heard = "";
  while (!heard.endsWith("a%20b.html\n\n")) heard += (await reader.read()).value;
  expect(heard).toBe("data: index.html\n\ndata: a%20b.html\n\n");
  await reader.cancel();
});
