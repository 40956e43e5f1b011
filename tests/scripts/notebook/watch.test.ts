import {spawn} from "node:child_process";
import {rmSync, writeFileSync} from "node:fs";
import {request} from "node:http";
import {join} from "node:path";
import {fileURLToPath, pathToFileURL} from "node:url";
import {expect, test} from "vitest";
import {folderOf} from "../run.ts";

const root = fileURLToPath(new URL("../../..", import.meta.url));
const showing = `import {show} from ${JSON.stringify(pathToFileURL(join(root, "scripts/notebook/show.ts")).href)};`;

test("--watch serves the page, makes it anew after a save, tells the reader, and outlives a fault", {
  timeout: 400_000
}, async () => {
  const folder = folderOf({
    "01-x.ts": `${showing}\nshow("first");\n`,
    "book/lots.csv": "",
    "02-y.ts": `${showing}\nshow("y");\n`
  });
  const path = join(folder, "01-x.ts");
  const args = [
    path,
    join(folder, "02-y.ts"),
    "--watch",
    "--book",
    join(folder, "book"),
    "--out",
    join(folder, "book", "out")
  ];
  const child = spawn(process.execPath, ["--import", "tsx", "scripts/notebook.ts", ...args], {cwd: root});
  let [stdout, stderr] = ["", ""];
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    stderr += text;
  });
  child.stdout.setEncoding("utf8").on("data", (text: string) => {
    stdout += text;
  });
  const closed = new Promise((done) => child.once("close", done));
  try {
    const address = await until(() => /http:\/\/127\.0\.0\.1:\d+\/01-x\.html/.exec(stdout)?.[0]);
    const first = await (await fetch(address)).text();
    expect(first).toContain('<p class="text">first</p>');
    expect(first).toContain("new EventSource");
    expect(stdout).toContain("02-y.html");

    const events = await fetch(new URL("/made", address));
    const reader = events.body!.pipeThrough(new TextDecoderStream()).getReader();
    writeFileSync(path, `${showing}\nshow("second");\n`);
    expect((await reader.read()).value).toBe("data: 01-x.html\n\n");
    expect(await (await fetch(address)).text()).toContain('<p class="text">second</p>');

    writeFileSync(path, `${showing}\nshow("third");\nthrow new Error("broken");\n`);
    expect((await reader.read()).value).toBe("data: 01-x.html\n\n");
    expect(await (await fetch(address)).text()).toMatch(/third.*Cell 1, line 3: broken/s);

    writeFileSync(join(folder, "book/lots.csv"), "changed\n");
    expect([(await reader.read()).value, (await reader.read()).value]).toEqual([
      "data: 01-x.html\n\n",
      "data: 02-y.html\n\n"
    ]);

    rmSync(path);
    await until(() => stderr.includes("There is no notebook") || undefined);
    writeFileSync(path, `${showing}\nshow("fourth");\n`);
    expect((await reader.read()).value).toBe("data: 01-x.html\n\n");
    expect(await (await fetch(address)).text()).toContain('<p class="text">fourth</p>');
    await reader.cancel();

    expect((await fetch(new URL("/other.html", address))).status).toBe(404);
    expect(await statusFor(address, "elsewhere.example")).toBe(403);
  } finally {
    child.kill("SIGTERM");
    await closed;
  }
});

async function until<T>(look: () => T | undefined): Promise<T> {
  for (;;) {
    const found = look();
    if (found !== undefined) return found;
    await new Promise((later) => setTimeout(later, 100));
  }
}

/** What the server answers to a browser that was led here by another name. */
function statusFor(address: string, host: string): Promise<number | undefined> {
  return new Promise((done, failed) => {
    request(address, {headers: {host}}, (response) => done(response.resume().statusCode))
      .on("error", failed)
      .end();
  });
}
