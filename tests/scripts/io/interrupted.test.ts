import {spawn} from "node:child_process";
import {mkdtempSync, readdirSync, statSync, writeFileSync} from "node:fs";
import {tmpdir} from "node:os";
import {join, resolve} from "node:path";
import {pathToFileURL} from "node:url";
import {expect, test} from "vitest";

const size = 300_000_000;

// Windows has no such signal to send.
test.skipIf(process.platform === "win32")(
  "Ctrl-C while a file is being written leaves it whole or not there, and nothing beside it",
  async () => {
    for (const delayMs of [0, 20, 60]) {
      const folder = mkdtempSync(join(tmpdir(), "stopped-"));
      const program = join(folder, "write.ts");
      const from = pathToFileURL(resolve("scripts/io/writeReport.ts")).href;
      writeFileSync(
        program,
        `import {writeReport} from ${JSON.stringify(from)};\nconst data = Buffer.alloc(${size}, "x");\nprocess.stdout.write("go\\n", () => { for (let i = 0; i < 3; i++) writeReport(${JSON.stringify(join(folder, "out"))}, "big.txt", data); });\n`
      );
      const child = spawn(process.execPath, ["--import", "tsx", program], {stdio: ["ignore", "pipe", "inherit"]});
      const ended = new Promise<number | null>((done) => child.on("exit", (code) => done(code)));
      child.stdout.once("data", () => setTimeout(() => child.kill("SIGINT"), delayMs));
      expect([130, 0, null]).toContain(await ended);
      const found = readdirSync(folder, {recursive: true})
        .map(String)
        .filter((name) => name !== "write.ts" && name !== "out");
      expect(found.filter((name) => name.endsWith(".part"))).toEqual([]);
      for (const name of found) expect(statSync(join(folder, name)).size).toBe(size);
    }
  }
);

test.skipIf(process.platform === "win32")(
  "Ctrl-C ends at once what takes long after files were written, and between the two",
  async () => {
    const folder = mkdtempSync(join(tmpdir(), "stopped-"));
    const program = join(folder, "work.mts");
    const from = pathToFileURL(resolve("scripts/io/writeReport.ts")).href;
    const out = JSON.stringify(join(folder, "out"));
    // A minute of work that never lets go.
    writeFileSync(
      program,
      `import {writeReport, written} from ${JSON.stringify(from)};
writeReport(${out}, "one.txt", "one");
if (process.argv[2] === "between") process.kill(process.pid, "SIGINT");
await written();
process.stdout.write("working\\n");
for (const end = Date.now() + 60_000; Date.now() < end; );
writeReport(${out}, "two.txt", "two");
`
    );
    for (const [when, ends] of [
      ["between", [130, null]],
      ["at work", [null, "SIGINT"]]
    ] as const) {
      const child = spawn(process.execPath, ["--import", "tsx", program, when], {stdio: ["ignore", "pipe", "inherit"]});
      const ended = new Promise((done) => child.on("exit", (code, signal) => done([code, signal])));
      child.stdout.once("data", () => child.kill("SIGINT"));
      expect(await ended).toEqual(ends);
      expect(readdirSync(join(folder, "out"))).toEqual(["one.txt"]);
    }
  }
);
